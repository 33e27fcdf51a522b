"""The second half of a game: no move on a lane that stays, inside on one that wears."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nextpair.domain.lane import mirrored_board
from nextpair.planning.cards import Desk, later_line_card, meant_line_card
from nextpair.planning.lines import ALIKE_PINS
from nextpair.planning.second_half import film_at, later_values, second_half
from nextpair.planning.study import LaneStudy, Study
from small_event import mirror_image, small_workings

WORK = small_workings()
STUDY, CHOICE = WORK.study, WORK.choices[0]
TRACK = slice(4, 18)
"""Own boards 5 to 18, where most right-handers' shots go through the heads and mids."""


def with_wear(share: float) -> Study:
    """The first pair with the track worn by a share of its oil by the end of the first game."""

    def worn(lane: LaneStudy) -> LaneStudy:
        middle = lane.start.copy()
        middle[:, TRACK] *= 1.0 - 0.5 * share
        return replace(lane, middle=middle)

    lanes = {key: worn(lane) if key[0] == 1 else lane for key, lane in STUDY.lanes.items()}
    return replace(STUDY, lanes=lanes)


STILL, HARD = with_wear(0.0), with_wear(0.9)


def test_a_lane_that_wears_nothing_has_no_later_line():
    assert second_half(STILL, CHOICE, WORK.pins) is None


def test_lines_of_a_lane_that_wears_nothing_are_worth_the_same_throughout():
    lane = STILL.of_game(1)[0]
    later = later_values(STILL, lane, CHOICE.lines[0], WORK.pins)
    whole = lane.values.mean_value[CHOICE.option]
    np.testing.assert_allclose(later.mean_value[0], whole, atol=1e-3)


def test_on_a_lane_whose_track_wears_the_later_line_is_inside_of_the_first():
    """Bowlers follow the oil inside as the track burns up: common practice."""
    later = second_half(HARD, CHOICE, WORK.pins)
    assert later is not None
    for line, first, gain in zip(later.lines, CHOICE.lines, later.gain_pins, strict=True):
        assert line.option == first.option
        assert line.own_laydown >= first.own_laydown
        assert gain == 0.0 if line == first else gain > ALIKE_PINS


def test_films_of_a_game_run_on_a_straight_line_through_its_middle():
    lane = HARD.of_game(1)[0]
    np.testing.assert_array_equal(film_at(lane, 0.0), lane.start)
    np.testing.assert_allclose(film_at(lane, 0.5), lane.middle)
    np.testing.assert_allclose(film_at(lane, 1.0)[:, TRACK], 0.1 * lane.start[:, TRACK])


def test_a_left_handers_later_line_is_the_mirror_image():
    """Films are in the bowler's own frame, so only the event need be mirrored."""
    cards = []
    for event in (WORK.event, mirror_image(WORK.event)):
        study = replace(HARD, event=event)
        desk = Desk(study, WORK.table, WORK.spares, event.bowler, WORK.pins)
        planned = tuple(
            meant_line_card(desk, lane, line)
            for lane, line in zip(study.of_game(1), CHOICE.lines, strict=True)
        )
        card = later_line_card(desk, CHOICE, planned)
        assert card is not None
        cards.append(card)
    right, left = cards
    assert right.from_frame == left.from_frame == 6  # half of ten frames
    assert right.gain_pins == pytest.approx(left.gain_pins)
    for name in ("move", "right_move"):
        mine, theirs = getattr(right, name), getattr(left, name)
        assert mine.feet_boards == pytest.approx(theirs.feet_boards)
        assert mine.target_boards == pytest.approx(theirs.target_boards)
        assert mine.name == theirs.name
    for name in ("laydown_board", "target_board", "breakpoint_board"):
        for mine, theirs in ((right.line, left.line), (right.right_line, left.right_line)):
            assert getattr(mine, name) == pytest.approx(mirrored_board(getattr(theirs, name)))
