"""How balls come to the pins, and pins and contacts themselves, against the model sheet."""

from __future__ import annotations

import math

import numpy as np
import pytest

from nextpair.carry.contacts import (
    STEPS_A_CONTACT,
    Contacts,
    damper_for,
    damping_ratio_for,
    measured_restitution,
)
from nextpair.carry.pin import BASE_M, Solid, profile_radius_m, solid_pin
from nextpair.domain.ball import Ball, Cover, Layout, Surface
from nextpair.domain.house import House, LaneSurface
from nextpair.domain.lane import board_to_x_m
from nextpair.domain.units import DEGREE_RAD, INCH_M, MPH_MPS, POUND_KG
from nextpair.kernel.layout import bodies_of
from nextpair.physics.constants import GRAVITY_MPS2
from nextpair.physics.dressing import film_of
from reference.flat_patterns import flat_pattern
from reference.kernel_lane import roll_in_kernel, shots
from reference.record import load_entry
from reference.releases import Delivery

SHEET, CARRY = "model_sheet", "carry"


def topple_j(pin: Solid) -> float:
    """Energy that lifts the centre of gravity over the rim of the base."""
    rise_m = math.hypot(BASE_M, pin.centre_m) - pin.centre_m
    return pin.mass_kg * GRAVITY_MPS2 * rise_m


def test_a_pin_is_turned_to_the_published_profile(record):
    entry = load_entry(SHEET, "C20")
    radius_m = profile_radius_m(np.array(entry["height_in"]) * INCH_M)
    assert radius_m == pytest.approx(0.5 * np.array(entry["diameter_in"]) * INCH_M)
    pin = solid_pin(entry["mass_kg"])
    record.published(
        SHEET,
        "C20",
        centre_of_gravity_in=pin.centre_m / INCH_M,
        topple_deg=math.degrees(pin.topple_rad),
        topple_energy_j=topple_j(pin),
    )


def test_a_pin_is_as_hard_to_turn_as_integrated_elsewhere(record):
    entry = load_entry(CARRY, "pin_with_top_arc")
    arc_m, top_m = entry["top_arc_in"] * INCH_M, load_entry(SHEET, "C20")["top_in"] * INCH_M
    assert profile_radius_m(top_m - 0.5 * arc_m) == pytest.approx(arc_m * math.sqrt(0.75))
    pin = solid_pin(entry["mass_kg"])
    record.published(
        CARRY,
        "pin_with_top_arc",
        inertia_across_kgm2=pin.across_kgm2,
        inertia_along_kgm2=pin.along_kgm2,
    )
    record.published(CARRY, "pin_centre_of_gravity", height_in=pin.centre_m / INCH_M)


def test_damping_gives_restitution(record):
    """As a rack damps its contacts, measured by two bodies in the engine at a rack's step."""
    entry, contact_s = load_entry(SHEET, "C21"), Contacts().contact_s
    record.published(
        SHEET,
        "C21",
        damping_ratio=[damping_ratio_for(e) for e in entry["restitution"]],
        measured_at_0_70=measured_restitution(
            damper_for(0.70, contact_s), contact_s / STEPS_A_CONTACT
        ),
    )


def test_a_robots_shots_come_in_as_steeply_as_published(record):
    """Rev rate and axis in the middle of section 6.2's ranges; a usual solid ball; 41 ft, 24 mL.

    What was printed of the shots is lay-down, direction and speed; nothing here is fitted to them.
    """
    entry = load_entry(SHEET, "C26")
    thrown = [
        Delivery(mph * MPH_MPS, right_deg, rev_rate_rpm=400.0, rotation_deg=50.0, tilt_deg=12.5)
        for mph, right_deg in zip(entry["speed_mph"], entry["to_the_right_deg"], strict=True)
    ]
    ball = Ball(
        name="usual",
        mass_kg=15 * POUND_KG,
        rg_m=2.50 * INCH_M,
        differential_m=0.045 * INCH_M,
        intermediate_m=0.0,
        cover=Cover.SOLID,
        surface=Surface(2000),
        layout=Layout(4.5 * INCH_M, 55 * DEGREE_RAD, 40 * DEGREE_RAD),
    )
    paths = roll_in_kernel(
        film_of(flat_pattern(41.0))[None],
        bodies_of([ball], House("robot's", 2, LaneSurface.SYNTHETIC, 9)),
        shots(thrown, [board_to_x_m(board) for board in entry["laydown_board"]]),
    )
    entry_deg = paths.lane_impact.entry_angle_deg
    least, most = entry["published_entry_deg"]
    record.published(
        SHEET,
        "C26",
        mean_entry_deg=entry_deg.mean(),
        beyond_published_range_deg=max(0.0, least - entry_deg.min(), entry_deg.max() - most),
    )
