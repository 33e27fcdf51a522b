"""Skid, hook and roll of one recorded shot, and where it is on the way.

A trace here is the state (8, 121) of one shot, rows as in kernel.layout.Trace; what lies beyond
`end_m`, where a gutter takes the ball, is never told.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.bowler import Hand
from nextpair.domain.shot import Station
from nextpair.domain.units import DEGREE_RAD, FOOT_M, MPH_MPS
from nextpair.kernel.layout import NODE_M, Trace
from nextpair.kernel.throws import FEET, own_board, own_boards_of

FloatArray = NDArray[np.float64]

BITE_SHARE = 0.25
"""Skid ends, and the ball begins to hook, where its turning per foot comes to this share of its
fastest and stays above. A share of the whole turn would say that a ball which hooks little hooks
early; a bite in the heads is none that stays."""
OVER_NODES = 4
"""Turning is taken over so many steps of the trace, two feet: longer than a core wobbles."""
LEAST_TURN_RAD = 0.3 * DEGREE_RAD
"""A path that turns less than this never hooks."""
ROLL_SHARE = 0.05
"""Hook ends, and roll begins, when slip has fallen to this share of its start."""


@dataclass(frozen=True, slots=True)
class PhaseEnds:
    """Distances in feet at which skid and hook end; None for what did not happen on the lane."""

    skid_end_ft: float | None
    hook_end_ft: float | None

    def phase_at(self, distance_ft: float) -> str:
        """The phase that a ball is in at a distance."""
        if self.hook_end_ft is not None and distance_ft >= self.hook_end_ft:
            return "roll"
        if self.skid_end_ft is not None and distance_ft >= self.skid_end_ft:
            return "hook"
        return "skid"


def phase_ends(trace: FloatArray, end_m: float) -> PhaseEnds:
    """Where skid and hook of one shot end."""
    slip = trace[Trace.SLIP]
    rolls = slip <= ROLL_SHARE * slip[0]
    return PhaseEnds(_first_ft(_bites(trace, rolls), end_m), _first_ft(rolls, end_m))


def _bites(trace: FloatArray, rolls: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Nodes (121,) from which on, up to its fastest turning, a slipping ball turns at BITE_SHARE
    of that or more."""
    turned = np.arctan2(trace[Trace.V_X, 0], trace[Trace.V_Y, 0]) - np.arctan2(
        trace[Trace.V_X], trace[Trace.V_Y]
    )
    if abs(turned[-1]) < LEAST_TURN_RAD:
        return np.zeros(len(turned), dtype=bool)
    middle = OVER_NODES // 2
    turning = np.zeros(len(turned))
    turning[middle:-middle] = np.copysign(1.0, turned[-1]) * (
        turned[OVER_NODES:] - turned[:-OVER_NODES]
    )
    turning[rolls] = 0.0
    fastest = int(turning.argmax())
    slow = np.flatnonzero(turning[: fastest + 1] < BITE_SHARE * turning[fastest])
    return np.asarray(np.arange(len(turning)) > (slow[-1] if len(slow) else -1))


def _first_ft(reached: NDArray[np.bool_], end_m: float) -> float | None:
    """Distance of the first node at which something is so, in feet, if the ball is still on the
    lane there."""
    nodes = np.flatnonzero(reached)
    if not len(nodes) or NODE_M[nodes[0]] >= end_m:
        return None
    return float(NODE_M[nodes[0]] / FOOT_M)


def path_boards(trace: FloatArray, end_m: float, hand: Hand) -> tuple[float, ...]:
    """Board at each whole foot of the way that the ball stays on the lane."""
    on_lane_ft = FEET[end_m >= FEET * FOOT_M]
    return tuple(_board(trace, feet * FOOT_M, hand) for feet in on_lane_ft)


def stations(
    trace: FloatArray, end_m: float, hand: Hand, distances_ft: Sequence[float]
) -> tuple[Station, ...]:
    """Board, angle, speed and phase at chosen distances, as far as the ball stays on the lane.

    Between the last node and the head pin's row the path goes straight on.
    """
    ends = phase_ends(trace, end_m)
    angle_deg = -np.arctan2(trace[Trace.V_X], trace[Trace.V_Y]) / DEGREE_RAD
    speed_mph = np.hypot(trace[Trace.V_X], trace[Trace.V_Y]) / MPH_MPS
    return tuple(
        Station(
            distance_ft=feet,
            board=_board(trace, feet * FOOT_M, hand),
            angle_deg=float(np.interp(feet * FOOT_M, NODE_M, angle_deg)),
            speed_mph=float(np.interp(feet * FOOT_M, NODE_M, speed_mph)),
            phase=ends.phase_at(feet),
        )
        for feet in distances_ft
        if feet * FOOT_M <= end_m
    )


def _board(trace: FloatArray, distance_m: float, hand: Hand) -> float:
    """Board from the right edge at a distance."""
    x_m = np.interp(distance_m, NODE_M, trace[Trace.X])
    beyond_m = max(distance_m - NODE_M[-1], 0.0)
    x_m += beyond_m * trace[Trace.V_X, -1] / trace[Trace.V_Y, -1]
    return own_board(float(own_boards_of(x_m)), hand)


def turns_before(trace: FloatArray, turns: float, end_m: float) -> float:
    """Revolutions up to a distance, of `turns` over the whole way.

    The share of the turning is that of the way which the ball's surface makes over the lane.
    """
    rate = trace[Trace.SURFACE_SPEED] / trace[Trace.V_Y]
    steps = 0.5 * (rate[1:] + rate[:-1]) * np.diff(NODE_M)
    made = np.concatenate(([0.0], np.cumsum(steps)))
    return turns * float(np.interp(end_m, NODE_M, made) / made[-1]) if made[-1] else 0.0
