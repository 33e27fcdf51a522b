"""The oracle's creep against a ball that holds: Moreau's projected time stepping, in plain NumPy.

The scheme knows no creep speed: its impulse ends the slip or slides. What follows stands in
docs/adr/0007-creep-or-projected-stepping.md.
"""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.domain.ball import Layout
from nextpair.domain.lane import BOARD_M, END_PLANE_M
from nextpair.domain.units import DEGREE_RAD
from nextpair.physics.constants import CREEP_SPEED_MPS
from nextpair.physics.layout import GRIP_RADIUS_M, axes_to_quaternion, core_axes
from nextpair.physics.reference import Start, roll
from reference.kernel_lane import STRONG, start_of
from reference.releases import FOOT_OF_PINS_M, B, Delivery
from reference.time_stepping import Creeping, Projected, rolled

SHEET = "model_sheet"
PROJECTED = "Projected stepping"
SOURCE = "[model-sheet] section 2.6; tests/reference/time_stepping.py"
SHOTS = [
    Delivery(speed, angle, rpm, rotation, 12.0)
    for speed, angle, rpm, rotation in (
        (8.0, 1.8, 416.0, 45.0),
        (7.4, 0.5, 320.0, 60.0),
        (8.6, 2.5, 500.0, 35.0),
        (8.2, -0.5, 250.0, 75.0),
    )
]


def sharp_edge(x_m, y_m):
    """Friction 0.04 to 12.192 m, 0.20 beyond."""
    return np.where(y_m < 12.192, 0.04, 0.20)


def smooth_edge(_x_m, y_m):
    """The same, passing over within a metre, as films do."""
    share = np.clip(y_m - 12.192 + 0.5, 0.0, 1.0)
    return 0.04 + 0.16 * share * share * (3 - 2 * share)


def sheet_start() -> Start:
    """Release B on the core of C15, the pin straight up from the axis."""
    axis = np.array(B.spin_radps) / np.linalg.norm(B.spin_radps)
    layout = Layout(45.0 * DEGREE_RAD * GRIP_RADIUS_M, 60.0 * DEGREE_RAD, 0.0)
    core = axes_to_quaternion(*core_axes(layout, tuple(axis)))
    return B.start((2.48, 2.53, 2.51), core)


def test_both_schemes_give_what_the_sheet_measured(record):
    ends = [
        rolled(scheme, [sheet_start()], sharp_edge, dt_s, FOOT_OF_PINS_M)
        for scheme, dt_s in (
            (Creeping(0.05), 1e-3),
            (Creeping(0.01), 1e-3),
            (Projected(), 4e-3),
            (Projected(), 1e-3),
        )
    ]
    record.published(
        SHEET,
        "stepping",
        end_x_m=[end.x_m[0] for end in ends],
        end_angle_left_deg=[end.angle_left_deg[0] for end in ends],
    )


def differences(scheme, limit, steps_s):
    starts = [start_of(delivery, STRONG) for delivery in SHOTS]
    found = [rolled(scheme, starts, smooth_edge, dt_s, END_PLANE_M).x_m for dt_s in steps_s]
    return [float(np.abs(x_m - limit).max()) for x_m in found]


@pytest.fixture(scope="module")
def creeping_ends():
    """The oracle's ends with the product's creep."""
    return ends_with(CREEP_SPEED_MPS.value)


def ends_with(creep_mps: float):
    ends = [
        roll(
            start_of(delivery, STRONG),
            lambda x_m, y_m: float(smooth_edge(x_m, y_m)),
            creep_mps=creep_mps,
            rtol=1e-9,
        ).end
        for delivery in SHOTS
    ]
    return np.array([end.x_m for end in ends]), np.array([end.angle_left_rad for end in ends])


def test_runge_kutta_on_creep_is_of_order_four(creeping_ends):
    coarse, fine = differences(Creeping(CREEP_SPEED_MPS.value), creeping_ends[0], (4e-3, 2e-3))
    assert np.log2(coarse / fine) > 3.0
    assert fine < 1e-4


def test_projected_stepping_is_of_order_one():
    ideal, _ = ends_with(1e-3)
    coarse, fine = differences(Projected(), ideal, (4e-3, 2e-3))
    assert np.log2(coarse / fine) == pytest.approx(1.0, abs=0.3)


def test_creep_moves_the_place_by_little_and_the_angle_by_a_known_bias(record, creeping_ends):
    """Against the projected scheme's limit, by Richardson's rule from 2 and 1 ms."""
    starts = [start_of(delivery, STRONG) for delivery in SHOTS]
    two, one = (rolled(Projected(), starts, smooth_edge, dt, END_PLANE_M) for dt in (2e-3, 1e-3))
    for quantity, limit, achieved, tolerance in (
        (
            "largest error of place at the pins, boards",
            (2 * one.x_m - two.x_m) / BOARD_M,
            creeping_ends[0] / BOARD_M,
            0.05,
        ),
        (
            "largest error of angle at the pins, degrees",
            2 * one.angle_left_deg - two.angle_left_deg,
            np.degrees(creeping_ends[1]),
            0.3,
        ),
    ):
        record.agreement(
            PROJECTED,
            "oracle with the product's creep, four releases, strong core, edge of the oil",
            quantity,
            error=float(np.abs(achieved - limit).max()),
            tolerance=tolerance,
            source=SOURCE,
        )


@pytest.mark.parametrize("scheme", [Creeping(0.05), Projected()], ids=["creeping", "projected"])
def test_neither_scheme_makes_energy(scheme):
    starts = [start_of(delivery, STRONG) for delivery in SHOTS]
    outcome = rolled(scheme, starts, smooth_edge, 2e-3, END_PLANE_M)
    assert outcome.energy_rise_jpkg.max() < 1e-9
