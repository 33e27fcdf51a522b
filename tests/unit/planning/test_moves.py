"""Moves by their names, and the geometry behind the names."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nextpair.domain.lane import ARROWS_M, BOARD_M
from nextpair.domain.units import FOOT_M
from nextpair.kernel.roll import roll
from nextpair.kernel.throws import own_boards_of, release_errors, shots_of
from nextpair.planning.moves import NAMED_MOVES, _lane_reason, move_name, move_reason, pivot_m
from nextpair.planning.trial import try_line
from small_event import SEED, small_workings

WORK = small_workings()
STUDY, BOWLER = WORK.study, WORK.event.bowler


@pytest.mark.parametrize(
    ("feet", "target", "name"),
    [
        (2, 1, "2-for-1"),
        (4, 2, "2-for-1"),
        (3, 2, "3-for-2"),
        (1.5, 1, "3-for-2"),
        (6, 4, "3-for-2"),
        (1, 1, "1-for-1"),
        (5, 2, "5-for-2"),
        (3, 1, "3-for-1"),
        (-3, -2, "3-for-2"),
        (1.1, 0.6, "2-for-1"),
        (0.5, 0.5, None),
        (4, 0, None),
        (2, -1, None),
        (9, 2, None),
    ],
)
def test_moves_have_the_trades_names(feet, target, name):
    """[facts] section 8: 1-and-1, 2-and-1, 3-and-2, 3-and-1, 5-and-2; common practice."""
    assert move_name(feet, target) == name


@pytest.mark.parametrize(("feet", "target"), NAMED_MOVES)
def test_a_move_turns_the_path_where_straight_lines_cross(feet, target):
    """Closed form: board(y) = lay-down + (target - lay-down) y / 15 ft, before and after."""
    ahead_m = pivot_m(feet, target)
    if feet == target:
        assert ahead_m == np.inf
        return
    before = np.polynomial.Polynomial.fit([0, ARROWS_M], [20.0, 14.0], 1)
    after = np.polynomial.Polynomial.fit([0, ARROWS_M], [20.0 + feet, 14.0 + target], 1)
    assert (after - before).roots() == pytest.approx([ahead_m])


def test_the_spare_move_of_3_1_2_turns_about_the_arrows():
    """[facts] section 8: 1 board at the foul line, target kept, is 3 at the pins the other way."""
    assert pivot_m(1.0, 0.0) == pytest.approx(15 * FOOT_M)
    at_pins = 1.0 * (1 - 60 * FOOT_M / pivot_m(1.0, 0.0))
    assert at_pins == pytest.approx(-3.0)


def test_a_3_for_2_keeps_the_breakpoint_and_a_2_for_1_sends_it_out():
    """Where straight paths cross, 45 and 30 ft: rolled on oil, where a ball hardly turns."""
    lane, line = STUDY.of_game(1)[0], WORK.choices[0].lines[0]
    slope = np.tan(line.angle_rad)
    feet, target = np.array([(0, 0), (3, 2), (2, 1), (1, 1)]).T
    shots = shots_of(
        BOWLER.release,
        lane.kind,
        own_laydown=line.own_laydown + feet,
        launch_angle_rad=np.arctan(slope + (feet - target) * BOARD_M / ARROWS_M),
        body=line.option,
    )
    slick = np.full_like(lane.fresh, lane.fresh.max())
    paths = roll(lane.kind.under(slick), lane.bodies, shots, record=True)
    x_m = np.asarray(paths.trace, float)[0]
    at_45_ft = own_boards_of(x_m[round(45 / 60 * 120)])
    moved = at_45_ft - at_45_ft[0]
    assert moved[1] == pytest.approx(0.0, abs=0.3)
    assert moved[2] == pytest.approx(-1.0, abs=0.3)
    assert moved[3] == pytest.approx(1.0, abs=0.3)


def test_a_move_says_where_the_old_line_would_finish_and_what_lies_under_it():
    errors = release_errors(BOWLER.scatter, 8, SEED)
    tried = tuple(
        try_line(
            choice.lines[0],
            STUDY.of_game(choice.game)[0],
            BOWLER,
            WORK.table,
            WORK.pins,
            errors,
        )
        for choice in WORK.choices
    )
    said = move_reason(STUDY, WORK.choices, tried, 2)
    assert "Game 1's line" in said
    # Another ball is said to hook more or less.
    other = next(
        o
        for o, ball in enumerate(STUDY.options)
        if ball.name != STUDY.options[WORK.choices[0].option].name
    )
    lines = tuple(replace(line, option=other) for line in WORK.choices[1].lines)
    changed = (WORK.choices[0], replace(WORK.choices[1], option=other, lines=lines))
    assert f"{STUDY.options[other].name} hooks" in move_reason(STUDY, changed, tried, 2)


def test_a_lane_that_is_known_to_grip_is_named_where_the_ball_answers_so():
    old, lane = STUDY.of_game(1)[0], STUDY.of_game(2)[0]
    slicker = replace(lane, kind=replace(lane.kind, friction=0.95 * old.kind.friction))
    assert f"Lane {lane.lane} is known to grip 5% less" in _lane_reason(old, slicker, True)
    assert _lane_reason(old, slicker, False) == ""
    assert _lane_reason(old, replace(lane, kind=old.kind), True) == ""
