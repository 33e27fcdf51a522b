"""What became of a shot: one status code each, and how it met the pins."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

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
