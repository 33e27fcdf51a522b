"""The scene of a rack for the engine: lane end, gutters, kickbacks, pit, ball and ten pins.

Deck frame as in carry/deck.py, z up from the deck. Masks: pins and ball meet each other in one
bit and what stands still in another, so that a pin nobody has touched can be spared the deck.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from nextpair.carry.contacts import IMPEDANCE, STEPS_A_CONTACT, Contacts, Damper, damper_for
from nextpair.carry.deck import (
    DECK_HALF_WIDTH_M,
    GUTTER_DROP_M,
    KICKBACK_X_M,
    PIN_X_M,
    PIN_Y_M,
    PIT_DEPTH_M,
    PIT_LENGTH_M,
    PIT_Y_M,
)
from nextpair.carry.pin import BASE_M, PARTS, Part, solid_pin
from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.units import INCH_M, POUND_KG

MEETS_BODIES, MEETS_HOUSE = 1, 2
LANE_END_M = 0.8
"""How much of the lane before the head pin is modelled."""
BELOW_M = 0.3
BALL_RG_M = 2.5 * INCH_M
"""Source: [rack-study] section 3; [facts] section 3 allows 2.46 to 2.80 in."""
FOOT_RADIUS_M = 0.05 * INCH_M
FEET = 12
FEET_CIRCLE_M = BASE_M * (math.pi / FEET) / math.sin(math.pi / FEET)
"""A pin stands on a ring of small spheres, whose polygon's corners lie on average over all
directions as far out as the rim of the base. Source: closed form."""


def rack_scene(contacts: Contacts) -> str:
    """The scene as the engine's own description, ten pins on their spots."""
    e = {
        name: damper_for(value, contacts.contact_s)
        for name, value in contacts._asdict().items()
        if name.endswith("restitution")
    }
    house = _house(contacts, e)
    pins = "".join(_pin(n, contacts.pin_pin_friction, e["pin_pin_restitution"]) for n in range(10))
    rolling = contacts.ball_deck_friction
    return f"""
    <mujoco>
      <option timestep="{contacts.contact_s / STEPS_A_CONTACT}" integrator="implicitfast"
        cone="elliptic" solver="Newton" iterations="50" tolerance="1e-8"
        ccd_iterations="50" ccd_tolerance="1e-6"/>
      <default><geom condim="3" solimp="{IMPEDANCE}"/></default>
      <worldbody>{house}{_ball(contacts, e["ball_pin_restitution"])}{pins}</worldbody>
      <contact>
        <pair geom1="ball" geom2="deck" condim="3" friction="{rolling} {rolling} 0 0 0"
          solimp="{IMPEDANCE}" solref="{e["ball_deck_restitution"].solref}"
          solreffriction="0 {-friction_rate_ps(contacts)}"/>
      </contact>
    </mujoco>"""


def friction_rate_ps(contacts: Contacts) -> float:
    """How fast friction takes slip away while it is below its limit [1/s].

    Source: [rack-study] section 2: 1000 with a contact of 2 ms.
    """
    return 2.0 / contacts.contact_s


def _house(contacts: Contacts, e: dict[str, Damper]) -> str:
    half, wall, end = DECK_HALF_WIDTH_M, KICKBACK_X_M, PIT_Y_M + PIT_LENGTH_M
    deck = (e["deck_restitution"], contacts.deck_friction, 2)
    side = (e["kickback_restitution"], contacts.kickback_friction, 3)
    pit = (e["pit_restitution"], contacts.pit_friction, 4)
    return "".join(
        [
            _slab("deck", -half, half, 0.0, *deck),
            _slab("left gutter", -wall, -half, -GUTTER_DROP_M, *deck),
            _slab("right gutter", half, wall, -GUTTER_DROP_M, *deck),
            _plane("left kickback", (-wall, 0.0, 0.0), (1, 0, 0), *side),
            _plane("right kickback", (wall, 0.0, 0.0), (-1, 0, 0), *side),
            _plane("pit", (0.0, 0.0, -PIT_DEPTH_M), (0, 0, 1), *pit),
            _plane("cushion", (0.0, end, 0.0), (0, -1, 0), *pit),
        ]
    )


def _surface(damper: Damper, friction: float, priority: int) -> str:
    return (
        f'solref="{damper.solref}" friction="{friction} 0 0" priority="{priority}" '
        f'contype="0" conaffinity="{MEETS_HOUSE}"'
    )


def _slab(
    name: str, left_m: float, right_m: float, top_m: float, *surface: *tuple[Damper, float, int]
) -> str:
    """A floor from the lane's end to the pit."""
    middle = (0.5 * (left_m + right_m), 0.5 * (PIT_Y_M - LANE_END_M), 0.5 * (top_m - BELOW_M))
    half = (
        0.5 * (right_m - left_m),
        0.5 * (PIT_Y_M + LANE_END_M),
        0.5 * (top_m + BELOW_M),
    )
    return (
        f'<geom name="{name}" type="box" pos="{_numbers(middle)}" size="{_numbers(half)}" '
        f"{_surface(*surface)}/>"
    )


def _plane(
    name: str,
    through_m: tuple[float, float, float],
    facing: tuple[int, int, int],
    *surface: *tuple[Damper, float, int],
) -> str:
    return (
        f'<geom name="{name}" type="plane" pos="{_numbers(through_m)}" '
        f'zaxis="{_numbers(facing)}" size="1 1 1" {_surface(*surface)}/>'
    )


def _ball(contacts: Contacts, damper: Damper) -> str:
    ball_kg = 15.0 * POUND_KG
    inertia = ball_kg * BALL_RG_M**2
    return f"""
    <body name="ball" pos="0 {-0.5 * LANE_END_M} {BALL_RADIUS_M}" gravcomp="1">
      <freejoint/><inertial pos="0 0 0" mass="{ball_kg}"
        diaginertia="{inertia} {inertia} {inertia}"/>
      <geom name="ball" type="sphere" size="{BALL_RADIUS_M}" solref="{damper.solref}"
        friction="{contacts.ball_pin_friction} 0 0" priority="1"
        contype="{MEETS_BODIES | MEETS_HOUSE}" conaffinity="{MEETS_BODIES}"/>
    </body>"""


def _pin(index: int, friction: float, damper: Damper) -> str:
    pin = solid_pin()
    surface = f'solref="{damper.solref}" friction="{friction} 0 0"'
    parts = "".join(_part(part, pin.centre_m, surface) for part in PARTS)
    feet = "".join(_foot(2.0 * math.pi * n / FEET, pin.centre_m, surface) for n in range(FEET))
    return f"""
    <body name="pin {index + 1}" gravcomp="1"
      pos="{PIN_X_M[index]} {PIN_Y_M[index]} {pin.centre_m}">
      <freejoint/><inertial pos="0 0 0" mass="{pin.mass_kg}"
        diaginertia="{pin.across_kgm2} {pin.across_kgm2} {pin.along_kgm2}"/>
      {parts}{feet}
    </body>"""


def _part(part: Part, centre_m: float, surface: str) -> str:
    radii = (part.radius_m,) * (2 if part.shape == "ellipsoid" else 1)
    size = (*radii, part.half_height_m)
    return (
        f'<geom type="{part.shape}" pos="0 0 {part.height_m - centre_m}" size="{_numbers(size)}" '
        f'{surface} contype="{MEETS_BODIES | MEETS_HOUSE}" conaffinity="{MEETS_BODIES}"/>'
    )


def _foot(turn_rad: float, centre_m: float, surface: str) -> str:
    place = (
        FEET_CIRCLE_M * math.cos(turn_rad),
        FEET_CIRCLE_M * math.sin(turn_rad),
        FOOT_RADIUS_M - centre_m,
    )
    return (
        f'<geom type="sphere" pos="{_numbers(place)}" size="{FOOT_RADIUS_M}" '
        f'{surface} contype="{MEETS_HOUSE}" conaffinity="0"/>'
    )


def _numbers(values: Iterable[float]) -> str:
    return " ".join(f"{value:.12g}" for value in values)
