"""Room: how far a line may be moved before a game loses a twentieth of its score."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

ROOM_LOSS = 0.05
"""Share of the expected score at whose loss a line's room ends."""


def least_pins(meant_pins: float) -> float:
    """What a line must still be worth to lie in the room of one that is worth so much.

    Weights made for a usual game can fall below zero where hardly a pin is hit.
    """
    return meant_pins - ROOM_LOSS * abs(meant_pins)


def lines_of_room(value: FloatArray, cell: tuple[int, int]) -> tuple[int, int]:
    """How many steps of lay-down and of angle lie in the room about a cell of some values (l, f),
    each with the other one kept."""
    row, column = cell
    enough = value >= least_pins(float(value[cell]))
    return _run(enough[:, column], row), _run(enough[row], column)


def _run(enough: NDArray[np.bool_], place: int) -> int:
    """Steps in the run of what is enough about a place."""
    gaps = np.flatnonzero(~enough)
    after = np.searchsorted(gaps, place)
    low = gaps[after - 1] if after > 0 else -1
    high = gaps[after] if after < len(gaps) else len(enough)
    return int(high - low - 2)
