"""The cut of a small field, exactly: no draws, sums over every total.

How many of the others are above a total is a sum of chances, one bowler added after the other. A
tie is broken as by lot: a bowler who draws the lot u is passed by those above, and by a share u of
those level; the chance is a polynomial in u, whose mean a few nodes give exactly. What a squad
shares is integrated by nodes too.

Source: [hong-2013]: the number of successes of unequal chances; [gautschi-2004]: Gauss-Legendre
and Gauss-Hermite nodes.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from nextpair.tournament.cut import INTERVAL_80, CutOutlook
from nextpair.tournament.field_model import FieldModel, Floats, Wholes
from nextpair.tournament.totals import totals_sd_pins

SHIFT_NODES = 9
LOT_NODES = 8
"""At most; the polynomials of larger fields are so smooth that more change nothing."""
LEAST_SD_PINS = 1e-6
HALF = 0.5


@dataclass(frozen=True, slots=True, eq=False)
class TotalChances:
    """The chance of every total of n independent bowlers: column t is the total `lowest` + t."""

    lowest: int
    table: Floats = field(repr=False)

    @property
    def above(self) -> Floats:
        """(n, totals) chance of everybody to be above each total."""
        chances: Floats = np.maximum(1 - np.cumsum(self.table, axis=1), 0.0)
        return chances


def is_small(model: FieldModel, most_bowlers: int = 12) -> bool:
    """Whether a field is small enough: few bowlers, and at most one squad still on the lanes."""
    return len(model.names) <= most_bowlers and len(_squads_to_bowl(model)) <= 1


def exact_cut(model: FieldModel, places: int) -> CutOutlook:
    """The outlook of a small field. Refuses nothing; see `is_small`."""
    tables, weights = _tables(model)
    held = np.zeros(len(model.names))
    line, mine = np.zeros(tables[0].table.shape[1]), np.zeros(tables[0].table.shape[1])
    for one, weight in zip(tables, weights, strict=True):
        for bowler in range(len(held)):
            holding = holding_chances(one, bowler, places)
            held[bowler] += weight * float(one.table[bowler] @ holding)
            mine += weight * holding * (bowler == model.me)
        line += weight * line_chances(one, places)
    totals = tables[0].lowest + np.arange(len(line))
    below = np.cumsum(line)
    low, middle, high = (
        float(totals[min(int(np.searchsorted(below, share)), len(line) - 1)])
        for share in (INTERVAL_80[0], HALF, INTERVAL_80[1])
    )
    top = np.append(totals, totals[-1] + 1)
    return CutOutlook(held, middle, (low, high), top, np.append(mine, 1.0))


def holding_chances(totals: TotalChances, bowler: int, places: int) -> Floats:
    """(totals,) chance that a bowler with each total is in the first `places`."""
    others = np.delete(np.arange(len(totals.table)), bowler)
    above, level = totals.above[others], totals.table[others]
    count = min(LOT_NODES, len(others) // 2 + 1)
    nodes, weights = np.polynomial.legendre.leggauss(count)
    chances = np.zeros(totals.table.shape[1])
    for node, weight in zip((nodes + 1) / 2, weights / 2, strict=True):
        chances += weight * fewer_than(places, above + node * level)
    return chances


def line_chances(totals: TotalChances, places: int) -> Floats:
    """(totals,) chance of each total to be the line, that of the last that goes on."""
    at_least = totals.above + totals.table
    below = fewer_than(min(places, len(totals.table)), at_least)
    chances: Floats = np.diff(np.append(below, 1.0))
    return chances


def fewer_than(places: int, chances: Floats) -> Floats:
    """(m,) chance that fewer than `places` of n independent things happen, for m columns of their
    chances (n, m)."""
    counts = np.zeros((places, chances.shape[1]))
    counts[0] = 1.0
    for chance in chances:
        counts[1:] = counts[1:] * (1 - chance) + counts[:-1] * chance
        counts[0] *= 1 - chance
    total: Floats = counts.sum(axis=0)
    return total


def total_chances(model: FieldModel, shift_pins: float = 0.0) -> TotalChances:
    """Everybody's totals, all squads' lanes giving so much a game."""
    lowest = int(model.totals.min())
    highest = int((model.totals + model.most_to_come_pins).max())
    ends = np.arange(lowest, highest + 1) + HALF
    mean = model.totals + model.games_left * (model.form_pins + shift_pins)
    sd = np.maximum(totals_sd_pins(model), LEAST_SD_PINS)
    up_to = _share_below((ends - mean[:, None]) / sd[:, None])
    up_to[ends[None] < model.totals[:, None]] = 0.0
    up_to[ends[None] > (model.totals + model.most_to_come_pins)[:, None]] = 1.0
    return TotalChances(lowest, np.diff(up_to, axis=1, prepend=0.0))


def _tables(model: FieldModel) -> tuple[list[TotalChances], Floats]:
    """Everybody's totals for each node of what the lanes may give, and the nodes' weights."""
    squads = _squads_to_bowl(model)
    shift_sd_pins = model.shift_sd_pins(squads[0]) if len(squads) else 0.0
    if not shift_sd_pins:
        return [total_chances(model)], np.ones(1)
    nodes, weights = np.polynomial.hermite_e.hermegauss(SHIFT_NODES)
    return [total_chances(model, shift_sd_pins * node) for node in nodes], weights / sum(weights)


def _share_below(sds: Floats) -> Floats:
    """Share of a normal distribution below so many standard deviations from its mean."""
    tails = map(math.erfc, (-sds / math.sqrt(2)).ravel())
    return np.fromiter(tails, float, sds.size).reshape(sds.shape) / 2


def _squads_to_bowl(model: FieldModel) -> Wholes:
    squads: Wholes = np.unique(model.squads[model.games_left > 0])
    return squads
