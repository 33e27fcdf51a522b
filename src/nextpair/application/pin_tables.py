"""What impacts are worth and what they leave, in tables small enough for a phone."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nextpair.carry.smoother import stand_ins
from nextpair.carry.table import CarryTable
from nextpair.domain.lane_tables import HUNDREDTHS, LeaveMap, PinMap, Places
from nextpair.planning.aim import ANGLES as VALUE_ANGLES_DEG
from nextpair.planning.aim import OFFSETS as VALUE_OFFSETS
from nextpair.planning.aim import PinValue
from nextpair.scoring.leaves import FULL_RACK

FloatArray = NDArray[np.float64]

PIN_OFFSETS: FloatArray = np.arange(-16.0, 16.01, 0.25)
PIN_ANGLES_DEG: FloatArray = np.arange(-1.0, 9.01, 1.0)
TENTHS = 10
LEAVE_OFFSETS: FloatArray = np.arange(-15.0, 15.01, 0.5)
LEAVE_ANGLES_DEG: FloatArray = np.arange(1.0, 8.01, 1.5)
LEAST_MOST = 0.02
"""A leave is kept if it comes at some impact at least so often, and what a missed rack leaves; of
the rest each counts as the kept one most like it."""
THOUSANDTHS = 1000


def pin_map(pins: PinValue) -> PinMap:
    """What a game of each impact is worth."""
    sharp = pins.value[0]
    offsets = np.searchsorted(VALUE_OFFSETS, PIN_OFFSETS - 1e-9)
    angles = np.searchsorted(VALUE_ANGLES_DEG, PIN_ANGLES_DEG - 1e-9)
    worth = np.rint(TENTHS * sharp[np.ix_(offsets, angles)]).astype(int)
    return PinMap(
        offsets=_places(PIN_OFFSETS),
        angles=_places(PIN_ANGLES_DEG),
        worth=tuple(worth.ravel().tolist()),
        lost=round(TENTHS * pins.gutter),
    )


def leave_map(table: CarryTable, speed_mps: float) -> LeaveMap:
    """Chances of the commoner leaves by where and how a ball of one speed comes in."""
    offset, angle = np.meshgrid(LEAVE_OFFSETS, LEAVE_ANGLES_DEG, indexing="ij")
    chances = table.leave_probability(offset, angle, speed_mps)
    masks = np.array(table.leaves)
    kept = masks[(chances.max(axis=(0, 1)) >= LEAST_MOST) | (masks == FULL_RACK)]
    counts_as = stand_ins(kept)[masks]
    counted = chances @ (counts_as[:, None] == np.arange(len(kept))).astype(float)
    return LeaveMap(
        offsets=_places(LEAVE_OFFSETS),
        angles=_places(LEAVE_ANGLES_DEG),
        masks=tuple(kept.tolist()),
        chances=tuple(np.rint(THOUSANDTHS * counted).astype(int).ravel().tolist()),
    )


def _places(places: FloatArray) -> Places:
    first, second = (round(HUNDREDTHS * float(place)) for place in places[:2])
    return Places(first, second - first, len(places))
