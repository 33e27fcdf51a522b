"""Names that are one however they are written."""

from __future__ import annotations

import pytest

from nextpair.application.names import plain_name


@pytest.mark.parametrize("written", ["K\u00f6ln Bowl", "  ko\u0308ln bowl", "KO\u0308LN  BOWL"])
def test_case_blanks_and_how_a_letter_is_put_together_make_no_other_name(written):
    assert plain_name(written) == plain_name("K\u00f6ln Bowl")


def test_other_letters_make_another_name():
    assert plain_name("Koln Bowl") != plain_name("K\u00f6ln Bowl")
