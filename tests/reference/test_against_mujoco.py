"""Oracle and kernel against MuJoCo, a rigid-body engine of others that knows nothing of bowling.

How the engine is set up, and why, stands in mujoco_lane.py. Three releases on three frictions,
with a round core, whose slip has an end, and with a strong one, which creeps on for good.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from itertools import product

import numpy as np
import pytest
from scipy.interpolate import RectBivariateSpline
from scipy.optimize import brentq

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.bowler import Hand
from nextpair.domain.lane import BOARD_M, BOARDS, CELL_M, CELLS, END_PLANE_M, board_to_x_m
from nextpair.kernel.layout import own_frame
from nextpair.kernel.roll import Paths
from nextpair.physics import reference
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
from reference.mujoco_lane import Rolled, roll_in_mujoco
from reference.releases import B, Delivery, uniform

ENGINE = "MuJoCo"
SOURCE = "[todorov-2012] version 4.0, settings in tests/reference/mujoco_lane.py"
RELEASES = {
    "no spin": Delivery(8.0, 0.0, 0.0, 0.0, 0.0),
    "release B": B,
    "strong side rotation": Delivery(7.6, 1.0, 450.0, 80.0, 15.0),
}
FRICTIONS = (0.04, 0.12, 0.20)
ROLLING_MPS = 0.1
"""Slip at which a ball counts as rolling: the kernel's creep is half of it, the engine's none."""
HARD_ROLLING_MPS = 5e-3

LARGEST_SHARE = 0.001
"""Of a time or a speed; the engine's step alone is a tenth of it."""
LARGEST_BOARDS = 0.05
"""The program's own aim; for a round core the engine is a hundred times nearer."""
LARGEST_DEGREES = 0.05
KERNEL_SHARE = 0.005
KERNEL_BOARDS = 0.05
KERNEL_DEGREES = 0.2
"""The kernel creeps at 0.05 m/s where the engine holds: see docs/adr/0002."""


@cache
def by_engine(release: str, core: Core, friction: float) -> Rolled:
    start = start_of(RELEASES[release], core)
    end = by_oracle(release, core, friction).end.y_m
    return roll_in_mujoco(start, uniform(friction), end_m=end, radius_m=BALL_RADIUS_M)


@cache
def by_oracle(release: str, core: Core, friction: float) -> reference.Trajectory:
    """As far as the pins, and a round core until it rolls."""
    start = start_of(RELEASES[release], core)
    roll_on = 40.0 if core == ROUND and friction < 0.1 else END_PLANE_M + 0.01
    return reference.roll(
        start, uniform(friction), end_m=roll_on, creep_mps=HARD_ROLLING_MPS, rtol=1e-8, atol=1e-9
    )


def rolling_of(trajectory: reference.Trajectory) -> reference.Moment:
    """The moment slip has fallen to ROLLING_MPS."""
    distance_m = brentq(
        lambda y_m: math.hypot(*trajectory.at(y_m).slip_mps) - ROLLING_MPS,
        trajectory.moments[0].y_m,
        trajectory.end.y_m - 1e-9,
    )
    return trajectory.at(distance_m)


def falls_to(slip_mps, values):
    """Values where slip first falls to ROLLING_MPS, linear between two rows."""
    after = int(np.argmax(slip_mps < ROLLING_MPS))
    before = slip_mps[after - 1]
    share = (before - ROLLING_MPS) / (before - slip_mps[after])
    return values[after - 1] + share * (values[after] - values[after - 1])


def angle_left_deg(velocity_mps) -> float:
    return math.degrees(math.atan2(-velocity_mps[0], velocity_mps[1]))


def at_the_pins(rolled: Rolled) -> tuple[float, float, float]:
    """Place [boards], angle to the left [deg] and speed [m/s] of the engine's ball."""
    velocity = rolled.at(END_PLANE_M, rolled.velocity_mps)
    place_m = rolled.at(END_PLANE_M, rolled.place_m)[0]
    return place_m / BOARD_M, angle_left_deg(velocity), float(np.hypot(*velocity))


def kernel_at_the_pins(paths: Paths, shot: int) -> tuple[float, float, float]:
    """The same of the kernel's ball."""
    velocity = paths.v_x_mps[shot], paths.v_y_mps[shot]
    return paths.x_m[shot] / BOARD_M, angle_left_deg(velocity), float(np.hypot(*velocity))


def left_handed(start: reference.Start) -> reference.Start:
    """The start of the other hand, in the same lane axes: signs of [model-sheet] section 6.1."""
    (v_x, v_y), (w_x, w_y, w_z), (q_w, q_x, q_y, q_z) = (
        start.velocity_mps,
        start.spin_radps,
        start.core,
    )
    return replace(
        start,
        x_m=-start.x_m,
        velocity_mps=(-v_x, v_y),
        spin_radps=(w_x, -w_y, -w_z),
        core=(q_w, q_x, -q_y, -q_z),
    )


class Worst:
    """The largest error of each quantity over several shots, told once."""

    def __init__(self, record, about: str) -> None:
        self._record, self._about = record, about
        self._largest: dict[tuple[str, float], float] = {}

    def add(self, quantity: str, tolerance: float, error: float) -> None:
        key = quantity, tolerance
        self._largest[key] = max(self._largest.get(key, 0.0), abs(float(error)))

    def tell(self) -> None:
        for (quantity, tolerance), error in self._largest.items():
            self._record.agreement(
                ENGINE, self._about, quantity, error=error, tolerance=tolerance, source=SOURCE
            )


@pytest.mark.parametrize("release", RELEASES)
def test_a_round_core_slides_into_roll(record, release):
    worst = Worst(record, f"oracle, {release}, round core, friction 0.04, 0.12 and 0.20")
    for friction in FRICTIONS:
        rolling = rolling_of(by_oracle(release, ROUND, friction))
        engine = by_engine(release, ROUND, friction)
        time_s = falls_to(engine.slip_mps, engine.time_s)
        velocity = falls_to(engine.slip_mps, engine.velocity_mps)
        worst.add("error of time to roll, share", LARGEST_SHARE, rolling.time_s / time_s - 1)
        worst.add(
            "error of velocity in roll, share",
            LARGEST_SHARE,
            np.hypot(*(velocity - rolling.velocity_mps)) / rolling.speed_mps,
        )
        worst.add(
            "error of upright spin, rad/s",
            1e-3,
            falls_to(engine.slip_mps, engine.spin_radps)[2] - rolling.spin_radps[2],
        )
    worst.tell()


@pytest.mark.parametrize("core", [ROUND, STRONG], ids=["round", "strong"])
def test_the_oracle_comes_to_the_pins_where_the_engine_does(record, core):
    name = "round" if core == ROUND else "strong"
    worst = Worst(record, f"oracle, the three releases and frictions, {name} core")
    for release, friction in product(RELEASES, FRICTIONS):
        boards, degrees, speed_mps = at_the_pins(by_engine(release, core, friction))
        pins = by_oracle(release, core, friction).at(END_PLANE_M)
        angle = angle_left_deg(pins.velocity_mps)
        worst.add(
            "error of place at the pins, boards", LARGEST_BOARDS, pins.x_m / BOARD_M - boards
        )
        worst.add("error of angle at the pins, degrees", LARGEST_DEGREES, angle - degrees)
        worst.add(
            "error of speed at the pins, share", LARGEST_SHARE, pins.speed_mps / speed_mps - 1
        )
    worst.tell()


@pytest.mark.parametrize("core", [ROUND, STRONG], ids=["round", "strong"])
def test_the_kernel_comes_to_the_pins_where_the_engine_does(record, core):
    name = "round" if core == ROUND else "strong"
    worst = Worst(record, f"compiled kernel, the three releases and frictions, {name} core")
    for friction in FRICTIONS:
        paths = roll_in_kernel(dry_lane(), bodies([core], friction), shots(RELEASES.values()))
        for shot, release in enumerate(RELEASES):
            boards, degrees, speed_mps = at_the_pins(by_engine(release, core, friction))
            kernel = kernel_at_the_pins(paths, shot)
            worst.add("error of place at the pins, boards", KERNEL_BOARDS, kernel[0] - boards)
            worst.add("error of angle at the pins, degrees", KERNEL_DEGREES, kernel[1] - degrees)
            worst.add("error of speed at the pins, share", KERNEL_SHARE, kernel[2] / speed_mps - 1)
    worst.tell()


def test_a_left_hander_is_the_mirror_image(record):
    worst = Worst(record, "compiled kernel, the three releases by a left-hander, strong core")
    paths = roll_in_kernel(dry_lane(), bodies([STRONG], 0.12), shots(RELEASES.values()))
    for shot, release in enumerate(RELEASES):
        start = left_handed(start_of(RELEASES[release], STRONG))
        end_m = END_PLANE_M + 0.01
        left = roll_in_mujoco(start, uniform(0.12), end_m=end_m, radius_m=BALL_RADIUS_M)
        boards, degrees, speed_mps = at_the_pins(left)
        right = at_the_pins(by_engine(release, STRONG, 0.12))
        assert (-boards, -degrees, speed_mps) == pytest.approx(right, abs=1e-9)
        kernel = kernel_at_the_pins(paths, shot)
        worst.add("error of place at the pins, boards", KERNEL_BOARDS, kernel[0] + boards)
        worst.add("error of angle at the pins, degrees", KERNEL_DEGREES, kernel[1] + degrees)
        worst.add("error of speed at the pins, share", KERNEL_SHARE, kernel[2] / speed_mps - 1)
    worst.tell()


DRY, OIL, GAIN_PER_UM = 0.21, 0.03, 1.9
PLAYED = [
    # hand, board of the lay-down from the right edge, release, core
    (Hand.RIGHT, 24.0, B, STRONG),
    (Hand.RIGHT, 17.0, Delivery(8.2, 0.3, 330.0, 35.0, 18.0), ROUND),
    (Hand.RIGHT, 29.0, Delivery(7.7, 2.6, 430.0, 60.0, 10.0), STRONG),
    (Hand.LEFT, 15.0, B, STRONG),
    (Hand.LEFT, 24.0, Delivery(8.4, -0.5, 360.0, 50.0, 5.0), ROUND),
    (Hand.LEFT, 10.0, Delivery(7.6, 3.0, 480.0, 55.0, 12.0), STRONG),
]


def worn_film() -> np.ndarray:
    """A crowned film to 42 ft, more of it on the left, with a track worn into it on the right."""
    boards, cells = np.arange(BOARDS), np.arange(CELLS)
    across = 0.6 + 2.2 * np.exp(-(((boards - 20.5) / 10.0) ** 2))
    film_um = np.clip((84 - cells) / 30, 0, 1)[:, None] * across
    film_um[:80, 8:12] *= 0.6
    return film_um


def test_hooks_on_a_worn_film_agree_for_both_hands(record):
    """Film and friction law are written out again here, on SciPy's bilinear interpolation."""
    film_um = worn_film()
    surface = RectBivariateSpline(
        (np.arange(CELLS) + 0.5) * CELL_M, board_to_x_m(np.arange(BOARDS, 0, -1.0)),
        film_um[:, ::-1], kx=1, ky=1,
    )  # fmt: skip

    def friction(x_m: float, y_m: float) -> float:
        film_ratio = max(surface(y_m, x_m).item(), 0.0) * GAIN_PER_UM
        return OIL + (DRY - OIL) * math.exp(-(film_ratio**1.5))

    worst = Worst(record, "compiled kernel, worn film, three right-handers and three left-handers")
    for hand, board, delivery, core in PLAYED:
        own = -1.0 if hand is Hand.LEFT else 1.0
        x_m = own * board_to_x_m(board)
        start = start_of(delivery, core, x_m)
        start = left_handed(start) if hand is Hand.LEFT else start
        engine = roll_in_mujoco(start, friction, end_m=END_PLANE_M + 0.01, radius_m=BALL_RADIUS_M)
        paths = roll_in_kernel(
            own_frame(film_um, hand)[None],
            bodies([core], DRY, GAIN_PER_UM),
            shots([delivery], x_m),
            oil_friction=OIL,
        )
        boards, degrees, speed_mps = at_the_pins(engine)
        kernel = kernel_at_the_pins(paths, 0)
        worst.add("error of place at the pins, boards", KERNEL_BOARDS, kernel[0] - own * boards)
        worst.add("error of angle at the pins, degrees", KERNEL_DEGREES, kernel[1] - own * degrees)
        worst.add("error of speed at the pins, share", KERNEL_SHARE, kernel[2] / speed_mps - 1)
    worst.tell()
