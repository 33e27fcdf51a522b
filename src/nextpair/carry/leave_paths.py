"""How straight paths pass the pins of a leave: where, and whether they touch one.

The first two functions are those of domain.entry, for arrays. A right-hander's frame. Angles are
positive toward the left. Offsets are those of carry.rolls and of the kernel's impacts: at first
contact with a head pin, whether one stands there or not.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nextpair.carry.deck import DECK_HALF_WIDTH_M, PIN_X_M, PIN_Y_M, FloatArray
from nextpair.domain.ball import CONTACT_M
from nextpair.domain.lane import BOARD_M
from nextpair.domain.units import DEGREE_RAD
from nextpair.scoring.leaves import standing_pins


def level_boards(offset_boards: ArrayLike, angle_deg: ArrayLike) -> FloatArray:
    """Where a path crosses the head pin's row, right of the lane's middle [boards].

    Source: closed form, the line through the ball's centre at first contact.
    """
    offset_m = np.asarray(offset_boards, float) * BOARD_M
    before_m = np.sqrt(np.maximum(CONTACT_M**2 - offset_m**2, 0.0))
    slope = np.tan(np.asarray(angle_deg, float) * DEGREE_RAD)
    return np.asarray((offset_m - before_m * slope) / BOARD_M)


def offset_at(level: ArrayLike, angle_deg: ArrayLike) -> FloatArray:
    """Offset of a path that crosses the head pin's row so far right of the middle [boards].

    Source: closed form, a line and the circle on which the ball's centre touches the head pin.
    """
    level_m, slope = np.broadcast_arrays(
        np.asarray(level, float) * BOARD_M, np.tan(np.asarray(angle_deg, float) * DEGREE_RAD)
    )
    steep = 1.0 + slope**2
    before_m = np.sqrt(np.maximum(CONTACT_M**2 - level_m**2 / steep, 0.0) / steep)
    y_m = np.where(level_m**2 / steep < CONTACT_M**2, level_m * slope / steep - before_m, 0.0)
    return np.asarray((level_m - slope * y_m) / BOARD_M)


def front_m(leave: int) -> tuple[float, float]:
    """Middle of the pins of a leave that stand nearest the bowler: right of the middle, and beyond
    the head pin [m]."""
    pins = np.array(standing_pins(leave)) - 1
    front = pins[PIN_Y_M[pins] == PIN_Y_M[pins].min()]
    return float(PIN_X_M[front].mean()), float(PIN_Y_M[front[0]])


def place_boards(leave: int, offset_boards: ArrayLike, angle_deg: ArrayLike) -> FloatArray:
    """How far right of the front of a leave a path passes, across the path [boards].

    Source: closed form, distance of a point from a line.
    """
    x_m, y_m = front_m(leave)
    level_m = level_boards(offset_boards, angle_deg) * BOARD_M
    return _across_m(x_m, y_m, level_m, angle_deg) / BOARD_M


def offset_of_place(leave: int, place: ArrayLike, angle_deg: ArrayLike) -> FloatArray:
    """Offset of a path that passes the front of a leave `place` boards to its right [boards].

    Source: closed form, `place_boards` solved for the offset.
    """
    x_m, y_m = front_m(leave)
    angle = np.asarray(angle_deg, float) * DEGREE_RAD
    across_m = np.asarray(place, float) * BOARD_M
    level_m = x_m + (across_m + y_m * np.sin(angle)) / np.cos(angle)
    return offset_at(level_m / BOARD_M, angle_deg)


def touches(leave: int, offset_boards: ArrayLike, angle_deg: ArrayLike) -> NDArray[np.bool_]:
    """Whether a ball touches any pin of a leave before it is off the lane; False for NaN.

    Source: closed form: closer than the two radii across the path, and the ball's centre over the
    lane both level with the head pin and where they touch.
    """
    angle = np.asarray(angle_deg, float) * DEGREE_RAD
    level_m = level_boards(offset_boards, angle_deg) * BOARD_M
    hit = np.zeros(np.broadcast_shapes(level_m.shape, angle.shape), bool)
    for pin in standing_pins(leave):
        x_m, y_m = PIN_X_M[pin - 1], PIN_Y_M[pin - 1]
        across_m = _across_m(x_m, y_m, level_m, angle_deg)
        before_m = np.sqrt(np.maximum(CONTACT_M**2 - across_m**2, 0.0))
        centre_m = x_m + across_m * np.cos(angle) + before_m * np.sin(angle)
        hit |= (np.abs(across_m) < CONTACT_M) & (np.abs(centre_m) <= DECK_HALF_WIDTH_M)
    return hit & (np.abs(level_m) <= DECK_HALF_WIDTH_M)


def _across_m(x_m: float, y_m: float, level_m: FloatArray, angle_deg: ArrayLike) -> FloatArray:
    """How far right of a point a path passes, across the path [m]."""
    angle = np.asarray(angle_deg, float) * DEGREE_RAD
    return np.asarray((level_m - x_m) * np.cos(angle) - y_m * np.sin(angle))
