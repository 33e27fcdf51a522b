"""Lines that library patterns tell to play, rolled as told on the computed film."""

from __future__ import annotations

from dataclasses import replace

import pytest

from event_folder import copy_of_demo
from nextpair.application.one_path import roll_one
from nextpair.files import load_event, load_pattern


@pytest.fixture
def shot_on(tmp_path):
    folder = copy_of_demo(tmp_path)

    def shot(pattern, ball, laydown, angle):
        event = load_event(folder / "event.toml")
        played = load_pattern(pattern)
        event = replace(event, left_pattern=played, right_pattern=played)
        return roll_one(event, ball, laydown, angle)

    return shot


@pytest.mark.parametrize(
    ("pattern", "ball", "laydown", "angle", "outermost", "innermost"),
    [
        ("Mooring Post 34", "Wet Sailcloth", 15.0, 2.5, 1.0, 4.0),
        ("Wet Slipway 40", "Osier Bundle", 28.0, 3.5, 6.5, 9.5),
        ("Deep Channel 48", "Tarred Rope", 20.0, 2.75, 5.0, 10.0),
        ("Outer Roads 52", "Tarred Rope", 21.0, 1.6, 12.0, 15.5),
    ],
)
def test_a_line_that_is_told_finds_the_pocket(
    shot_on, pattern, ball, laydown, angle, outermost, innermost
):
    card = shot_on(pattern, ball, laydown, angle)
    assert card.breakpoint_board is not None
    assert outermost <= card.breakpoint_board <= innermost
    assert card.entry is not None
    # The 1-3 pocket is about 2.5 boards beside the head pin (common practice: board 17.5).
    assert 0.5 < card.entry.offset_board < 4.5


def test_on_the_short_edge_less_than_two_degrees_crosses_over(shot_on):
    entry = shot_on("Mooring Post 34", "Wet Sailcloth", 15.0, 1.5).entry
    assert entry is not None
    assert entry.offset_board < -3.0


@pytest.mark.parametrize(
    ("pattern", "ball", "laydown", "fair"),
    [
        ("Deep Channel 48", "Tarred Rope", 20.0, 2.25),
        ("Wet Slipway 40", "Osier Bundle", 28.0, 3.25),
    ],
)
def test_a_push_comes_back_where_that_is_told(shot_on, pattern, ball, laydown, fair):
    own = shot_on(pattern, ball, laydown, fair).entry
    pushed = shot_on(pattern, ball, laydown, fair + 0.5).entry
    assert own is not None
    assert pushed is not None
    # Closed form: half a degree more is 5.9 boards at 60 ft if the lane gives nothing back.
    assert abs(pushed.offset_board - own.offset_board) < 3.0
