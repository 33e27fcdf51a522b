"""Level with the head pin and at first contact: two circles and a straight line."""

from __future__ import annotations

import math

import pytest

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.entry import (
    CONTACT_BOARDS,
    boards_before_contact,
    level_boards,
    offset_boards_of,
)
from nextpair.domain.lane import BOARD_M, PIN_RADIUS_M

REACH = (BALL_RADIUS_M + PIN_RADIUS_M) / BOARD_M
STEP = 1e-4
"""Step of the march down the path, boards: places come out this fine."""


def first_touch(level: float, entry_deg: float) -> tuple[float, float] | None:
    """Place at which a ball marched down its path comes within reach of the head pin."""
    slope = math.tan(math.radians(entry_deg))
    steps = round(2 * REACH / STEP)
    for step in range(steps):
        y = -REACH + step * STEP
        x = level - slope * y
        if math.hypot(x, y) <= REACH:
            return x, y
    return None


@pytest.mark.parametrize("entry_deg", [0.0, 2.0, 6.0, -3.0])
@pytest.mark.parametrize("level", [-4.0, 0.0, 2.5, 5.9])
def test_a_ball_marched_down_its_path_touches_where_it_is_said_to(level, entry_deg):
    touch = first_touch(level, entry_deg)
    assert touch is not None
    x, y = touch
    offset = offset_boards_of(level, entry_deg)
    assert offset == pytest.approx(x, abs=2 * STEP)
    # Where a path just grazes the pin a step down it moves the place along the pin.
    assert boards_before_contact(offset) == pytest.approx(-y, abs=20 * STEP)


@pytest.mark.parametrize("entry_deg", [0.0, 4.0, 6.0])
@pytest.mark.parametrize("level", [-7.5, -3.0, 1.0, 2.5, 7.5])
def test_there_and_back_is_the_same_place(level, entry_deg):
    assert level_boards(offset_boards_of(level, entry_deg), entry_deg) == pytest.approx(level)


def test_at_six_degrees_a_pocket_hit_is_half_a_board_farther_left_level_with_the_pin():
    # [rack-study] section 3: "about 0.55 board further left" at 6 degrees.
    for offset in (2.5, 3.0):
        assert offset - level_boards(offset, 6.0) == pytest.approx(0.58, abs=0.04)


def test_a_ball_that_passes_the_head_pin_has_no_contact():
    assert pytest.approx(REACH) == CONTACT_BOARDS
    assert boards_before_contact(REACH + 0.01) == 0.0
    assert offset_boards_of(REACH + 0.5, 6.0) == REACH + 0.5
    assert first_touch(REACH + 0.5, 6.0) is None
