"""The next shot: what moves gain under a belief, and which of them is made."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from nextpair.domain.belief import MoveKind
from nextpair.kernel.throws import Form
from nextpair.planning.doubt import Doubt, LaneDraws, lane_doubt
from nextpair.planning.next_move import Move, bench_of, lane_now, next_line, next_moves
from nextpair.planning.trial import Line
from small_event import SEED, small_workings

WORK = small_workings()
EVENT, OPTIONS = WORK.event, WORK.study.options
LANE, GAME = 13, 1
STAND = WORK.choices[0].lines[0]
DRAWS = 8


@cache
def bench():
    return bench_of(EVENT, OPTIONS, GAME, WORK.pins)


def moves(doubt: Doubt, stand: Line = STAND, others=()) -> tuple[Move, ...]:
    return next_moves(bench(), lane_now(EVENT, WORK.films, doubt, LANE, GAME, 0.5), stand, others)


def turned_inside(boards: float) -> Doubt:
    """A lane on which every ball arrives so many boards farther inside."""
    own = LaneDraws(np.ones(DRAWS), np.ones(DRAWS), np.full(DRAWS, boards))
    return replace(lane_doubt(DRAWS, SEED), lanes={LANE: own})


def test_staying_gains_nothing_and_options_come_best_first():
    found = moves(lane_doubt(DRAWS, SEED), others=range(len(OPTIONS)))
    stay = next(move for move in found if move.kind is MoveKind.STAY)
    assert stay.line == STAND
    assert stay.gain_pins == 0.0
    assert [move.gain_pins for move in found] == sorted((m.gain_pins for m in found), reverse=True)
    balls = [move.line.option for move in found if move.kind is MoveKind.BALL]
    assert sorted(balls) == sorted(set(range(len(OPTIONS))) - {STAND.option})


def test_gains_are_differences_of_values_draw_by_draw():
    found = moves(lane_doubt(DRAWS, SEED), others=range(len(OPTIONS)))
    stay = next(move for move in found if move.kind is MoveKind.STAY)
    for move in found:
        np.testing.assert_allclose(move.gain_by_draw, move.value_by_draw - stay.value_by_draw)
        assert move.better_probability == np.mean(move.gain_by_draw > 0)


@pytest.mark.parametrize("boards", [2.5, -2.5])
def test_who_goes_high_moves_inside_and_who_goes_light_outside(boards):
    """Common practice: feet and target toward the miss."""
    aim = STAND.own_laydown - 3.0 * np.degrees(STAND.angle_rad)
    line = next(m for m in moves(turned_inside(boards)) if m.kind is not MoveKind.STAY).line
    moved = line.own_laydown - 3.0 * np.degrees(line.angle_rad)
    # Level with the pins a board with the feet is one board, a degree of angle eleven.
    at_pins = (line.own_laydown - STAND.own_laydown) - 11.5 * np.degrees(
        line.angle_rad - STAND.angle_rad
    )
    assert np.sign(at_pins) == -np.sign(boards)
    assert moved != aim


def test_a_miss_that_is_known_costs_what_a_move_gains():
    still, missed = (moves(turned_inside(boards)) for boards in (0.0, 3.0))
    assert missed[0].gain_pins > still[0].gain_pins + 5.0


def test_a_faster_day_is_answered_as_more_oil_is():
    """A faster ball hooks less: [model-sheet] section 6.5, +4.4 boards a mph to the own side."""
    none = np.zeros(DRAWS)
    fast = Form(np.full(DRAWS, 0.4), none, none)
    usual = lane_now(EVENT, WORK.films, lane_doubt(DRAWS, SEED), LANE, GAME, 0.5)
    values, faster = (
        bench().values(replace(usual, form=form), [STAND.option]) for form in (usual.form, fast)
    )
    grid = values.grid
    rows = grid.cell_of(STAND.own_laydown, STAND.angle_rad)[0]
    angles = [v.mean_value[0][rows].argmax() for v in (values, faster)]
    assert angles[1] <= angles[0]


def move(kind: MoveKind, option: int, gain: float) -> Move:
    return Move(kind, Line(option, 20.0 + gain, 0.03), np.zeros(1), np.array([gain]))


def test_nobody_moves_for_less_than_half_a_pin():
    stay = Move(MoveKind.STAY, STAND, np.zeros(1), np.zeros(1))
    little = move(MoveKind.FEET_AND_TARGET, STAND.option, 0.4)
    much = move(MoveKind.FEET_AND_TARGET, STAND.option, 0.6)
    assert next_line((little, stay), STAND) == STAND
    assert next_line((much, stay), STAND) == much.line


def test_another_ball_must_be_worth_a_move_more_than_the_feet():
    stay = Move(MoveKind.STAY, STAND, np.zeros(1), np.zeros(1))
    feet = move(MoveKind.FEET_AND_TARGET, STAND.option, 2.0)
    other = STAND.option + 1
    near, far = (move(MoveKind.BALL, other, gain) for gain in (2.3, 2.7))
    assert next_line((near, feet, stay), STAND) == feet.line
    assert next_line((far, feet, stay), STAND) == far.line
