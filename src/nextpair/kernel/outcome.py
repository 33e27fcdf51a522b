"""What became of a shot: one status code each, and how it met the pins."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nextpair.domain.entry import CONTACT_BOARDS
from nextpair.domain.units import DEGREE_RAD

FloatArray = NDArray[np.float64]


class Status(IntEnum):
    """How a shot ended. A batch never raises: every shot has one of these."""

    PINS = 0
    GUTTER_OWN_SIDE = 1
    GUTTER_FAR_SIDE = 2
    STOPPED = 3
    BAD_INPUT = 4

    @property
    def words(self) -> str:
        """The status in a few words."""
        return {
            Status.PINS: "rolled to the pins",
            Status.GUTTER_OWN_SIDE: "gutter on the bowler's side",
            Status.GUTTER_FAR_SIDE: "gutter on the far side",
            Status.STOPPED: "stopped on the lane",
            Status.BAD_INPUT: "input out of range",
        }[self]


@dataclass(frozen=True, slots=True)
class Impact:
    """How each of n shots meets the head pin, in the bowler's own frame.

    offset_boards : (n,) ball centre minus head-pin centre at first contact (or at the head-pin
        row if the head pin is missed), positive to the bowler's pocket side [boards].
    entry_angle_deg : (n,) angle of the path to the boards, positive toward the far side [deg].
    speed_mps : (n,) speed [m/s].
    Shots that did not reach the pins hold NaN.
    """

    offset_boards: FloatArray
    entry_angle_deg: FloatArray
    speed_mps: FloatArray


def offset_boards_at(level_boards: ArrayLike, entry_angle_deg: ArrayLike) -> FloatArray:
    """Offsets at first contact of balls that would cross the head pin's row at `level_boards`; of
    a ball that misses the head pin, where it crosses the row. Arrays that broadcast.

    Source: closed form, a straight line and a circle, as domain.entry.offset_boards_of.
    """
    level, angle = np.broadcast_arrays(
        np.asarray(level_boards, float), np.asarray(entry_angle_deg, float)
    )
    slope = np.tan(DEGREE_RAD * angle)
    reach = CONTACT_BOARDS**2 * (1 + slope**2) - level**2
    before = (np.sqrt(np.maximum(reach, 0.0)) - level * slope) / (1 + slope**2)
    return np.where(reach > 0.0, level + slope * before, level)
