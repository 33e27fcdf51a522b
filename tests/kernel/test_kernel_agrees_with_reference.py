"""The compiled kernel against SciPy's DOP853 on the same equations, over random shots.

The oracle integrates Euler's equations in time, in float64 and lane axes; see physics.reference.
"""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.domain.lane import BOARD_M
from nextpair.domain.units import DEGREE_RAD
from nextpair.kernel.layout import Bodies, Lanes, Shots
from nextpair.kernel.roll import Paths, roll
from reference.random_shots import oracle_end, random_batch
from reference.record import Record

SHOTS = 500
LARGEST_BOARDS = 0.05
LARGEST_DEGREES = 0.02


@pytest.fixture(scope="module")
def rolled() -> tuple[Lanes, Bodies, Shots, Paths]:
    lanes, bodies, shots = random_batch(SHOTS)
    return lanes, bodies, shots, roll(lanes, bodies, shots)


def test_place_angle_speed_and_time_at_the_pins(
    record: Record, rolled: tuple[Lanes, Bodies, Shots, Paths]
) -> None:
    lanes, bodies, shots, paths = rolled
    ends = [oracle_end(lanes, bodies, shots, shot) for shot in range(SHOTS)]
    boards = np.abs(paths.x_m - [end.x_m for end in ends]) / BOARD_M
    angle = np.arctan2(-paths.v_x_mps, paths.v_y_mps)
    degrees = np.abs(angle - [end.angle_left_rad for end in ends]) / DEGREE_RAD
    for quantity, errors, largest in (
        ("largest error of place, boards", boards, LARGEST_BOARDS),
        ("largest error of angle, degrees", degrees, LARGEST_DEGREES),
    ):
        record.agreement(
            "Slow oracle",
            f"compiled kernel at the pins, {SHOTS} random shots on worn films",
            quantity,
            error=float(errors.max()),
            tolerance=largest,
            source="[hairer-1993] by SciPy, physics/reference.py",
        )
    np.testing.assert_allclose(paths.time_s, [end.time_s for end in ends], atol=1e-3)


def test_recording_changes_nothing_and_ends_where_the_path_ends(
    rolled: tuple[Lanes, Bodies, Shots, Paths],
) -> None:
    lanes, bodies, shots, paths = rolled
    recorded = roll(lanes, bodies, shots, record=True)
    assert recorded.trace is not None
    np.testing.assert_array_equal(recorded.x_m, paths.x_m)
    np.testing.assert_allclose(recorded.trace[0, -1], paths.x_m, rtol=1e-6)
    np.testing.assert_allclose(recorded.trace[0, 0], shots.x_m, rtol=1e-5, atol=1e-7)
