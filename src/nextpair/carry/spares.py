"""Chance of making a spare: a straight ball at any leave, with the bowler's own scatter.

Single pins follow from geometry alone. For every other leave the disc model gives the chance that
all pins fall over the place where the ball comes in; the best aim weighs that curve with the
scatter. Bowler's frame throughout: offsets positive to the bowler's pocket side.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from nextpair.carry.deck import PIN_X_M, FloatArray
from nextpair.domain.bowler import Scatter
from nextpair.domain.errors import require_within
from nextpair.domain.lane import BOARD_M, BOARDS, HEAD_PIN_M
from nextpair.domain.units import DEGREE_RAD
from nextpair.kernel.roll import CONTACT_M
from nextpair.scoring.leaves import FULL_RACK, standing_pins

EDGE_BOARDS = 0.5 * BOARDS
"""From the lane's centre to its edge: a ball whose centre is beyond rolls in the gutter."""
SPARE_DRIFT_BOARDS = 1.6
"""What lane and speed add to a nearly straight ball at the pins, one standard deviation. With a
tour player's scatter it gives the published 95.9 % of 10 pins. Source: [facts] section 9."""
AIMS_BOARDS = np.arange(-19.5, 19.75, 0.25)


@dataclass(frozen=True, slots=True)
class SpareShot:
    """The best straight ball at a leave."""

    offset_boards: float
    """Aim: ball centre right of the head-pin spot, level with where it would meet that pin."""
    angle_deg: float
    """Angle of the path, positive toward the far side."""
    chance: float


def spare_scatter_boards(scatter: Scatter) -> float:
    """Standard deviation of a straight ball's place at the pins [boards].

    Lay-down and launch angle add over 60 ft, with what lane and speed do on the way.

    Source: [model-sheet] section 6.4 for the split of the scatter; the drift is fitted.
    """
    swing_boards = HEAD_PIN_M * math.tan(scatter.launch_angle_rad) / BOARD_M
    return math.hypot(scatter.laydown_boards, swing_boards, SPARE_DRIFT_BOARDS)


def best_spare_shot(leave: int, sd_boards: float) -> SpareShot:
    """Aim and angle that make a leave most often, with that scatter at the pins.

    Raises InvalidValueError for a leave without pins or a scatter outside 0.05 to 30 boards.
    """
    require_within("leave", leave, 1, FULL_RACK, "a mask of one to ten pins")
    require_within("sd_boards", sd_boards, 0.05, 30, "boards")
    pins = standing_pins(leave)
    if len(pins) == 1:
        return _single_pin_shot(pins[0] - 1, sd_boards)
    angles_deg, chances = _chances_by_aim([leave], sd_boards)
    angle, aim = np.unravel_index(int(np.argmax(chances[0])), chances.shape[1:])
    return SpareShot(
        float(AIMS_BOARDS[aim]), float(angles_deg[angle]), float(chances[0, angle, aim])
    )


def spare_chance(leave: int, sd_boards: float) -> float:
    """Chance of making one leave with the best straight ball at it [1]."""
    return best_spare_shot(leave, sd_boards).chance


def spare_chances(leaves: Sequence[int], sd_boards: float) -> FloatArray:
    """Chance of making each leave (len(leaves),), as `spare_chance`; 1 where nothing stands."""
    require_within("sd_boards", sd_boards, 0.05, 30, "boards")
    standing = [leave for leave in leaves if leave]
    _, by_aim = _chances_by_aim(standing, sd_boards)
    best = dict(zip(standing, by_aim.max(axis=(1, 2)), strict=True))
    singles = {1 << pin: _single_pin_shot(pin, sd_boards).chance for pin in range(len(PIN_X_M))}
    return np.array([{0: 1.0, **best, **singles}[leave] for leave in leaves])


def single_pin_window_boards(pin_index: int) -> tuple[float, float]:
    """Offsets between which a straight ball hits a lone pin and stays on the lane [boards].

    Source: closed form |x - x_pin| < R + r, cut at the lane's edge; [facts] section 5.
    """
    centre_boards = PIN_X_M[pin_index] / BOARD_M
    reach_boards = CONTACT_M / BOARD_M
    lowest = max(centre_boards - reach_boards, -EDGE_BOARDS)
    highest = min(centre_boards + reach_boards, EDGE_BOARDS)
    return float(lowest), float(highest)


def _single_pin_shot(pin_index: int, sd_boards: float) -> SpareShot:
    lowest, highest = single_pin_window_boards(pin_index)
    half_boards = 0.5 * (highest - lowest)
    return SpareShot(
        0.5 * (lowest + highest), 0.0, math.erf(half_boards / (sd_boards * math.sqrt(2.0)))
    )


def _chances_by_aim(leaves: Sequence[int], sd_boards: float) -> tuple[FloatArray, FloatArray]:
    """Angles, and chance (leaves, angles, aims); 0 where no straight ball comes from the lane."""
    shipped = _shipped()
    places_boards, angles_deg = shipped["offsets_boards"], shipped["angles_deg"]
    half_boards = 0.5 * (places_boards[1] - places_boards[0])
    edges_boards = np.append(places_boards - half_boards, places_boards[-1] + half_boards)
    landing = np.diff(ndtr((edges_boards - AIMS_BOARDS[:, np.newaxis]) / sd_boards), axis=1)
    chances = shipped["chances"][list(leaves)] @ landing.T
    swing_boards = HEAD_PIN_M * np.tan(angles_deg * DEGREE_RAD) / BOARD_M
    laydown_boards = AIMS_BOARDS + swing_boards[:, np.newaxis]
    return angles_deg, np.where(np.abs(laydown_boards) <= EDGE_BOARDS, chances, 0.0)


@cache
def _shipped() -> dict[str, NDArray[Any]]:
    with (files("nextpair.carry") / "data" / "spares.npz").open("rb") as stream:
        shipped = dict(np.load(stream))
    shipped["chances"] = shipped["chances"] / 255.0
    return shipped
