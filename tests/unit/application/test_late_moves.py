"""When somebody has moved, and late moves of one lane put together."""

from __future__ import annotations

import pytest

from nextpair.application.late_moves import DEGREES_A_BOARD, has_moved, joined, move_words
from nextpair.domain.debrief import LateMove
from nextpair.domain.units import DEGREE_RAD
from nextpair.planning.trial import Line

STAND = Line(0, 20.0, 2.0 * DEGREE_RAD)
BETTER = Line(0, 24.0, 2.0 * DEGREE_RAD)


def test_half_of_the_way_is_a_move_and_less_is_not():
    assert has_moved(STAND, BETTER, Line(0, 22.0, STAND.angle_rad))
    assert not has_moved(STAND, BETTER, Line(0, 21.5, STAND.angle_rad))
    assert not has_moved(STAND, BETTER, Line(0, 17.0, STAND.angle_rad))


def test_angle_counts_as_boards_do():
    turned = Line(0, 20.0, STAND.angle_rad + 4.0 * DEGREES_A_BOARD * DEGREE_RAD)
    assert has_moved(STAND, turned, turned)
    assert not has_moved(STAND, turned, BETTER)


def test_where_another_ball_was_better_only_that_ball_is_the_move():
    other = Line(1, 20.0, STAND.angle_rad)
    assert has_moved(STAND, other, Line(1, 15.0, 0.0))
    assert not has_moved(STAND, other, BETTER)


@pytest.mark.parametrize(
    ("feet", "degrees", "words"),
    [
        (4.0, 0.0, "a line 4.0 boards farther inside at the foul line"),
        (-2.5, 0.0, "a line 2.5 boards farther outside at the foul line"),
        (0.0, 1.0, "a line 3.0 boards farther outside at the arrows"),
        (1.0, -1.0, "a line 4.0 boards farther inside at the arrows"),
    ],
)
def test_inside_is_away_from_ones_own_gutter(feet, degrees, words):
    """A degree over the 15 ft to the arrows is 3.14 in: 3.0 boards of 41.5 in / 39 = 1.064 in."""
    better = Line(0, STAND.own_laydown + feet, STAND.angle_rad + degrees * DEGREE_RAD)
    assert move_words(STAND, better) == words


def late(frame: int, moved: int | None, shots: int, cost: float) -> LateMove:
    return LateMove(2, 14, frame, moved, shots, cost, f"from frame {frame}")


def test_stretches_of_one_lane_are_one_move():
    (move,) = joined([late(1, None, 2, 1.0), late(5, 9, 2, 0.5)])
    assert move == LateMove(
        2, 14, 1, 9, 4, 1.5, "from frame 1, and 4 shots went on from the old one."
    )
    (move,) = joined([late(5, 6, 1, 0.5)])
    assert move.words == "from frame 5, and one shot went on from the old one."
