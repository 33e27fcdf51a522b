"""More steps bring the kernel to the oracle as fast as its method says, until float32 speaks."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from nextpair.domain.lane import BOARD_M, BOARDS, CELLS
from nextpair.kernel.roll import STEPS
from nextpair.physics import reference
from nextpair.physics.constants import OIL_FRICTION
from reference.kernel_lane import Core, bodies, roll_in_kernel, shots, start_of
from reference.releases import Delivery

SHOTS = 40
CORE = Core((2.48, 2.54, 2.515), 50.0, 55.0)
DRY, GAIN_PER_UM = 0.21, 1.9
LARGEST = {1: 0.1, 2: 0.004, 4: 5e-4, 8: 5e-4}
FLOAT32 = 7e-5
"""Boards and degrees that hundreds of sums in float32 cost; more steps do not better it."""


def crowned_film():
    """A film to 42 ft, thickest in the middle, as a flat pattern leaves it."""
    boards, cells = np.arange(BOARDS), np.arange(CELLS)
    across = 0.6 + 2.2 * np.exp(-(((boards - 19) / 11.0) ** 2))
    return np.clip((84 - cells) / 30, 0, 1)[:, None] * across


@cache
def thrown():
    rng = np.random.default_rng(11)
    deliveries = [
        Delivery(
            rng.normal(8.0, 0.45),
            rng.normal(1.8, 1.0),
            rng.normal(390, 70),
            rng.normal(50, 12),
            rng.normal(13, 5),
        )
        for _ in range(SHOTS)
    ]
    return deliveries, rng.normal(-0.15, 0.12, SHOTS)


@cache
def by_oracle(drag_per_m: float = 0.0, rolling_resistance: float = 0.0, loft_m: float = 0.0):
    friction = reference.FilmFriction(
        crowned_film(), GAIN_PER_UM, OIL_FRICTION.value, DRY - OIL_FRICTION.value
    )
    ends = [
        reference.roll(
            replace(start_of(delivery, CORE, x_m), loft_m=loft_m),
            friction,
            forces=reference.Forces(drag_per_m=drag_per_m, rolling_resistance=rolling_resistance),
            rtol=1e-9,
        ).end
        for delivery, x_m in zip(*thrown(), strict=True)
    ]
    return np.array([end.x_m for end in ends]), np.array([end.angle_left_rad for end in ends])


@cache
def errors(
    steps: int, drag_per_m: float = 0.0, rolling_resistance: float = 0.0, loft_m: float = 0.0
):
    """Root mean squares of the errors of place [boards] and angle [deg] over the shots."""
    deliveries, x_m = thrown()
    ball = replace(
        bodies([CORE], DRY, GAIN_PER_UM),
        drag_per_m=np.array([drag_per_m]),
        rolling_resistance=np.array([rolling_resistance]),
    )
    lofted = replace(shots(deliveries, x_m), loft_m=np.full(SHOTS, loft_m))
    paths = roll_in_kernel(crowned_film()[None], ball, lofted, steps=steps)
    true_x_m, true_angle_rad = by_oracle(drag_per_m, rolling_resistance, loft_m)
    angle_rad = np.arctan2(-paths.v_x_mps, paths.v_y_mps)
    place, angle = (paths.x_m - true_x_m) / BOARD_M, np.degrees(angle_rad - true_angle_rad)
    return tuple(float(np.sqrt(np.mean(error**2))) for error in (place, angle))


@pytest.mark.parametrize(("quantity", "part"), [("place, boards", 0), ("angle, degrees", 1)])
def test_the_error_falls_with_at_least_the_third_power_of_the_step(record, quantity, part):
    found = {steps: errors(steps)[part] for steps in (1, 2, 4, 8)}
    for steps, error in found.items():
        record.agreement(
            "Slow oracle",
            f"compiled kernel, {SHOTS} random shots, {steps} steps a cell",
            f"root mean square error of {quantity}",
            error=error,
            tolerance=LARGEST[steps],
            source="[hairer-1993] by SciPy, physics/reference.py",
        )
    for steps in (1, 2):
        fallen_to = max(found[2 * steps], FLOAT32)
        assert np.log2(found[steps] / fallen_to) >= 3.0


def test_air_resistance_and_landing_are_within_the_aim(record):
    """A ball lands within a step, and air and resistance act between steps: of lower order."""
    acting = {"drag_per_m": 0.0015, "rolling_resistance": 0.003, "loft_m": 0.1}
    for quantity, error, tolerance in zip(
        ("place, boards", "angle, degrees"), errors(STEPS, **acting), (0.02, 0.01), strict=True
    ):
        record.agreement(
            "Slow oracle",
            f"compiled kernel, {SHOTS} random shots with air, resistance and a loft of 0.1 m",
            f"root mean square error of {quantity}",
            error=error,
            tolerance=tolerance,
            source="[hairer-1993] by SciPy, physics/reference.py",
        )
