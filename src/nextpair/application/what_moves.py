"""What would move a shot: small changes a bowler, a driller or the lane can make, each with what
it does at the pins.

Each is rolled as it is, so that the same shot asked for with that change shows the same board.
Its angle is that of the ball's last turn on the lane: a strong core wobbles a rolling ball by a
quarter of a degree to and fro, and where in that it meets the pins is nobody's to choose.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.ball import BALL_RADIUS_M, Ball, Grit, Surface
from nextpair.domain.house import House
from nextpair.domain.lane import BOARD_M, LANE_WIDTH_M
from nextpair.domain.shot import Effect
from nextpair.domain.units import DEGREE_RAD, INCH_M, MPH_MPS, RPM_RADPS
from nextpair.kernel.derivatives import (
    STEPS,
    Derivatives,
    changed,
    derivatives,
    marks_of,
    one_batch,
)
from nextpair.kernel.layout import NODE_M, Bodies, Lanes, Shots, Trace, bodies_of
from nextpair.kernel.roll import Paths, roll
from nextpair.physics.constants import GRAVITY_MPS2
from nextpair.planning.options import SURFACE_LADDER

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Change:
    """One change, as the bowler says it, and the kernel's numbers that move with it."""

    parameter: str
    change: float
    moves: Mapping[str, float]


RELEASE = (
    Change("speed_mph", -1.0, {"speed_mps": -MPH_MPS}),
    Change("rev_rate_rpm", 10.0, {"rev_rate_radps": 10 * RPM_RADPS}),
    Change("axis_rotation_deg", 5.0, {"axis_rotation_rad": 5 * DEGREE_RAD}),
    Change("axis_tilt_deg", 3.0, {"axis_tilt_rad": 3 * DEGREE_RAD}),
    Change("loft_in", 4.0, {"loft_m": 4 * INCH_M}),
)
LANE_AND_CORE = (
    Change("film_percent", -10.0, {"film_factor": -0.10}),
    Change("dry_friction_percent", 5.0, {"dry_factor": 0.05}),
    Change("tilt_in", 0.01, {"cross_mps2": GRAVITY_MPS2 * 0.01 * INCH_M / LANE_WIDTH_M}),
    Change("rg_in", 0.05, {"rg_m": 0.05 * INCH_M}),
    Change("differential_in", 0.01, {"differential_m": 0.01 * INCH_M}),
    Change("pin_to_pap_in", 1.0, {"pin_to_pap_m": 1.0 * INCH_M}),
)
"""Tilt is the bowler's own side lower."""
BOARDS_INSIDE = 1.0
"""How far feet, target or both move toward the bowler's inside."""
_AIM = ("x_m", "launch_angle_rad")


def what_moves(
    lanes: Lanes, ball: Ball, house: House, pap_m: tuple[float, float], shots: Shots
) -> tuple[Effect, ...]:
    """Effects on the one shot of `shots`, thrown with `ball`: of release, aim, lane, core, cover.

    The other arguments are those of `kernel.roll.roll` and `kernel.layout.bodies_of`.
    """
    bodies = bodies_of([ball], house, pap_m)
    aim = derivatives(lanes, bodies, shots, {name: STEPS[name] for name in _AIM})
    changes = (*RELEASE, *_aims(aim), *LANE_AND_CORE)
    surface = _next_surface(ball)
    variants = [
        (lanes, bodies, shots),
        *(_with(change, lanes, bodies, shots) for change in changes),
    ]
    variants.append((lanes, bodies_of([replace(ball, surface=surface)], house, pap_m), shots))
    paths = roll(*one_batch(variants), record=True)
    arrival = marks_of(paths).head_pin_boards
    angle_deg = _last_turn_deg(paths)
    boards, degrees = arrival - arrival[0], angle_deg - angle_deg[0]
    named: list[tuple[str, float | Grit]] = [
        *((change.parameter, change.change) for change in changes),
        ("surface_grit", surface.named),
    ]
    return tuple(
        Effect(parameter, size, float(moved), float(turned))
        for (parameter, size), moved, turned in zip(named, boards[1:], degrees[1:], strict=True)
    )


def _last_turn_deg(paths: Paths) -> FloatArray:
    """Angle (n,) to the boards over the ball's last turn on the lane, positive to the pocket."""
    if paths.trace is None:
        raise ValueError("the paths were rolled without a record")
    x_m = paths.trace[Trace.X].astype(float)
    turn_m = 2 * math.pi * BALL_RADIUS_M
    before_m = np.array([np.interp(NODE_M[-1] - turn_m, NODE_M, one) for one in x_m.T])
    return np.asarray(np.arctan2(before_m - x_m[-1], turn_m) / DEGREE_RAD)


def _with(
    change: Change, lanes: Lanes, bodies: Bodies, shots: Shots
) -> tuple[Lanes, Bodies, Shots]:
    for name, amount in change.moves.items():
        lanes, bodies, shots = changed(lanes, bodies, shots, name, amount)
    return lanes, bodies, shots


def _aims(known: Derivatives) -> tuple[Change, ...]:
    """Feet, target, or both moved inside; feet or target alone turn the launch angle, so that the
    other one stays where it is."""
    arrows = dict(zip(known.parameters, known.slopes.arrows_boards[:, 0], strict=True))
    inside_m = -BOARDS_INSIDE * BOARD_M
    turned_rad = BOARDS_INSIDE / float(arrows["launch_angle_rad"])
    followed = BOARD_M * float(arrows["x_m"])
    return (
        Change(
            "feet_boards",
            BOARDS_INSIDE,
            {"x_m": inside_m, "launch_angle_rad": turned_rad * followed},
        ),
        Change("target_boards", BOARDS_INSIDE, {"launch_angle_rad": -turned_rad}),
        Change("feet_and_target_boards", BOARDS_INSIDE, {"x_m": inside_m}),
    )


def _next_surface(ball: Ball) -> Surface:
    """A fresh surface one step rougher, or smoother where it is as rough as they get."""
    grit = ball.surface.grit
    rougher = [g for g in SURFACE_LADDER if g is not None and (grit is None or g < grit)]
    return Surface(rougher[-1] if rougher else SURFACE_LADDER[1])
