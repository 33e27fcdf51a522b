"""Spares of an event against one's own chances at the leaves that were shot at."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from nextpair.application.luck import SpareChance
from nextpair.application.met_racks import MetRack
from nextpair.domain.debrief import SpareTold
from nextpair.scoring.leaves import LeaveKind

FloatArray = NDArray[np.float64]

ALL = "all"


def spares_told(racks: Iterable[MetRack], chance: SpareChance) -> tuple[SpareTold, ...]:
    """All spares together, then by kind of leave; kinds that nobody shot at have no row."""
    tried = [rack for rack in racks if rack.second is not None and rack.leave]
    return tuple(_rows(tried, chance))


def _rows(tried: Sequence[MetRack], chance: SpareChance) -> Iterator[SpareTold]:
    if not tried:
        return
    yield _row(ALL, tried, chance)
    for kind in LeaveKind:
        of_kind = [rack for rack in tried if rack.kind is kind]
        if of_kind:
            yield _row(kind.value, of_kind, chance)


def _row(kind: str, tried: Sequence[MetRack], chance: SpareChance) -> SpareTold:
    made = sum(rack.is_spare for rack in tried)
    chances = [chance(rack.leave or 0) for rack in tried]
    return SpareTold(
        kind=kind,
        made=made,
        tried=len(tried),
        expected_made=sum(chances),
        so_few_probability=float(made_probability(chances)[: made + 1].sum()),
    )


def made_probability(chances: Sequence[float]) -> FloatArray:
    """Probability (n + 1,) of making none to all of n spares with these chances.

    Source: closed form, Poisson-binomial distribution by convolution.
    """
    found = np.ones(1)
    for chance in chances:
        found = np.convolve(found, [1.0 - chance, chance])
    return found
