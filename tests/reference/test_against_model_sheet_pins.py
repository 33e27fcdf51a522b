"""How balls come to the pins, and pins and contacts themselves: model sheet and MuJoCo."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

import numpy as np
import pytest
from nextpair.carry.discs import roll_into
from numpy.typing import NDArray
from scipy.integrate import simpson
from scipy.interpolate import PchipInterpolator

from nextpair.carry.deck import PIT_Y_M, Bodies, exact_racks
from nextpair.domain.ball import Ball, Cover, Layout, Surface
from nextpair.domain.house import House, LaneSurface
from nextpair.domain.lane import BOARD_M, PIN_RADIUS_M, board_to_x_m
from nextpair.domain.units import DEGREE_RAD, INCH_M, MPH_MPS, POUND_KG
from nextpair.kernel.layout import bodies_of
from nextpair.kernel.roll import CONTACT_M
from nextpair.physics.constants import GRAVITY_MPS2
from nextpair.physics.dressing import film_of
from reference.flat_patterns import flat_pattern
from reference.kernel_lane import roll_in_kernel, shots
from reference.pin_contact import contact_in_mujoco, damping_ratio_for
from reference.record import load_entry
from reference.releases import Delivery

SHEET, CARRY = "model_sheet", "carry"
Array = NDArray[np.float64]


class Pin(NamedTuple):
    """A solid of revolution of uniform density, SI; `across` and `along`: moments of inertia."""

    mass_kg: float
    centre_m: float
    across: float
    along: float
    base_m: float

    @property
    def topple_rad(self) -> float:
        """Tilt at which the centre stands over the rim of the base."""
        return math.atan2(self.base_m, self.centre_m)

    @property
    def topple_j(self) -> float:
        """Energy that lifts the centre over the rim."""
        rise_m = math.hypot(self.base_m, self.centre_m) - self.centre_m
        return self.mass_kg * GRAVITY_MPS2 * rise_m


def pin_by_profile(mass_kg: float, dome_in: Callable[[Array], Array]) -> Pin:
    """C20's profile turned round its axis; `dome_in` is the radius above the last height."""
    entry = load_entry(SHEET, "C20")
    heights, radii = np.array(entry["height_in"]), 0.5 * np.array(entry["diameter_in"])
    z_in = np.linspace(0.0, entry["top_in"], 6001)
    body_in = PchipInterpolator(heights, radii)(np.minimum(z_in, heights[-1]))
    r = INCH_M * np.where(z_in > heights[-1], dome_in(z_in), body_in)
    z = INCH_M * z_in
    slices = mass_kg * r**2 / simpson(r**2, x=z)
    centre_m = simpson(slices * z, x=z) / mass_kg
    return Pin(
        mass_kg,
        centre_m,
        across=simpson(slices * (r**2 / 4 + (z - centre_m) ** 2), x=z),
        along=simpson(slices * r**2 / 2, x=z),
        base_m=float(r[0]),
    )


def sheet_pin() -> Pin:
    """The sheet's pin: half an ellipsoid from the last height to the top."""
    entry = load_entry(SHEET, "C20")
    last, top, radius = entry["height_in"][-1], entry["top_in"], 0.5 * entry["diameter_in"][-1]
    return pin_by_profile(
        entry["mass_kg"],
        lambda z: radius * np.sqrt(np.clip(1 - ((z - last) / (top - last)) ** 2, 0, 1)),
    )


def rule_pin() -> Pin:
    """A pin with the top arc of the rule."""
    entry, top = load_entry(CARRY, "pin_with_top_arc"), load_entry(SHEET, "C20")["top_in"]
    arc = entry["top_arc_in"]
    return pin_by_profile(
        entry["mass_kg"],
        lambda z: np.sqrt(np.clip(arc**2 - np.maximum(z - (top - arc), 0) ** 2, 0, None)),
    )


def test_a_pin_of_the_published_profile(record):
    pin = sheet_pin()
    record.published(
        SHEET,
        "C20",
        centre_of_gravity_in=pin.centre_m / INCH_M,
        inertia_across_kgm2=pin.across,
        inertia_along_kgm2=pin.along,
        topple_deg=math.degrees(pin.topple_rad),
        topple_energy_j=pin.topple_j,
    )


def test_a_pin_with_the_top_arc_of_the_rule(record):
    pin = rule_pin()
    record.published(
        CARRY,
        "pin_with_top_arc",
        inertia_across_kgm2=pin.across,
        inertia_along_kgm2=pin.along,
    )
    for drawn in (pin, sheet_pin()):
        record.published(CARRY, "pin_centre_of_gravity", height_in=drawn.centre_m / INCH_M)


def test_the_pins_of_the_program_are_those_of_the_profile(record):
    pin, bodies = sheet_pin(), Bodies()
    for quantity, expected, achieved, tolerance in (
        ("radius of the belly, in", 4.766 / 2, PIN_RADIUS_M / INCH_M, 1e-3),
        (
            "inertia along the axis over mass and belly radius squared",
            pin.along / (pin.mass_kg * PIN_RADIUS_M**2),
            bodies.pin_inertia,
            0.005,
        ),
        (
            "kick from which a pin falls, m/s",
            math.sqrt(2 * pin.topple_j / bodies.pin_kg),
            bodies.topple_mps,
            0.005,
        ),
    ):
        record.closed_form(
            "pins of the plane model against the published profile, integrated",
            quantity,
            expected=expected,
            achieved=achieved,
            tolerance=tolerance,
            source="[model-sheet] section 5.1",
        )


def test_damping_gives_restitution(record):
    """Measured over several phases of the step at which the bodies touch."""
    entry = load_entry(SHEET, "C21")
    rebounds = [
        -contact_in_mujoco(
            restitution=0.70,
            ball_kg=1.0,
            pin_kg=1e9,
            velocity_mps=(0.0, 2.0),
            offset_m=0.0,
            gap_m=0.005 + 2e-5 * phase,
            stiffness_ps2=1e6,
            step_s=5e-5,
        ).ball_mps[1]
        / 2.0
        for phase in range(5)
    ]
    record.published(
        SHEET,
        "C21",
        damping_ratio=[damping_ratio_for(e) for e in entry["restitution"]],
        measured_at_0_70=np.mean(rebounds),
    )


@pytest.mark.parametrize("entry_deg", [0.0, 4.0, 6.0])
def test_the_head_pin_turns_the_ball_as_in_a_rigid_body_engine(record, entry_deg):
    """The ball after the head pin alone: its heading, in the plane model and in the engine."""
    bodies = Bodies(ball_grip=0.0, ball_friction=0.0)
    speed_mps, offsets = 7.6, np.array([0.5, 1.5, 2.5, 3.5, 4.5])
    count = len(offsets)
    exits_m = roll_into(
        exact_racks(count, bodies),
        offsets,
        np.full(count, entry_deg),
        np.full(count, speed_mps),
        bodies,
        pins=1,
        ball_only=True,
    ).exit_x_m
    angle_rad = entry_deg * DEGREE_RAD
    errors = []
    for offset_m, exit_m in zip(offsets * BOARD_M, exits_m, strict=True):
        ball_mps = contact_in_mujoco(
            restitution=bodies.ball_restitution,
            ball_kg=bodies.ball_kg,
            pin_kg=bodies.pin_kg,
            velocity_mps=(-speed_mps * math.sin(angle_rad), speed_mps * math.cos(angle_rad)),
            offset_m=float(offset_m),
        ).ball_mps
        way_m = PIT_Y_M + math.sqrt(CONTACT_M**2 - offset_m**2)
        heading = math.atan2(offset_m - exit_m, way_m)
        errors.append(math.degrees(heading - math.atan2(-ball_mps[0], ball_mps[1])))
    record.agreement(
        "MuJoCo",
        f"plane model, ball after the head pin at 0.5 to 4.5 boards and {entry_deg:g} degrees",
        "largest error of heading, degrees",
        error=float(np.abs(errors).max()),
        tolerance=0.25,
        source="[todorov-2012] version 4.0, settings in tests/reference/pin_contact.py",
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
