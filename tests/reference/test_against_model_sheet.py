"""The friction law and the slow oracle against the check values of the model sheet."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from nextpair.domain.ball import Layout
from nextpair.domain.lane import LANE_WIDTH_M
from nextpair.domain.units import (
    DEGREE_RAD,
    FOOT_M,
    INCH_M,
    MICROINCH_UM,
    MPH_MPS,
    OIL_UNIT_UM,
    RPM_RADPS,
)
from nextpair.physics.constants import MEAN_OIL_VISCOSITY_PAS
from nextpair.physics.forces import drag_per_m
from nextpair.physics.friction import film_gain_per_um, friction_coefficient
from nextpair.physics.layout import GRIP_RADIUS_M, axes_to_quaternion, core_axes
from nextpair.physics.oil import oil_friction, oil_viscosity_pas
from nextpair.physics.reference import Forces, Start, roll
from nextpair.physics.rigid_body import contact_slip, to_body
from reference.mujoco_lane import Extras, roll_in_mujoco
from reference.record import load_entry
from reference.releases import FOOT_OF_PINS_M, A, B, Delivery, straight, two_zones, uniform, waves

SHEET = "model_sheet"
UNIFORM_SPHERE_M = math.sqrt(0.4) * 0.1085
LOW_FLARE_M = 2.50 * INCH_M


@cache
def on_two_zones(delivery: Delivery):
    """One delivery on the two-zone lane, rolling as hard as 0.1 mm/s of creep."""
    return roll(delivery.start(), two_zones, end_m=FOOT_OF_PINS_M, creep_mps=1e-4)


def angle_left_deg(moment) -> float:
    return moment.angle_left_rad / DEGREE_RAD


def angle_between_deg(a, b) -> float:
    cosine = np.dot(a, b) / (np.linalg.norm(a) * np.linalg.norm(b))
    return math.degrees(math.acos(cosine))


def body_axis(moment):
    """The spin axis as the core sees it."""
    return np.array(to_body(*moment.core, *moment.spin_radps))


@pytest.mark.parametrize(
    ("check", "radius_of_gyration_m", "creep_mps"),
    [("C1", UNIFORM_SPHERE_M, 1e-4), ("C2", LOW_FLARE_M, 5e-5)],
)
def test_a_ball_without_spin_slides_until_it_rolls(record, check, radius_of_gyration_m, creep_mps):
    end = load_entry(SHEET, check)["roll_distance_m"]["value"] + 0.01
    rolled = roll(
        straight(8.0, radius_of_gyration_m), uniform(0.10), end_m=end, creep_mps=creep_mps
    )
    record.published(
        SHEET,
        check,
        roll_time_s=rolled.rolling.time_s,
        roll_speed_mps=rolled.rolling.speed_mps,
        roll_distance_m=rolled.rolling.y_m,
    )


def test_a_release_becomes_velocity_spin_and_slip(record):
    slip_mps = contact_slip(*A.velocity_mps, *A.spin_radps[:2], 0.1085)
    record.published(
        SHEET,
        "C3",
        velocity_mps=A.velocity_mps,
        spin_radps=A.spin_radps,
        slip_mps=slip_mps,
        slip_speed_mps=math.hypot(*slip_mps),
    )


def test_full_roll_is_the_same_on_any_lane(record):
    end = roll(A.start(), waves, end_m=FOOT_OF_PINS_M).end
    record.published(
        SHEET,
        "C4",
        velocity_mps=end.velocity_mps,
        speed_mph=end.speed_mps / MPH_MPS,
        angle_left_deg=angle_left_deg(end),
    )


def test_release_a_crosses_the_edge_of_the_oil(record):
    rolled = on_two_zones(A)
    record.published(
        SHEET,
        "C5",
        roll_time_s=rolled.rolling.time_s,
        roll_place_m=(rolled.rolling.x_m, rolled.rolling.y_m),
        end_time_s=rolled.end.time_s,
        end_x_m=rolled.end.x_m,
    )


def test_release_b_crosses_the_edge_of_the_oil(record):
    rolled = on_two_zones(B)
    record.published(
        SHEET,
        "C6",
        roll_time_s=rolled.rolling.time_s,
        roll_distance_m=rolled.rolling.y_m,
        end_time_s=rolled.end.time_s,
        end_x_m=rolled.end.x_m,
        end_velocity_mps=rolled.end.velocity_mps,
        end_angle_left_deg=angle_left_deg(rolled.end),
    )


@pytest.mark.parametrize(
    ("check", "friction", "creep_mps"), [("C7", 0.20, 5e-6), ("C8", 0.04, 1e-6)]
)
def test_a_ball_slides_on_a_parabola(record, check, friction, creep_mps):
    end = load_entry(SHEET, check)["roll_place_m"]["value"][1] + 0.005
    rolling = roll(A.start(), uniform(friction), end_m=end, creep_mps=creep_mps).rolling
    record.published(
        SHEET, check, roll_time_s=rolling.time_s, roll_place_m=(rolling.x_m, rolling.y_m)
    )


def test_friction_moves_the_path_and_not_the_final_velocity(record):
    ends = [
        roll(B.start(), friction, end_m=FOOT_OF_PINS_M, creep_mps=1e-3).end
        for friction in (waves, uniform(0.12))
    ]
    record.published(
        SHEET,
        "C9",
        end_velocity_mps=[end.velocity_mps for end in ends],
        end_x_m=[end.x_m for end in ends],
    )


@pytest.mark.parametrize(
    ("check", "delivery"),
    [
        ("C10", Delivery(8.0, 0.0, 300.0, 60.0, 10.0)),
        ("C11", Delivery(9.0, 2.0, 500.0, 45.0, 15.0)),
    ],
)
def test_slow_and_fast_releases_cross_the_edge_of_the_oil(record, check, delivery):
    rolled = on_two_zones(delivery)
    record.published(
        SHEET,
        check,
        roll_distance_m=rolled.rolling.y_m,
        end_time_s=rolled.end.time_s,
        end_x_m=rolled.end.x_m,
        end_angle_left_deg=angle_left_deg(rolled.end),
        end_speed_mps=rolled.end.speed_mps,
    )


def test_friction_takes_the_energy_of_the_slip(record):
    energy_jpkg = np.array([moment.energy_jpkg for moment in on_two_zones(A).moments])
    record.published(
        SHEET,
        "C12",
        energy_loss_jpkg=energy_jpkg[0] - energy_jpkg[-1],
        largest_relative_rise=max(0.0, (np.diff(energy_jpkg) / energy_jpkg[:-1]).max()),
    )


def test_without_friction_the_axis_circles_the_pin(record):
    rg_m = tuple(k * INCH_M for k in (2.48, 2.53, 2.53))
    spin = (40.0 * math.sqrt(0.5), 40.0 * math.sqrt(0.5), 0.0)
    start = Start(0.0, (0.0, 7.0), spin, (1.0, 0.0, 0.0, 0.0), rg_m)
    moments = roll(start, uniform(0.0), end_m=2.5 * 7.0).moments
    axes = np.array([body_axis(moment) for moment in moments])
    azimuth_rad = np.unwrap(np.arctan2(axes[:, 2], axes[:, 1]))
    momentum = np.linalg.norm(axes * np.square(rg_m), axis=1)
    energy_jpkg = np.array([moment.energy_jpkg for moment in moments])
    assert moments[-1].time_s == pytest.approx(2.5)
    record.published(
        SHEET,
        "C13",
        axis_azimuth_radps=abs(azimuth_rad[-1] - azimuth_rad[0]) / moments[-1].time_s,
        momentum_drift=np.abs(momentum / momentum[0] - 1).max(),
        energy_drift=np.abs(energy_jpkg / energy_jpkg[0] - 1).max(),
    )


@pytest.mark.parametrize(
    ("check", "rg_in", "creep_mps"),
    [("C14", (2.48, 2.53, 2.53), 0.01), ("C15", (2.48, 2.53, 2.51), 0.002)],
)
def test_a_core_moves_the_axis_and_hardly_the_path(record, check, rg_in, creep_mps):
    pin_up = Layout(45.0 * DEGREE_RAD * GRIP_RADIUS_M, 60.0 * DEGREE_RAD, 0.0)
    axis = np.array(B.spin_radps) / np.linalg.norm(B.spin_radps)
    core = axes_to_quaternion(*core_axes(pin_up, tuple(axis)))
    rolled = roll(B.start(rg_in, core), two_zones, end_m=FOOT_OF_PINS_M, creep_mps=creep_mps)
    first, last = body_axis(rolled.moments[0]), body_axis(rolled.end)
    achieved = {
        "end_x_m": rolled.end.x_m,
        "end_angle_left_deg": angle_left_deg(rolled.end),
        "axis_moved_deg": angle_between_deg(first, last),
    }
    if check == "C14":
        pin = (1.0, 0.0, 0.0)
        achieved["pin_to_axis_deg"] = angle_between_deg(first, pin), angle_between_deg(last, pin)
    record.published(SHEET, check, **achieved)


def test_a_mass_off_centre_bends_the_path(record):
    """By the oracle, and by an engine that carries such a mass by its own mechanics."""
    axis = np.array(B.spin_radps) / np.linalg.norm(B.spin_radps)
    offsets = [tuple(way * 1e-3 * axis) for way in (1.0, -1.0)]
    ends = [
        roll(
            replace(B.start(), offset_m=offset),
            two_zones,
            end_m=FOOT_OF_PINS_M,
            creep_mps=0.01,
            rtol=1e-8,
        ).end
        for offset in offsets
    ]
    record.published(
        SHEET,
        "C16",
        end_x_m=[end.x_m for end in ends],
        end_angle_left_deg=[angle_left_deg(end) for end in ends],
    )
    end_m = FOOT_OF_PINS_M + 0.01
    engine = [
        roll_in_mujoco(B.start(), two_zones, end_m=end_m, radius_m=0.1085, extras=Extras(offset))
        for offset in offsets
    ]
    velocities = [rolled.at(FOOT_OF_PINS_M, rolled.velocity_mps) for rolled in engine]
    record.published(
        SHEET,
        "C16_engine",
        end_x_m=[rolled.at(FOOT_OF_PINS_M, rolled.place_m)[0] for rolled in engine],
        end_angle_left_deg=[math.degrees(math.atan2(-v_x, v_y)) for v_x, v_y in velocities],
    )


def test_the_air_slows_the_ball(record):
    end = roll(
        B.start(),
        two_zones,
        end_m=FOOT_OF_PINS_M,
        creep_mps=1e-3,
        forces=Forces(drag_per_m=drag_per_m(6.804, 0.1085, 0.47, 1.2)),
        rtol=1e-8,
    ).end
    record.published(
        SHEET,
        "C17",
        end_time_s=end.time_s,
        end_x_m=end.x_m,
        end_speed_mph=end.speed_mps / MPH_MPS,
        end_angle_left_deg=angle_left_deg(end),
    )


def test_oil_units_are_films(record):
    def film_um(volume_ml, length_ft):
        return volume_ml * 1e-6 / (LANE_WIDTH_M * length_ft * FOOT_M) * 1e6

    record.published(
        SHEET,
        "C18",
        unit_um=OIL_UNIT_UM,
        film_of_25_ml_on_41_ft_um=film_um(25.0, 41.0),
        film_of_25_ml_on_41_ft_units=film_um(25.0, 41.0) / OIL_UNIT_UM,
        film_of_7_21_ml_on_34_ft_units=film_um(7.21, 34.0) / OIL_UNIT_UM,
    )


def test_a_left_hander_is_the_mirror_image(record):
    """The left-hander's signs are written out as in section 6.1, not mirrored from the result."""
    speed_mps, angle_rad = B.speed_mps, B.angle_deg * DEGREE_RAD
    omega, rotation, tilt = B.rev_rate_rpm * RPM_RADPS, math.radians(45.0), math.radians(13.0)
    left = replace(
        B.start(),
        velocity_mps=(-speed_mps * math.sin(angle_rad), speed_mps * math.cos(angle_rad)),
        spin_radps=(
            -omega * math.cos(tilt) * math.cos(rotation),
            omega * math.cos(tilt) * math.sin(rotation),
            -omega * math.sin(tilt),
        ),
    )
    rights, lefts = (
        roll(start, two_zones, end_m=FOOT_OF_PINS_M).end for start in (B.start(), left)
    )

    def turned(end):
        return np.array([end.x_m, end.velocity_mps[0], *end.spin_radps[1:]])

    def kept(end):
        return np.array([end.time_s, end.y_m, end.velocity_mps[1], end.spin_radps[0]])

    record.published(
        SHEET,
        "C24",
        x_v_x_omega_y_omega_z_sum=turned(lefts) + turned(rights),
        t_y_v_y_omega_x_difference=kept(lefts) - kept(rights),
    )


def test_friction_follows_film_and_roughness(record):
    entry = load_entry(SHEET, "friction_law")
    films_um = [units * OIL_UNIT_UM for units in entry["units"]]
    gains_per_um = [film_gain_per_um(ra * MICROINCH_UM) for ra in entry["roughness_uin"]]
    record.published(
        SHEET,
        "friction_law",
        friction=[
            [friction_coefficient(film_um, gain, 0.03, 0.17) for film_um in films_um]
            for gain in gains_per_um
        ],
    )


def test_oil_thins_and_slicks_by_a_share_for_each_degree(record):
    mean_pas = MEAN_OIL_VISCOSITY_PAS.value
    record.published(
        SHEET,
        "oil_temperature",
        viscosity_share=[abs(oil_viscosity_pas(1.0, t) - 1) for t in (26.0, 16.0)],
        friction_share=[
            abs(oil_friction(mean_pas, t) / oil_friction(mean_pas, 21.0) - 1) for t in (26.0, 16.0)
        ],
    )
