"""Without friction a ball turns freely: its axis in the core by SciPy and by closed forms.

Here the momentum stands still in lane axes and SciPy's rotations carry the core through it; the
kernel steps by distance and float32, and knows neither. `oil_friction` 0 on a dry lane without
friction leaves nothing but the core's own turning.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.spatial.transform import Rotation
from scipy.special import ellipj

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.units import RPM_RADPS
from nextpair.kernel.layout import NODE_M, Trace
from nextpair.kernel.roll import STEPS
from reference.kernel_lane import UPRIGHT, Core, bodies, dry_lane, roll_in_kernel, shots
from reference.releases import Delivery

FREE = "Free rotation by SciPy"
SPEED_MPS = 7.0
TIMES_S = NODE_M / SPEED_MPS
SYMMETRIC = Core((2.48, 2.53, 2.53))
ASYMMETRIC = Core((2.46, 2.52, 2.495), 35.0, 70.0)
LARGEST_DEGREES = 0.3
"""On the cover that is 0.02 in, a tenth of a ring's width; twice the steps give a twentieth."""
AXES = slice(Trace.AXIS_LOW, Trace.AXIS_MIDDLE + 1)


def free_trace(core: Core, delivery: Delivery, steps: int = STEPS):
    """The kernel's record of one ball that nothing holds."""
    paths = roll_in_kernel(
        dry_lane(), bodies([core], 0.0), shots([delivery]), oil_friction=0.0, steps=steps
    )
    trace = paths.trace[:, :, 0].astype(float)
    assert np.ptp(trace[Trace.V_Y]) == 0.0, "something slowed the ball"
    return trace


def straight_down(rpm: float, rotation_deg: float, tilt_deg: float) -> Delivery:
    return Delivery(SPEED_MPS, 0.0, rpm, rotation_deg, tilt_deg)


def turned_by_scipy(core: Core, delivery: Delivery):
    """Spin axis in the core (121, 3), and speed of the surface at the contact (121,)."""
    k2 = np.array(core.k2_m2)
    spin = np.array(delivery.spin_radps)
    upright = Rotation.from_quat(np.roll(core.quaternion, -1))
    turn, _ = Rotation.align_vectors([spin], [UPRIGHT])
    start = turn * upright
    momentum = start.apply(k2 * start.inv().apply(spin))

    def rates(_time_s, q):
        w_1, w_2, w_3 = Rotation.from_quat(q).inv().apply(momentum) / k2
        x, y, z, w = q
        return 0.5 * np.array(
            [
                w * w_1 + y * w_3 - z * w_2,
                w * w_2 + z * w_1 - x * w_3,
                w * w_3 + x * w_2 - y * w_1,
                -x * w_1 - y * w_2 - z * w_3,
            ]
        )

    solved = solve_ivp(
        rates, (0.0, TIMES_S[-1]), start.as_quat(), "DOP853", TIMES_S, rtol=1e-9, atol=1e-11
    )
    turned = Rotation.from_quat(solved.y.T)
    in_core = turned.inv().apply(momentum) / k2
    in_lane = turned.apply(in_core)
    axis = in_core / np.linalg.norm(in_core, axis=1, keepdims=True)
    return axis, BALL_RADIUS_M * np.hypot(in_lane[:, 0], in_lane[:, 1])


@pytest.mark.parametrize(
    ("name", "core", "delivery"),
    [
        ("symmetric core, 416 rpm", SYMMETRIC, straight_down(416.0, 45.0, 13.0)),
        ("asymmetric core, 416 rpm", ASYMMETRIC, straight_down(416.0, 45.0, 13.0)),
        ("asymmetric core, 550 rpm", ASYMMETRIC, straight_down(550.0, 70.0, 20.0)),
    ],
)
def test_the_axis_moves_through_the_core_as_in_free_rotation(record, name, core, delivery):
    axis, surface_mps = turned_by_scipy(core, delivery)
    moved_deg = np.degrees(np.arccos(np.clip(axis @ axis[0], -1.0, 1.0))).max()
    assert moved_deg > 45.0, "an axis that stays proves nothing"
    for steps, largest_deg in ((STEPS, LARGEST_DEGREES), (2 * STEPS, LARGEST_DEGREES / 10)):
        trace = free_trace(core, delivery, steps)
        apart = np.linalg.norm(np.cross(axis, trace[AXES].T), axis=1)
        for quantity, error, tolerance in (
            ("largest error of the axis in the core, degrees", np.degrees(apart), largest_deg),
            (
                "largest error of the surface's speed, m/s",
                np.abs(trace[Trace.SURFACE_SPEED] - surface_mps),
                1e-3,
            ),
        ):
            record.agreement(
                FREE,
                f"compiled kernel, {name}, {steps} steps a cell",
                quantity,
                error=float(error.max()),
                tolerance=tolerance,
                source="[landau-1976] section 36; SciPy's rotations and DOP853",
            )


def test_the_kernel_circles_the_pin_at_the_sheets_rate(record):
    trace = free_trace(SYMMETRIC, straight_down(40.0 / RPM_RADPS, 45.0, 0.0))
    azimuth_rad = np.unwrap(np.arctan2(trace[Trace.AXIS_MIDDLE], trace[Trace.AXIS_HIGH]))
    record.published(
        "model_sheet",
        "C13_kernel",
        axis_azimuth_radps=abs(np.polyfit(TIMES_S, azimuth_rad, 1)[0]),
    )


def test_an_asymmetric_core_follows_jacobis_functions(record):
    """Axes 1, 2, 3 of the formula are low, minus middle and high: the order of their moments."""
    pin_deg, rpm = 65.0, 416.0
    core = Core(ASYMMETRIC.rg_in, pin_deg, 0.0)
    trace = free_trace(core, straight_down(rpm, 45.0, 13.0), 2 * STEPS)
    I_1, I_3, I_2 = core.k2_m2
    omega_1, omega_3 = (
        rpm
        * RPM_RADPS
        * np.array([math.cos(math.radians(pin_deg)), math.sin(math.radians(pin_deg))])
    )
    energy2 = I_1 * omega_1**2 + I_3 * omega_3**2
    momentum2 = (I_1 * omega_1) ** 2 + (I_3 * omega_3) ** 2
    assert momentum2 > energy2 * I_2
    below, above = energy2 * I_3 - momentum2, momentum2 - energy2 * I_1
    rate = math.sqrt((I_3 - I_2) * above / (I_1 * I_2 * I_3))
    modulus = (I_2 - I_1) * below / ((I_3 - I_2) * above)
    sn, cn, dn, _ = ellipj(rate * TIMES_S, modulus)
    amplitude_2 = math.sqrt(below / (I_2 * (I_3 - I_2)))
    spin = np.stack((omega_1 * cn, omega_3 * dn, -amplitude_2 * sn))
    spin /= np.linalg.norm(spin, axis=0)
    record.closed_form(
        "compiled kernel free of friction, asymmetric core, 416 rpm, twice the product's steps",
        "largest error of the axis in the core, degrees",
        expected=0.0,
        achieved=float(np.degrees(np.linalg.norm(trace[AXES] - spin, axis=0).max())),
        tolerance=LARGEST_DEGREES / 10,
        source="[landau-1976] section 37, Jacobi functions of SciPy",
    )
