"""A surface: grit, games, tool, and what lay under it."""

from __future__ import annotations

import pytest

from nextpair.domain.ball import Surface, Tool
from nextpair.domain.errors import InvalidValueError


def test_a_surface_is_from_a_spinner_unless_it_is_said():
    assert Surface(2000, 3).by is Tool.SPINNER
    assert Surface(2000).under is None


@pytest.mark.parametrize(
    ("surface", "words"),
    [
        (Surface(2000, 3), "2000"),
        (Surface(None), "polished"),
        (Surface(1000, by=Tool.HAND, under=Surface(None)), "1000 by hand"),
    ],
)
def test_a_surface_is_said_with_the_hand_that_made_it(surface, words):
    assert surface.words == words


def test_work_by_hand_needs_what_it_was_done_on():
    with pytest.raises(InvalidValueError, match="grit_before"):
        Surface(1000, by=Tool.HAND)
