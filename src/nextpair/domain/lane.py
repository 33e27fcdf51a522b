"""Geometry of a lane and the one mapping between boards and metres.

Lane frame: x to the right, y down the lane, z up; origin on the foul line at the lane's centre.
Boards count 1 to 39 from the right edge for both hands; a position on the lane is a real number
of boards, with board n's centre at n.

Sources: [facts] section 1 (60 ft, 41.5 in, 39 boards, 12 in pin spacing, arrows).
"""

from __future__ import annotations

from nextpair.domain.units import FOOT_M, INCH_M

BOARDS = 39
CENTRE_BOARD = 20
LANE_WIDTH_M = 41.5 * INCH_M
BOARD_M = LANE_WIDTH_M / BOARDS
HEAD_PIN_M = 60.0 * FOOT_M
PIN_SPACING_M = 12.0 * INCH_M
PIN_RADIUS_M = 2.383 * INCH_M
"""Radius of a pin at its belly, 4.5 in above the deck."""

CELL_M = 0.5 * FOOT_M
"""Length of one film cell down the lane: half a foot."""
CELLS = 120
"""Film cells from the foul line to the head pin."""

ARROWS_M = 15.0 * FOOT_M
"""Nominal distance of the arrows, where targets are named."""


def board_to_x_m(board: float) -> float:
    """Sideways position of a board, metres to the right of the lane's centre."""
    return (CENTRE_BOARD - board) * BOARD_M


def x_to_board(x_m: float) -> float:
    """Board, counted from the right edge, of a sideways position."""
    return CENTRE_BOARD - x_m / BOARD_M


def mirrored_board(board: float) -> float:
    """The same place seen by the other hand: counted from the other edge."""
    return 2 * CENTRE_BOARD - board
