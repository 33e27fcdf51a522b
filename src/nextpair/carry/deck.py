"""Where the pins stand and what bounds them.

Deck frame: x to the right of the head-pin spot, y away from the bowler, metres. Pins are indexed
0 to 9 for pins 1 to 10; a leave is a bit mask of standing pins, bit 0 for pin 1.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.lane import LANE_WIDTH_M, pin_position_m
from nextpair.domain.units import INCH_M
from nextpair.scoring.leaves import PINS

FloatArray = NDArray[np.float64]

STRIKE = 0
MIRRORED_PIN = np.array([0, 2, 1, 5, 4, 3, 9, 8, 7, 6])
"""Index of the pin that stands where pin i would stand in a mirror."""

PIN_X_M, PIN_Y_M = np.array([pin_position_m(pin) for pin in range(1, PINS + 1)]).T
"""Pin spots. Source: [facts] section 1, pin triangle."""

DECK_HALF_WIDTH_M = 0.5 * LANE_WIDTH_M
PIT_Y_M = 34.1875 * INCH_M
"""Deck's end behind the head-pin spot. Source: [facts] section 1, 2 ft 10 3/16 in."""
KICKBACK_X_M = DECK_HALF_WIDTH_M + 9.25 * INCH_M
"""Side walls, a gutter of 9 1/4 in beside the lane. Source: [facts] section 1."""
GUTTER_DROP_M = 3.5 * INCH_M
"""Flat gutter beside the pins, below the deck. Source: [facts] section 1, from memory."""
PIT_DEPTH_M = 10.0 * INCH_M
PIT_LENGTH_M = 34.0 * INCH_M
"""Pit floor below the deck, cushion behind it. Source: [rack-study] section 3, assumptions."""
SPOTTING_M = 0.125 * INCH_M
"""Radius of the disc in which the machine sets a pin. Source: [rack-study] section 3."""
