"""What a bowler saw of each shot, as arrays in the bowler's own frame; NaN where nobody saw it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.bowler import Hand
from nextpair.domain.shot_log import LoggedShot
from nextpair.domain.sight import SPEED_ERROR_MPH
from nextpair.domain.units import MPH_MPS
from nextpair.kernel.throws import own_board
from nextpair.scoring.leaves import FULL_RACK, mirrored_leave, pin_bit

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

SPEED_ERROR_MPS = SPEED_ERROR_MPH * MPH_MPS
UNSEEN = 1e6
"""Variance of a reading that nobody took."""
NOT_SEEN = -1
"""Leave of a shot of which nobody saw what it left, or that did not go at a full rack."""


@dataclass(frozen=True, slots=True)
class Seen:
    """n shots as they were seen; own boards count from the bowler's side; arrays (n,).

    lane : numbers.
    meant_laydown, meant_target : own boards that were meant, at the foul line and at the arrows.
    laydown, target, breakpoint, entry : own boards that were seen: foul line, arrows,
        closest to the gutter, and level with the head pin.
    speed_mps : at the release.
    leave : mask of pins left of a full rack, as a right-hander's; NOT_SEEN else.
    """

    lane: IntArray
    meant_laydown: FloatArray
    meant_target: FloatArray
    laydown: FloatArray
    target: FloatArray
    breakpoint: FloatArray
    entry: FloatArray
    speed_mps: FloatArray
    leave: IntArray

    def __len__(self) -> int:
        return len(self.lane)


def seen_of(shots: Sequence[LoggedShot], hand: Hand) -> Seen:
    """The shots of a log, in its order, as a bowler of that hand sees them.

    First balls and tries at spares alike tell where a ball went; only what a ball left of a full
    rack tells how it came in.
    """

    def boards(name: str) -> FloatArray:
        found = [getattr(shot, name) for shot in shots]
        return np.array([np.nan if b is None else own_board(b, hand) for b in found], float)

    return Seen(
        lane=np.array([shot.lane for shot in shots], np.int64),
        meant_laydown=boards("meant_laydown_board"),
        meant_target=boards("meant_target_board"),
        laydown=boards("laydown_board"),
        target=boards("target_board"),
        breakpoint=boards("breakpoint_board"),
        entry=boards("entry_board"),
        speed_mps=np.array(
            [np.nan if s.speed_mph is None else s.speed_mph * MPH_MPS for s in shots], float
        ),
        leave=np.array([_leave_of(shot, hand) for shot in shots], np.int64),
    )


def _leave_of(shot: LoggedShot, hand: Hand) -> int:
    """Mask of what a shot left of a full rack."""
    if shot.standing_before is None or shot.standing_after is None:
        return NOT_SEEN
    if _mask(shot.standing_before) != FULL_RACK:
        return NOT_SEEN
    left = _mask(shot.standing_after)
    return left if hand is Hand.RIGHT else mirrored_leave(left)


def _mask(pins: frozenset[int]) -> int:
    return sum(pin_bit(pin) for pin in pins)
