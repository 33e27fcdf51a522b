"""Where the pins stand, what bounds them, how heavy and wide the bodies are, how racks vary.

Deck frame: x to the right of the head-pin spot, y away from the bowler, metres. Pins are indexed
0 to 9 for pins 1 to 10; a leave is a bit mask of standing pins, bit 0 for pin 1.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.lane import LANE_WIDTH_M, PIN_SPACING_M
from nextpair.domain.units import INCH_M, POUND_KG
from nextpair.scoring.leaves import PINS

FloatArray = NDArray[np.float64]

STRIKE = 0
MIRRORED_PIN = np.array([0, 2, 1, 5, 4, 3, 9, 8, 7, 6])
"""Index of the pin that stands where pin i would stand in a mirror."""

ROW_DEPTH_M = PIN_SPACING_M * math.sqrt(3.0) / 2.0
_PLACES = ((0, 0), (-1, 1), (1, 1), (-2, 2), (0, 2), (2, 2), (-3, 3), (-1, 3), (1, 3), (3, 3))
PIN_X_M = np.array([0.5 * across * PIN_SPACING_M for across, _ in _PLACES])
PIN_Y_M = np.array([row * ROW_DEPTH_M for _, row in _PLACES])
"""Pin spots. Source: [facts] section 1, pin triangle."""

PIN_LENGTH_M = 15.0 * INCH_M
DECK_HALF_WIDTH_M = 0.5 * LANE_WIDTH_M
PIT_Y_M = 34.1875 * INCH_M
"""Deck's end behind the head-pin spot. Source: [facts] section 1, 2 ft 10 3/16 in."""
KICKBACK_X_M = DECK_HALF_WIDTH_M + 9.25 * INCH_M
"""Side walls, a gutter of 9 1/4 in beside the lane. Source: [facts] section 1."""


class Bodies(NamedTuple):
    """Masses, restitutions, frictions and the two fitted numbers of the plane model, SI."""

    ball_kg: float = 15.0 * POUND_KG
    pin_kg: float = 1.45
    """Effective mass of a pin at the belly. Source: [model-sheet] section 5.3."""
    ball_inertia: float = 0.34
    """Moment of inertia over mass and radius squared. Source: [model-sheet] section 8."""
    ball_restitution: float = 0.70
    """Ball on pin. Source: [model-sheet] section 5.2."""
    pin_restitution: float = 0.60
    """Pin on pin. Source: [model-sheet] section 5.2, assumption."""
    ball_grip: float = 0.15
    """Friction of ball on pin. Source: [model-sheet] section 5.2, assumption."""
    pin_inertia: float = 0.34
    """Of a pin about its axis, over mass and belly radius squared. Source: [model-sheet] section
    5.1, radius of gyration 1.39 in."""
    wall_restitution: float = 0.60
    """Pin on kickback. Fitted, docs/adr/0005; [rack-study] section 3 took 0.55."""
    pin_friction: float = 0.30
    """Fallen pin on deck. Source: [rack-study] section 3, assumption."""
    ball_friction: float = 0.20
    """Ball on pin deck. Source: [rack-study] section 3, assumption."""
    topple_mps: float = 0.22
    """Kick from which a pin falls: sqrt(2 x 0.035 J / 1.45 kg), [model-sheet] section 5.1."""
    half_length_m: float = 0.5 * PIN_LENGTH_M
    """What a pin lying across its way reaches to either side."""
    fall_path_m: float = 1.25
    """Way over which a struck pin comes to lie as it will. Fitted, docs/adr/0005."""
    gutter_s: float = 0.111
    """Beyond the edge for longer, a lying pin has sunk its own radius below the deck and stays
    down: sqrt(2 x 2.383 in / g)."""


class Racks(NamedTuple):
    """What differs from rack to rack; n racks of ten pins, all arrays (n, 10)."""

    x_m: FloatArray
    y_m: FloatArray
    ball_restitution: FloatArray
    pin_restitution: FloatArray
    turn: FloatArray
    """Share of its half length that each pin will lie across its way, 0 to 1."""


SPOTTING_M = 0.125 * INCH_M
"""Radius of the disc in which the machine sets a pin. Source: [rack-study] section 3."""
BALL_RESTITUTION_SD = 0.03
PIN_RESTITUTION_SD = 0.06
"""Contact to contact. Source: [rack-study] section 3, measured in a rigid-body engine."""


def exact_racks(count: int, bodies: Bodies) -> Racks:
    """Racks on their spots with nominal restitution, pins lying at the mean turn (2/pi)."""
    shape = (count, PINS)
    return Racks(
        np.broadcast_to(PIN_X_M, shape).copy(),
        np.broadcast_to(PIN_Y_M, shape).copy(),
        np.full(shape, bodies.ball_restitution),
        np.full(shape, bodies.pin_restitution),
        np.full(shape, 2.0 / math.pi),
    )


def spotted_racks(rng: np.random.Generator, count: int, bodies: Bodies) -> Racks:
    """Racks as a machine sets them: off spot, restitution and lie of every pin drawn.

    A pin lies at an angle drawn evenly from 0 to 90 degrees to its way, so `turn` is the sine.
    """
    shape = (count, PINS)
    off_spot_m = SPOTTING_M * np.sqrt(rng.random(shape))
    toward = 2.0 * math.pi * rng.random(shape)
    return Racks(
        PIN_X_M + off_spot_m * np.cos(toward),
        PIN_Y_M + off_spot_m * np.sin(toward),
        rng.normal(bodies.ball_restitution, BALL_RESTITUTION_SD, shape),
        rng.normal(bodies.pin_restitution, PIN_RESTITUTION_SD, shape),
        np.sin(0.5 * math.pi * rng.random(shape)),
    )


def mirrored_racks(racks: Racks) -> Racks:
    """The same racks seen in a mirror along the lane's centre line."""
    swapped = [np.ascontiguousarray(values[:, MIRRORED_PIN]) for values in racks]
    return Racks(-swapped[0], *swapped[1:])
