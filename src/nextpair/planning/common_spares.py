"""Spare chances of somebody else, or of another ball: at the leaves that are left most."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nextpair.carry.table import CarryTable
from nextpair.domain.event import Event
from nextpair.planning.spare_shots import spare_chances
from nextpair.planning.trial import Trial

FloatArray = NDArray[np.float64]

COMMON_LEAVES = 24
"""Leaves at which another ball or bowler is tried: those left most, nine in ten and more of all.
At the others they are taken to make as many."""


def leaves_left(trials: tuple[tuple[Trial, Trial], ...]) -> FloatArray:
    """Chance of every leave (leaves,), strikes among them, over all trials."""
    return np.asarray(
        np.mean([trial.leaves_by_draw.mean(axis=0) for pair in trials for trial in pair], axis=0)
    )


def common_spares(
    event: Event, table: CarryTable, left: FloatArray, spares: FloatArray, seed: int
) -> FloatArray:
    """Chance of making each of the table's leaves (leaves,): by the event's bowler and ball where
    much is left, as in `spares` elsewhere."""
    common = np.argsort(-left, kind="stable")[: COMMON_LEAVES + 1]
    found = spares.copy()
    found[common] = spare_chances(event, [table.leaves[place] for place in common], seed)
    return found
