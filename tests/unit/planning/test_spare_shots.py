"""Spare shots: lines rolled with scatter, the best of them, and the chances the planner takes."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from nextpair.carry.spares import leave_odds
from nextpair.domain.bowler import Scatter
from nextpair.domain.units import DEGREE_RAD, MPH_MPS, RPM_RADPS
from nextpair.planning.aim import second_ball_worth
from nextpair.planning.options import spare_balls
from nextpair.planning.spare_shots import (
    Delivery,
    EveryLine,
    Throws,
    best_line,
    best_shots,
    fresh_range,
    spare_chances,
    spare_shots,
)
from nextpair.scoring.leaves import parse_leave
from small_event import SEED, small_event

EVENT = small_event()
SPARE = Delivery(spare_balls(EVENT)[0], flat=True)
LANES = fresh_range(EVENT, SEED)
STRIKE = next(ball for ball in EVENT.locker if ball.name == "Slate Weir")


@cache
def every_line() -> EveryLine:
    return LANES.every_line(SPARE)


def with_scatter(**scatter: float):
    still = Scatter(0.0, 0.0, 0.0, 0.0, 0.0)
    bowler = replace(EVENT.bowler, scatter=replace(still, **scatter))
    return fresh_range(replace(EVENT, bowler=bowler), SEED)


def test_lines_stay_within_reach():
    throws, reach = every_line().throws, EVENT.bowler.reach
    assert throws.own_laydown.min() == pytest.approx(reach.laydown_boards[0])
    assert throws.own_laydown.max() == pytest.approx(reach.laydown_boards[1])
    assert throws.angle_rad.min() == pytest.approx(reach.launch_angle_rad[0])
    assert throws.angle_rad.max() == pytest.approx(reach.launch_angle_rad[1])
    assert len(throws.own_laydown) == np.prod(every_line().shape)


def test_the_launch_angle_strays_as_a_straight_line_does():
    # Half a degree over 60 ft is 720 tan(0.5 deg) / (41.5/39) = 5.9 boards; the rest strays one.
    lanes = with_scatter(launch_angle_rad=0.5 * DEGREE_RAD)
    throws = lanes.throws(SPARE, 22.0, 0.8 * DEGREE_RAD, 256)
    assert np.nanstd(throws.offset_boards) == pytest.approx(np.hypot(5.9, 1.0), rel=0.1)


def test_a_flat_ball_hooks_less():
    shots = [
        LANES.throws(Delivery(SPARE.ball, flat), 22.0, 1.0 * DEGREE_RAD, 64)
        for flat in (True, False)
    ]
    flat, full = (np.nanmedian(throws.offset_boards) for throws in shots)
    assert flat > full + 2.0
    assert SPARE.release(EVENT.bowler.release).axis_rotation_rad == pytest.approx(
        EVENT.bowler.release.axis_rotation_rad / 3
    )


def test_doubt_about_the_lane_strays_a_hooking_ball_more():
    lanes = with_scatter()
    strays = [
        np.nanstd(lanes.throws(delivery, 24.0, 2.0 * DEGREE_RAD, 256).offset_boards)
        for delivery in (SPARE, Delivery(STRIKE, flat=False))
    ]
    assert strays[0] < strays[1]


def test_a_ball_in_the_gutter_makes_nothing():
    throws = LANES.throws(SPARE, 9.0, 4.5 * DEGREE_RAD, 64)
    assert np.isnan(throws.offset_boards).all()
    shot = spare_shots(throws, leave_odds(parse_leave("10")))[0]
    assert (shot.chance, shot.mean_pins) == (0.0, 0.0)
    assert shot.left == ((parse_leave("10"), 1.0),)
    assert np.isnan(shot.offset_boards)


@pytest.mark.parametrize("leave", ["10", "5", "3-10", "2-4-5"])
def test_no_line_is_worth_much_more_than_the_best(leave):
    odds = leave_odds(parse_leave(leave))
    throws = every_line().throws
    again = replace(LANES, seed=SEED + 5).throws(SPARE, throws.own_laydown, throws.angle_rad, 256)
    made = odds.made_and_taken(again.offset_boards, again.entry_angle_deg).mean(axis=1)
    worth = second_ball_worth(odds.leave, made[:, 0], made[:, 1])
    # Chosen with 64 errors, whose sampling alone is some six points.
    assert worth[best_line(every_line(), odds)] > worth.max() - 0.06


def test_lines_alike_go_over_the_middle_of_the_arrows():
    shape = (5, 3)
    laydown = np.repeat([10.0, 15.0, 21.0, 25.0, 30.0], 3)
    flat = np.zeros((15, 4))
    throws = Throws(SPARE, laydown, np.zeros(15), laydown, flat, flat, flat)
    line = best_line(EveryLine(throws, shape), leave_odds(parse_leave("5")))
    assert throws.own_target[line] == 21.0


def test_a_split_that_cannot_be_made_is_played_for_a_pin():
    shot = best_shots(LANES, every_line(), [parse_leave("7-10")])[0]
    assert shot.chance < 0.02
    assert shot.mean_pins > 0.6
    assert shot.left[0][0] in (parse_leave("7"), parse_leave("10"))


def test_what_a_shot_leaves_adds_up():
    for shot in best_shots(LANES, every_line(), [parse_leave(t) for t in ("10", "3-10", "2-8")]):
        assert shot.chance + sum(chance for _, chance in shot.left) == pytest.approx(1.0)
        assert list(shot.left) == sorted(shot.left, key=lambda left: -left[1])


def test_less_scatter_makes_more():
    steady = with_scatter(laydown_boards=0.2, launch_angle_rad=0.08 * DEGREE_RAD)
    for leave in ("10", "2-4-5", "3-10"):
        here, there = (
            best_shots(lanes, lanes.every_line(SPARE), [parse_leave(leave)])[0].chance
            for lanes in (LANES, steady)
        )
        assert there > here


def test_the_planner_counts_nothing_standing_as_made_and_the_unknown_as_missed():
    unknown = parse_leave("1-3-5-7-9")
    chances = spare_chances(EVENT, [0, parse_leave("5"), unknown, parse_leave("7-10")], SEED)
    assert chances[0] == 1.0
    assert chances[1] > 0.85
    assert chances[2] == 0.0
    assert chances[3] < 0.02


def test_the_planner_takes_what_the_best_shot_makes():
    leaves = [parse_leave(leave) for leave in ("10", "3-6-10")]
    shots = best_shots(LANES, every_line(), leaves)
    assert spare_chances(EVENT, leaves, SEED) == pytest.approx([shot.chance for shot in shots])


def test_without_a_spare_ball_a_strike_ball_is_thrown_flat():
    leave = parse_leave("10")
    one_ball = replace(EVENT, ball_limit=1, locker=(STRIKE, SPARE.ball))
    hooking = Delivery(STRIKE, flat=False)
    hooked = best_shots(LANES, LANES.every_line(hooking), [leave])[0].chance
    assert spare_chances(one_ball, [leave], SEED)[0] > hooked + 0.1


def test_fast_and_even_revs_are_told_by_their_own_spread():
    fast = with_scatter(speed_mps=0.5 * MPH_MPS)
    spun = with_scatter(rev_rate_radps=30 * RPM_RADPS)
    still = with_scatter()
    spreads = [
        np.nanstd(lanes.throws(SPARE, 22.0, 1.5 * DEGREE_RAD, 256).offset_boards)
        for lanes in (still, fast, spun)
    ]
    assert spreads[1] > spreads[0] + 0.2
    assert spreads[2] > spreads[0] + 0.2
