"""What is believed of lanes and bowler before the shots that are read."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.errors import InvalidValueError, require
from nextpair.domain.unknowns import OF_A_LANE, OF_THE_BOWLER, SHARED, Unknown

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Prior:
    """Independent normal beliefs.

    names : of the p unknowns, see domain.unknowns. mean, sd : (p,) in the unit of each name.
    lanes : numbers of the lanes that have something for themselves.
    """

    names: tuple[str, ...]
    mean: FloatArray
    sd: FloatArray
    lanes: tuple[int, ...]

    def __post_init__(self) -> None:
        require(len(set(self.names)) == len(self.names), "names", self.names, "each name once")
        for field in ("mean", "sd"):
            shape = getattr(self, field).shape
            require(shape == (len(self.names),), field, shape, "one number for each name")
        require(bool((self.sd > 0).all()), "sd", float(self.sd.min()), "more than 0")

    def __len__(self) -> int:
        return len(self.names)

    def place(self, name: str) -> int:
        """Place of a name among the p. Raises InvalidValueError for one that is not there."""
        if name not in self.names:
            raise InvalidValueError("name", name, ", ".join(self.names))
        return self.names.index(name)


def usual_prior(
    lanes: Iterable[int], known: Mapping[str, tuple[float, float]] | None = None
) -> Prior:
    """Everything as planned, with the spreads of domain.unknowns.

    lanes : numbers of the lanes that are or will be met. known : mean and deviation of unknowns
    of which more is known, by name: a house's friction from events before. Raises
    InvalidValueError for a name that is none.
    """
    numbers = tuple(dict.fromkeys(lanes))
    everything: dict[str, Unknown] = {one.name: one for one in (*SHARED, *OF_THE_BOWLER)}
    everything |= {one.on(lane): one for lane in numbers for one in OF_A_LANE}
    beliefs = {name: (0.0, unknown.spread) for name, unknown in everything.items()}
    for name, belief in (known or {}).items():
        require(name in beliefs, "known", name, ", ".join(beliefs))
        beliefs[name] = belief
    mean, sd = (np.array(column) for column in zip(*beliefs.values(), strict=True))
    return Prior(tuple(beliefs), mean, sd, numbers)
