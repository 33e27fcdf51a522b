"""What acts on a ball besides friction, against MuJoCo: oracle and kernel, one by one and at once.

Friction 0.12 all the way, release B. The engine falls and lands by its own contact, tilts by its
own gravity, carries a mass off centre by its own mechanics, resists rolling by its own friction.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
import pytest

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.house import LaneTrait
from nextpair.domain.lane import BOARD_M, BOARDS, CELLS, END_PLANE_M, LANE_WIDTH_M
from nextpair.domain.units import INCH_M, RPM_RADPS
from nextpair.physics.constants import GRAVITY_MPS2
from nextpair.physics.reference import Forces, Start, roll
from nextpair.physics.topography import slope_pull_mps2
from reference.kernel_lane import (
    ROUND,
    STRONG,
    Core,
    bodies,
    dry_lane,
    roll_in_kernel,
    shots,
    start_of,
)
from reference.mujoco_lane import PLAIN, Extras, roll_in_mujoco
from reference.releases import B, Delivery, uniform

SOURCE = "[todorov-2012] version 4.0, settings in tests/reference/mujoco_lane.py"
FRICTION = 0.12
CREEP_MPS = 0.01
LARGEST_DEGREES = 0.1
LARGEST_S = 0.003


@dataclass(frozen=True, slots=True)
class Case:
    """What acts, on which core; how far it moves the ball at least, and the kernel's error at most
    [boards]."""

    extras: Extras
    core: Core = ROUND
    moves_boards: float = 0.5
    kernel_boards: float = 0.05


OFF_CENTRE_M = (0.0006, 0.0007, -0.0004)
OFF_CENTRE_BOARDS = 0.25
"""The kernel leaves out terms of second order, a thirtieth of what the offset does."""
CASES = {
    "air": Case(Extras(drag_per_m=0.0015)),
    "tilt to the right and down": Case(Extras(pull_mps2=(0.02, 0.01))),
    "loft of 0.2 m": Case(Extras(loft_m=0.2)),
    "mass 1 mm off centre, round core": Case(
        Extras(OFF_CENTRE_M), moves_boards=3.0, kernel_boards=OFF_CENTRE_BOARDS
    ),
    "mass 1 mm off centre, strong core": Case(
        Extras(OFF_CENTRE_M), STRONG, moves_boards=3.0, kernel_boards=OFF_CENTRE_BOARDS
    ),
    "all of them, strong core": Case(
        Extras(OFF_CENTRE_M, pull_mps2=(-0.02, 0.01), drag_per_m=0.0015, loft_m=0.1),
        STRONG,
        moves_boards=3.0,
        kernel_boards=OFF_CENTRE_BOARDS,
    ),
}


class AtPins(NamedTuple):
    """A ball at the end plane: boards right of the middle, degrees to the left, seconds."""

    boards: float
    degrees: float
    time_s: float


def at_pins(x_m: float, v_x: float, v_y: float, time_s: float) -> AtPins:
    return AtPins(x_m / BOARD_M, math.degrees(math.atan2(-v_x, v_y)), time_s)


def by_engine(start: Start, extras: Extras) -> AtPins:
    end_m = END_PLANE_M + 0.01
    rolled = roll_in_mujoco(
        start, uniform(FRICTION), end_m=end_m, radius_m=BALL_RADIUS_M, extras=extras
    )
    place, velocity, time_s = (
        rolled.at(END_PLANE_M, values)
        for values in (rolled.place_m, rolled.velocity_mps, rolled.time_s)
    )
    return at_pins(place[0], *velocity, float(time_s))


def by_oracle(start: Start, extras: Extras) -> AtPins:
    end = roll(
        replace(start, offset_m=extras.centre_m, loft_m=extras.loft_m),
        uniform(FRICTION),
        creep_mps=CREEP_MPS,
        forces=Forces(
            lambda _x_m, _y_m: extras.pull_mps2, extras.drag_per_m, extras.rolling_resistance
        ),
        rtol=1e-8,
        atol=1e-9,
    ).end
    return at_pins(end.x_m, *end.velocity_mps, end.time_s)


def by_kernel(delivery: Delivery, core: Core, extras: Extras) -> AtPins:
    ball = replace(
        bodies([core], FRICTION),
        offset_m=np.array([extras.centre_m]),
        drag_per_m=np.array([extras.drag_per_m]),
        rolling_resistance=np.array([extras.rolling_resistance]),
    )
    pull = np.empty((1, 2, CELLS, BOARDS))
    pull[:] = np.reshape(extras.pull_mps2, (2, 1, 1))
    thrown = replace(shots([delivery]), loft_m=np.array([extras.loft_m]))
    paths = roll_in_kernel(dry_lane(), ball, thrown, pull_mps2=pull)
    return at_pins(*(v[0] for v in (paths.x_m, paths.v_x_mps, paths.v_y_mps, paths.time_s)))


@pytest.mark.parametrize("name", CASES)
def test_what_else_acts_moves_the_ball_as_in_the_engine(record, name):
    case = CASES[name]
    start = start_of(B, case.core)
    engine = by_engine(start, case.extras)
    assert abs(engine.boards - by_engine(start, PLAIN).boards) > case.moves_boards
    for program, got, boards in (
        ("oracle", by_oracle(start, case.extras), 0.05),
        ("compiled kernel", by_kernel(B, case.core, case.extras), case.kernel_boards),
    ):
        for quantity, error, tolerance in (
            ("error of place at the pins, boards", got.boards - engine.boards, boards),
            ("error of angle at the pins, degrees", got.degrees - engine.degrees, LARGEST_DEGREES),
            ("error of time to the pins, s", got.time_s - engine.time_s, LARGEST_S),
        ):
            record.agreement(
                "MuJoCo",
                f"{program}, release B: {name}",
                quantity,
                error=abs(error),
                tolerance=tolerance,
                source=SOURCE,
            )


def test_a_lane_that_leans_takes_the_ball_down_to_its_lower_edge(record):
    """The engine's lane is turned; the program is told by how much its right edge is lower."""
    tilt_m = 0.03 * INCH_M
    lean_rad = math.atan2(tilt_m, LANE_WIDTH_M)
    engine = by_engine(start_of(B, ROUND), Extras(lean_rad=lean_rad))
    level = by_engine(start_of(B, ROUND), PLAIN)
    assert engine.boards - level.boards > 0.5
    pull = slope_pull_mps2(LaneTrait(1, tilt_m))
    paths = roll_in_kernel(dry_lane(), bodies([ROUND], FRICTION), shots([B]), pull_mps2=pull[None])
    record.agreement(
        "MuJoCo",
        "compiled kernel, release B on a lane whose right edge is 0.03 in low",
        "error of place at the pins, boards",
        error=float(abs(paths.x_m[0] / BOARD_M - engine.boards)),
        tolerance=0.05,
        source=SOURCE,
    )


def test_resistance_slows_a_rolling_ball(record):
    """Straight, in roll from the first: the engine's law and a closed form."""
    speed, resistance = 7.0, 0.004
    rolls = Delivery(speed, 0.0, speed / BALL_RADIUS_M / RPM_RADPS, 0.0, 0.0)
    extras, start = Extras(rolling_resistance=resistance), start_of(rolls, ROUND)
    c = ROUND.k2_m2[0] / BALL_RADIUS_M**2
    slowing = resistance * GRAVITY_MPS2 / (1 + c)
    closed_s = (speed - math.sqrt(speed**2 - 2 * slowing * END_PLANE_M)) / slowing
    assert closed_s - END_PLANE_M / speed > 0.01
    for program, time_s, tolerance in (
        ("MuJoCo itself", by_engine(start, extras).time_s, 1e-3),
        ("oracle", by_oracle(start, extras).time_s, 1e-4),
        ("compiled kernel", by_kernel(rolls, ROUND, extras).time_s, 5e-4),
    ):
        record.closed_form(
            f"ball in roll at 7 m/s with a resistance of 0.004, {program}",
            "time to the pins, s",
            expected=closed_s,
            achieved=time_s,
            tolerance=tolerance,
            source="[model-sheet] section 2.5: a = c_rr g / (1 + c)",
        )
