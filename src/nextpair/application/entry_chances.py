"""What first balls leave by where they came in: read off the carry table, for one hand."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from nextpair.carry.table import CarryTable
from nextpair.domain.bowler import Hand
from nextpair.domain.entry import level_boards
from nextpair.domain.sheet import LaneCard
from nextpair.domain.sight import ENTRY_ERROR_BOARDS
from nextpair.domain.units import MPH_MPS
from nextpair.kernel.outcome import offset_boards_at
from nextpair.scoring.leaves import mirrored_leave

FloatArray = NDArray[np.float64]

ACROSS: FloatArray = np.linspace(-2.5, 2.5, 21)
ACROSS_WEIGHTS: FloatArray = np.exp(-0.5 * ACROSS**2) / np.exp(-0.5 * ACROSS**2).sum()
"""What is not known of an entry, in deviations."""
BAND_SDS = 2 * 1.2816
"""Deviations from the tenth to the nine-tenths of a normal spread. Source: closed form."""
USUAL_ANGLE_DEG = 5.0
USUAL_SPEED_MPH = 17.0
"""At the pins, where no sheet says otherwise: the middle of the angles that strike most, [facts]
section 5, and a usual speed."""
LEAST_CHANCE = 1e-9
"""What is rarer is left out."""


@dataclass(frozen=True, slots=True)
class Entering:
    """How balls come in: middle and spread of where they cross the head pin's row, in boards to
    the bowler's side of it, at one angle and speed at the pins."""

    middle_boards: float
    spread_boards: float
    angle_deg: float = USUAL_ANGLE_DEG
    speed_mph: float = USUAL_SPEED_MPH

    def given(self, seen_boards: float) -> Entering:
        """The same of one ball, once somebody has seen where it came in, as well as one sees."""
        trust = self.spread_boards**2 / (self.spread_boards**2 + ENTRY_ERROR_BOARDS**2)
        return Entering(
            self.middle_boards + trust * (seen_boards - self.middle_boards),
            sqrt(trust) * ENTRY_ERROR_BOARDS,
            self.angle_deg,
            self.speed_mph,
        )


def planned_entering(lane: LaneCard) -> Entering:
    """How balls come in on a lane by the sheet, with the bowler's own scatter."""
    low, high = lane.band_boards[-1]
    return Entering(
        level_boards(lane.entry.offset_board, lane.entry.entry_angle_deg),
        abs(high - low) / BAND_SDS,
        lane.entry.entry_angle_deg,
        lane.entry.speed_mph,
    )


def usual_entering(seen_boards: Sequence[float]) -> Entering:
    """How a bowler's balls come in by two or more that were seen, less what is the sight's."""
    variance = float(np.var(seen_boards, ddof=1)) - ENTRY_ERROR_BOARDS**2
    return Entering(float(np.mean(seen_boards)), sqrt(max(variance, ENTRY_ERROR_BOARDS**2)))


def chances_of(table: CarryTable, hand: Hand, entering: Entering) -> dict[int, float]:
    """Chance of every leave of a ball that comes in so, the strike as 0."""
    places = entering.middle_boards + ACROSS * entering.spread_boards
    offsets = offset_boards_at(places, entering.angle_deg)
    rows = table.leave_probability(offsets, entering.angle_deg, entering.speed_mph * MPH_MPS)
    return told_chances(table, hand, ACROSS_WEIGHTS @ rows)


def told_chances(table: CarryTable, hand: Hand, chances: FloatArray) -> dict[int, float]:
    """Chances (leaves,) in the table's order as the bowler sees the leaves."""
    each = zip(table.leaves, chances.tolist(), strict=True)
    seen = (lambda leave: leave) if hand is Hand.RIGHT else mirrored_leave
    return {seen(leave): chance for leave, chance in each if chance > LEAST_CHANCE}


def mixed(several: Iterable[Mapping[int, float]]) -> dict[int, float]:
    """Chances of leaves, each of several as likely."""
    each = list(several)
    total: Counter[int] = Counter()
    for chances in each:
        total.update(chances)
    return {leave: chance / len(each) for leave, chance in total.items()}
