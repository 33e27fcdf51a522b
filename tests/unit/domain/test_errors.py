"""How a refusal tells what it found."""

from __future__ import annotations

import pytest

from nextpair.domain.errors import InvalidValueError, require_within
from nextpair.domain.units import MPH_MPS


@pytest.mark.parametrize(
    ("value", "told"),
    [(90 * MPH_MPS / MPH_MPS * (1 + 1e-15), "90.0"), (77, "77"), (45.25, "45.25")],
)
def test_a_number_is_told_as_it_was_written(value, told):
    with pytest.raises(InvalidValueError, match=f"found {told}, allowed: 8 to 26 mph"):
        require_within("speed_mph", value, 8, 26, "mph")


def test_what_is_no_number_is_refused_and_told():
    with pytest.raises(InvalidValueError, match="found nan, allowed: 1 to 39"):
        require_within("laydown", float("nan"), 1, 39, "boards")
