"""The usual move systems: boards by pin column, the same target, no answer to splits."""

from __future__ import annotations

import math

import pytest

from nextpair.domain.lane import ARROWS_M, BOARD_M, HEAD_PIN_M
from nextpair.domain.units import DEGREE_RAD
from nextpair.planning.spare_systems import system_moves
from nextpair.planning.trial import Line
from nextpair.scoring.leaves import parse_leave

STRIKE = Line(0, 22.0, 1.5 * DEGREE_RAD)


def moves_of(leave: str):
    return {move.system.name: move for move in system_moves(parse_leave(leave), STRIKE)}


@pytest.mark.parametrize(
    ("leave", "boards"),
    [("1", 0), ("5", 0), ("3", 3), ("9", 3), ("6", 6), ("10", 9), ("2", -3), ("8", -3), ("4", -6),
     ("7", -9), ("3-6-10", 3), ("6-10", 6), ("2-4-5", -3), ("2-8", -3), ("4-7", -6)],
)  # fmt: skip
def test_feet_move_three_boards_a_column_away_from_the_pin(leave, boards):
    """[facts] section 8: 3, 6 or 9 right for 2 (8), 4, 7; left for 3 (9), 6, 10; inside is left
    for a right-hander. The nearest pin of more is the one shot at: common practice."""
    assert moves_of(leave)["3-6-9"].start_boards == boards


def test_three_one_two_moves_by_the_triangles_of_the_lane():
    """[facts] section 8: one column is 5.64 boards at the pins, 1.88 at the foul line, 3.76 at the
    starting dots (CALC)."""
    move = moves_of("6")["3:1:2"]
    assert move.start_boards == pytest.approx(2 * 3.76, abs=0.02)
    assert move.own_laydown - STRIKE.own_laydown == pytest.approx(2 * 1.88, abs=0.02)


@pytest.mark.parametrize("leave", ["2", "6", "10"])
def test_the_target_stays(leave):
    def target(own_laydown: float, angle_rad: float) -> float:
        return own_laydown - ARROWS_M * math.tan(angle_rad) / BOARD_M

    for move in moves_of(leave).values():
        assert target(move.own_laydown, move.angle_rad) == pytest.approx(
            target(STRIKE.own_laydown, STRIKE.angle_rad)
        )


def test_a_straight_ball_moved_by_three_one_two_goes_one_column_over():
    """The triangles themselves: a straight line through the same target, 60 ft on, 5.64 boards."""
    move = moves_of("3")["3:1:2"]

    def arrives(own_laydown: float, angle_rad: float) -> float:
        return own_laydown - HEAD_PIN_M * math.tan(angle_rad) / BOARD_M

    moved = arrives(move.own_laydown, move.angle_rad) - arrives(
        STRIKE.own_laydown, STRIKE.angle_rad
    )
    assert moved == pytest.approx(-5.64, abs=0.05)


@pytest.mark.parametrize("leave", ["3-10", "7-10", "1-2-10", "1-2-3-4-5-6-7-8-9-10"])
def test_there_is_no_answer_to_a_split_a_washout_or_a_full_rack(leave):
    assert moves_of(leave) == {}
