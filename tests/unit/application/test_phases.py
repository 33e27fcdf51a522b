"""Phases and places of one recorded shot, on paths made up for the purpose."""

from __future__ import annotations

import math

import numpy as np
import pytest

from nextpair.application.phases import (
    FEET,
    PhaseEnds,
    path_boards,
    phase_ends,
    stations,
    turns_before,
)
from nextpair.domain.bowler import Hand
from nextpair.domain.lane import BOARD_M, END_PLANE_M, mirrored_board
from nextpair.domain.units import FOOT_M, MPH_MPS
from nextpair.kernel.layout import NODE_M, NODES, Trace

SPEED = 8.0
HOOK_M, ROLL_M = 10.0, 15.0
TURN_RAD = math.radians(6.0)


def made_trace() -> np.ndarray:
    """A ball that goes straight for 10 m, turns evenly by 6 degrees to 15 m, and rolls on."""
    angle = np.interp(NODE_M, [HOOK_M, ROLL_M], [0.0, TURN_RAD])
    trace = np.zeros((len(Trace), NODES))
    trace[Trace.V_X] = -SPEED * np.sin(angle)
    trace[Trace.V_Y] = SPEED * np.cos(angle)
    steps = -np.tan(0.5 * (angle[1:] + angle[:-1])) * np.diff(NODE_M)
    trace[Trace.X] = np.concatenate(([0.2], 0.2 + np.cumsum(steps)))
    trace[Trace.SLIP] = np.interp(NODE_M, [HOOK_M, ROLL_M], [4.0, 0.0])
    trace[Trace.SURFACE_SPEED] = SPEED
    return trace


def test_phases_end_where_the_turning_starts_and_where_the_slip_is_gone():
    ends = phase_ends(made_trace(), math.inf)
    half_foot = 0.5
    # A quarter of the fastest turning is seen over 2 ft as soon as half a foot of it is turning.
    assert ends.skid_end_ft == pytest.approx(HOOK_M / FOOT_M - 0.5, abs=half_foot)
    assert ends.hook_end_ft == pytest.approx((ROLL_M - 0.25) / FOOT_M, abs=half_foot)
    assert ends.phase_at(10.0) == "skid"
    assert ends.phase_at(40.0) == "hook"
    assert ends.phase_at(55.0) == "roll"


def test_oil_that_turns_a_ball_slowly_all_the_way_is_skid():
    drifting = np.radians(3.0) * NODE_M / NODE_M[-1]
    trace = made_trace()
    angle = np.arctan2(-trace[Trace.V_X], trace[Trace.V_Y]) + drifting
    trace[Trace.V_X] = -SPEED * np.sin(angle)
    trace[Trace.V_Y] = SPEED * np.cos(angle)
    # The drift is 0.17 degree a metre, the hook 1.2: a seventh, and a third of the whole turn.
    ends = phase_ends(trace, math.inf)
    assert ends.skid_end_ft == pytest.approx(HOOK_M / FOOT_M, abs=1.0)


def test_a_short_bite_in_the_heads_is_no_hook_yet():
    trace = made_trace()
    bitten = np.interp(NODE_M, [0.5, 1.0], [0.0, math.radians(0.5)])
    angle = np.arctan2(-trace[Trace.V_X], trace[Trace.V_Y]) + bitten
    trace[Trace.V_X] = -SPEED * np.sin(angle)
    trace[Trace.V_Y] = SPEED * np.cos(angle)
    ends = phase_ends(trace, math.inf)
    assert ends.skid_end_ft == pytest.approx(HOOK_M / FOOT_M, abs=1.0)


def test_a_core_that_wobbles_a_rolling_ball_does_not_end_its_skid():
    trace = made_trace()
    still = phase_ends(trace, math.inf).skid_end_ft
    angle = np.arctan2(-trace[Trace.V_X], trace[Trace.V_Y])
    angle[NODE_M > ROLL_M] += np.radians(0.8) * np.sin(NODE_M[NODE_M > ROLL_M] * 5.0)
    trace[Trace.V_X] = -SPEED * np.sin(angle)
    trace[Trace.V_Y] = SPEED * np.cos(angle)
    assert phase_ends(trace, math.inf).skid_end_ft == still


def test_a_ball_that_leaves_the_lane_ends_no_phase_beyond():
    assert phase_ends(made_trace(), 12.0).hook_end_ft is None
    assert phase_ends(made_trace(), 5.0) == PhaseEnds(None, None)


def test_a_straight_ball_never_hooks():
    trace = made_trace()
    trace[Trace.V_X] = 0.0
    trace[Trace.SLIP] = 4.0
    ends = phase_ends(trace, math.inf)
    assert ends == PhaseEnds(None, None)
    assert ends.phase_at(59.0) == "skid"


def test_a_path_is_told_foot_by_foot_as_far_as_the_gutter():
    trace = made_trace()
    whole = path_boards(trace, math.inf, Hand.RIGHT)
    assert len(whole) == len(FEET)
    assert whole[0] == pytest.approx(20 - 0.2 / BOARD_M)
    assert len(path_boards(trace, 30.2 * FOOT_M, Hand.RIGHT)) == 31
    left = path_boards(trace, math.inf, Hand.LEFT)
    assert [mirrored_board(board) for board in left] == pytest.approx(list(whole))


def test_a_station_tells_board_angle_speed_and_phase():
    skidding, hooking, rolling = stations(made_trace(), math.inf, Hand.RIGHT, (15.0, 41.0, 60.0))
    assert skidding.board == pytest.approx(20 - 0.2 / BOARD_M)
    assert skidding.angle_deg == pytest.approx(0.0)
    assert skidding.speed_mph == pytest.approx(SPEED / MPH_MPS)
    middle = (41.0 * FOOT_M - HOOK_M) / (ROLL_M - HOOK_M)
    assert hooking.angle_deg == pytest.approx(6.0 * middle, abs=0.02)
    assert [skidding.phase, hooking.phase, rolling.phase] == ["skid", "hook", "roll"]
    beyond_m = 60.0 * FOOT_M - END_PLANE_M
    at_end = 20 - made_trace()[Trace.X, -1] / BOARD_M
    assert rolling.board == pytest.approx(at_end + beyond_m * math.tan(TURN_RAD) / BOARD_M)


def test_no_station_lies_beyond_the_gutter():
    told = stations(made_trace(), 30.0 * FOOT_M, Hand.RIGHT, (15.0, 30.0, 31.0))
    assert [station.distance_ft for station in told] == [15.0, 30.0]


def test_turns_are_shared_out_by_the_way_of_the_surface():
    trace = made_trace()
    half = turns_before(trace, 20.0, HOOK_M)
    assert half == pytest.approx(20.0 * HOOK_M / END_PLANE_M, rel=0.01)
    assert turns_before(trace, 20.0, math.inf) == pytest.approx(20.0)
    trace[Trace.SURFACE_SPEED] = 0.0
    assert turns_before(trace, 20.0, HOOK_M) == 0.0
