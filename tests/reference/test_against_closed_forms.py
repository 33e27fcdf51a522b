"""The slow oracle against formulas that stand in the tests themselves."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.special import ellipj

from nextpair.domain.units import INCH_M
from nextpair.physics.constants import CREEP_SPEED_MPS, GRAVITY_MPS2
from nextpair.physics.reference import Forces, Start, roll
from nextpair.physics.rigid_body import contact_slip, to_body
from reference.releases import A, B, Delivery, straight, two_zones, uniform, waves

RADIUS_M = 0.1085
HARD_ROLLING_MPS = 1e-5
SPHERE = "uniform sphere without spin, 8 m/s, friction 0.10"
PARABOLA = "[hopkins-1977]; [model-sheet] 2.8-2 to 2.8-4"


def inertia_ratio(radius_of_gyration_m: float) -> float:
    return (radius_of_gyration_m / RADIUS_M) ** 2


@pytest.mark.parametrize(
    ("about", "radius_of_gyration_m"),
    [(SPHERE, math.sqrt(0.4) * RADIUS_M), (SPHERE.replace("uniform", "RG 2.50 in"), 2.5 * INCH_M)],
    ids=["uniform", "RG 2.50"],
)
def test_a_ball_without_spin(record, about, radius_of_gyration_m):
    c = inertia_ratio(radius_of_gyration_m)
    kappa = c / (1 + c)
    v, decel = 8.0, 0.10 * GRAVITY_MPS2
    time_s = kappa * v / decel
    distance_m = v * time_s - 0.5 * decel * time_s**2
    rolling = roll(
        straight(v, radius_of_gyration_m),
        uniform(0.10),
        end_m=distance_m + 0.01,
        creep_mps=HARD_ROLLING_MPS,
    ).rolling
    for quantity, expected, achieved in (
        ("time to roll, s", time_s, rolling.time_s),
        ("speed in roll, m/s", v / (1 + c), rolling.speed_mps),
        ("distance to roll, m", distance_m, rolling.y_m),
    ):
        record.closed_form(
            about, quantity, expected=expected, achieved=achieved, tolerance=2e-5, source=PARABOLA
        )


def test_a_uniform_sphere_keeps_five_sevenths_of_its_speed(record):
    end = roll(straight(8.0, math.sqrt(0.4) * RADIUS_M), uniform(0.20), end_m=18.0).end
    record.closed_form(
        SPHERE.replace("0.10", "0.20"),
        "speed in roll over speed at release",
        expected=5 / 7,
        achieved=end.speed_mps / 8.0,
        tolerance=1e-9,
        source=PARABOLA,
    )


def test_sliding_creeps_into_rolling(record):
    """The creep law slows the last of the slip; the time has a closed form with it too."""
    creep = CREEP_SPEED_MPS.value
    slip_mps = math.hypot(*contact_slip(*B.velocity_mps, *B.spin_radps[:2], RADIUS_M))
    c = inertia_ratio(2.5 * INCH_M)
    rate = 0.12 * GRAVITY_MPS2 * (1 + 1 / c)
    expected = (
        math.sqrt(slip_mps**2 + creep**2)
        - creep * math.asinh(creep / slip_mps)
        - creep * math.sqrt(2)
        + creep * math.asinh(1.0)
    ) / rate
    record.closed_form(
        "release B, friction 0.12, with the product's creep",
        "time until slip is the creep speed, s",
        expected=expected,
        achieved=roll(B.start(), uniform(0.12)).rolling.time_s,
        tolerance=1e-8,
        source="[model-sheet] 2.6: integral of ds / s' with s' = -rate s / sqrt(s2 + creep2)",
    )


def test_the_lane_does_not_change_the_final_velocity(record):
    worst_mps, worst_jpkg, worst_radps = 0.0, 0.0, 0.0
    for delivery in (A, B, Delivery(6.5, -1.5, 250.0, 80.0, 20.0)):
        start = delivery.start()
        c = inertia_ratio(start.radii_of_gyration_m[0])
        slip_mps = np.array(contact_slip(*start.velocity_mps, *start.spin_radps[:2], RADIUS_M))
        final_mps = np.array(start.velocity_mps) - c / (1 + c) * slip_mps
        lost_jpkg = 0.5 * c / (1 + c) * slip_mps @ slip_mps
        for friction in (waves, two_zones, uniform(0.2)):
            rolled = roll(start, friction, end_m=18.288)
            first, end = rolled.moments[0], rolled.end
            worst_mps = max(worst_mps, *np.abs(end.velocity_mps - final_mps))
            worst_jpkg = max(worst_jpkg, abs(first.energy_jpkg - end.energy_jpkg - lost_jpkg))
            worst_radps = max(worst_radps, abs(end.spin_radps[2] - start.spin_radps[2]))
    for quantity, achieved, section in (
        ("largest error of v0 - c/(1+c) u0, m/s", worst_mps, "2.8-2"),
        ("largest error of c/(1+c) u0^2 / 2, J/kg", worst_jpkg, "2.8-6"),
        ("largest change of upright spin, rad/s", worst_radps, "2.8-2"),
    ):
        record.closed_form(
            "uniform core in full roll, three releases on three lanes",
            quantity,
            expected=0.0,
            achieved=achieved,
            tolerance=1e-6,
            source=f"[model-sheet] {section}",
        )


def test_a_ball_on_a_tilted_lane_rolls_down_the_tilt(record):
    k, v, cross = 2.5 * INCH_M, 7.0, 0.02
    start = Start(0.0, (0.0, v), (-v / RADIUS_M, 0.0, 0.0), (1.0, 0.0, 0.0, 0.0), (k, k, k))
    end = roll(
        start,
        uniform(0.2),
        end_m=18.0,
        creep_mps=1e-3,
        forces=Forces(pull=lambda _x_m, _y_m: (cross, 0.0)),
    ).end
    record.closed_form(
        "ball in roll on a lane that pulls 0.02 m/s2 to the right",
        "sideways way after 18 m, m",
        expected=0.5 * cross / (1 + inertia_ratio(k)) * (18.0 / v) ** 2,
        achieved=end.x_m,
        tolerance=1e-5,
        source="rolling without slip: a = g_x / (1 + c)",
    )


CORE_TURN = (0.5, -0.5, 0.5, 0.5)
STRONG_CORE_IN = (2.48, 2.54, 2.515)


def turned_core_start() -> Start:
    return B.start(STRONG_CORE_IN, CORE_TURN)


@pytest.mark.parametrize("cross", [0.0, 0.03])
def test_friction_has_no_moment_about_the_contact(record, cross):
    moments = roll(
        turned_core_start(), waves, forces=Forces(pull=lambda _x_m, _y_m: (cross, 0.0))
    ).moments
    times_s = np.array([moment.time_s for moment in moments])
    momentum = np.array([moment.contact_momentum_m2ps for moment in moments])
    expected = momentum[0] + np.outer(times_s, (0.0, RADIUS_M * cross, 0.0))
    record.closed_form(
        f"strong core, friction in waves, sideways pull {cross} m/s2",
        "largest change of momentum about the contact, less pull x R x t, m2/s",
        expected=0.0,
        achieved=float(np.abs(momentum - expected).max()),
        tolerance=1e-6,
        source="[kernel-notes] point 2",
    )


def test_friction_never_gives_energy(record):
    energy_jpkg = np.array(
        [moment.energy_jpkg for moment in roll(turned_core_start(), waves).moments]
    )
    record.closed_form(
        "strong core, friction in waves",
        "largest rise of energy in a step, J/kg",
        expected=0.0,
        achieved=max(0.0, float(np.diff(energy_jpkg).max())),
        tolerance=1e-9,
        source="[model-sheet] 2.8-6",
    )


def test_a_symmetric_core_precesses_about_the_pin(record):
    low, high = 2.48 * INCH_M, 2.53 * INCH_M
    spin = (40.0 * math.cos(0.7), 0.0, 40.0 * math.sin(0.7))
    start = Start(0.0, (0.0, 7.0), spin, (1.0, 0.0, 0.0, 0.0), (low, high, high))
    moments = roll(start, uniform(0.0), end_m=17.5).moments
    axes = np.array([to_body(*moment.core, *moment.spin_radps) for moment in moments])
    azimuth_rad = np.unwrap(np.arctan2(axes[:, 2], axes[:, 1]))
    record.closed_form(
        "symmetric core free of friction",
        "rate of the axis about the pin, rad/s",
        expected=(1 - (low / high) ** 2) * spin[0],
        achieved=abs(azimuth_rad[-1] - azimuth_rad[0]) / moments[-1].time_s,
        tolerance=1e-8,
        source="[landau-1976] section 35; [model-sheet] 2.8-8",
    )


def test_an_asymmetric_core_turns_as_jacobi_found(record):
    """Axes 1, 2, 3 of the formula are low, minus middle and high: the order of their moments."""
    I_1, I_3, I_2 = (k * k for k in (2.48 * INCH_M, 2.54 * INCH_M, 2.51 * INCH_M))
    omega_1, omega_3 = 20.0, 45.0
    energy2 = I_1 * omega_1**2 + I_3 * omega_3**2
    momentum2 = (I_1 * omega_1) ** 2 + (I_3 * omega_3) ** 2
    assert momentum2 > energy2 * I_2
    start = Start(
        0.0,
        (0.0, 7.0),
        (omega_1, omega_3, 0.0),
        (1.0, 0.0, 0.0, 0.0),
        (math.sqrt(I_1), math.sqrt(I_3), math.sqrt(I_2)),
    )
    moments = roll(start, uniform(0.0), end_m=17.5).moments
    times_s = np.array([moment.time_s for moment in moments])
    turned = np.array([to_body(*moment.core, *moment.spin_radps) for moment in moments])

    below, above = energy2 * I_3 - momentum2, momentum2 - energy2 * I_1
    rate = math.sqrt((I_3 - I_2) * above / (I_1 * I_2 * I_3))
    modulus = (I_2 - I_1) * below / ((I_3 - I_2) * above)
    sn, cn, dn, _ = ellipj(rate * times_s, modulus)
    amplitude_2 = math.sqrt(below / (I_2 * (I_3 - I_2)))
    expected = np.stack((omega_1 * cn, omega_3 * dn, -amplitude_2 * sn), axis=1)
    record.closed_form(
        "asymmetric core free of friction, 2.5 s",
        "largest error of spin in body axes, rad/s",
        expected=0.0,
        achieved=float(np.abs(turned - expected).max()),
        tolerance=1e-7,
        source="[landau-1976] section 37, Jacobi functions of SciPy",
    )
