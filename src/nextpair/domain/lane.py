"""Geometry of a lane and the one mapping between boards and metres.

Lane frame: x to the right, y down the lane, z up; origin on the foul line at the lane's centre.
Boards count 1 to 39 from the right edge for both hands; a position on the lane is a real number
of boards, with board n's centre at n.

Sources: [facts] section 1 (60 ft, 41.5 in, 39 boards, 12 in pin spacing, arrows).
"""

from __future__ import annotations

import math

from nextpair.domain.errors import InvalidValueError
from nextpair.domain.units import FOOT_M, INCH_M

BOARDS = 39
CENTRE_BOARD = 20
LANE_WIDTH_M = 41.5 * INCH_M
BOARD_M = LANE_WIDTH_M / BOARDS
HEAD_PIN_M = 60.0 * FOOT_M
END_PLANE_M = 18.125
"""A ball this far down the lane touches the head pin or passes it."""
PIN_SPACING_M = 12.0 * INCH_M
PIN_ROW_M = PIN_SPACING_M * math.sqrt(3.0) / 2.0
"""Depth from one row of pins to the next."""
PIN_ROWS = ((1,), (2, 3), (4, 5, 6), (7, 8, 9, 10))
"""Pins of each row, head pin first, left to right."""
PIN_RADIUS_M = 2.383 * INCH_M
"""Radius of a pin at its belly, 4.5 in above the deck."""

CELL_M = 0.5 * FOOT_M
"""Length of one film cell down the lane: half a foot."""
CELLS = 120
"""Film cells from the foul line to the head pin."""

ARROWS_M = 15.0 * FOOT_M
"""Nominal distance of the arrows, where targets are named."""
BOARDS_PER_RAD = ARROWS_M / BOARD_M
"""What a small angle of launch moves a straight path at the arrows."""


def board_to_x_m(board: float) -> float:
    """Sideways position of a board, metres to the right of the lane's centre."""
    return (CENTRE_BOARD - board) * BOARD_M


def x_to_board(x_m: float) -> float:
    """Board, counted from the right edge, of a sideways position."""
    return CENTRE_BOARD - x_m / BOARD_M


def mirrored_board(board: float) -> float:
    """The same place seen by the other hand: counted from the other edge."""
    return 2 * CENTRE_BOARD - board


def pin_position_m(pin: int) -> tuple[float, float]:
    """Where a pin stands: metres right of the lane's centre, metres beyond the head pin.

    Source: [facts] section 1: 12 in between neighbours, rows 12 x sqrt(3) / 2 in apart.
    """
    for row, pins in enumerate(PIN_ROWS):
        if pin in pins:
            return (pins.index(pin) - row / 2.0) * PIN_SPACING_M, row * PIN_ROW_M
    raise InvalidValueError("pin", pin, "a pin from 1 to 10")
