"""What the reader is told of the lanes and the bowler: the plan that shots are read against."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from nextpair.carry.table import CarryTable
from nextpair.domain.bowler import Release, Scatter
from nextpair.domain.errors import require
from nextpair.domain.lane import BOARDS, CELLS
from nextpair.kernel.layout import Bodies
from nextpair.kernel.throws import LaneKind

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class LaneStory:
    """The lanes as planned, at the time of each of n shots, in the bowler's own frame.

    lane : (n,) number of each shot's lane. kinds : what each lane is besides its film.
    fresh : (n, 120, 39) film as laid of each shot's lane [um].
    worn : (n, 120, 39) film as planned at the time of each shot [um].
    bodies : the balls with their surfaces, and body (n,): which of them each shot was thrown with.
    releases : (n) what was meant of each shot: a change of speed or of the hand, a ball thrown
        flat at a spare.
    scatter : the bowler's own.
    table : carry for the bowler's balls and the house's pins.
    """

    lane: IntArray
    kinds: Mapping[int, LaneKind]
    fresh: FloatArray
    worn: FloatArray
    bodies: Bodies
    body: IntArray
    releases: tuple[Release, ...]
    scatter: Scatter
    table: CarryTable

    def __post_init__(self) -> None:
        shots = len(self.releases)
        for name in ("fresh", "worn"):
            shape = getattr(self, name).shape
            require(shape == (shots, CELLS, BOARDS), name, shape, f"({shots}, {CELLS}, {BOARDS})")
        for name in ("body", "lane"):
            shape = getattr(self, name).shape
            require(shape == (shots,), name, shape, f"({shots},)")

    def __len__(self) -> int:
        return len(self.releases)

    def kind_of(self, shot: int) -> LaneKind:
        """The lane of one shot, besides its film."""
        return self.kinds[int(self.lane[shot])]

    def body_of(self, shot: int) -> Bodies:
        """The ball of one shot, alone."""
        one = slice(self.body[shot], self.body[shot] + 1)
        return Bodies(*(getattr(self.bodies, field.name)[one] for field in fields(Bodies)))
