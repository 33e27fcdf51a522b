"""The cut: who is in it, where its line will be, and which total holds it.

Where several tie for the last places, each is taken to go on with the same chance, as a roll-off
between equals would have it.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from nextpair.tournament.field_model import Floats, Wholes

INTERVAL_80 = (0.1, 0.9)


@dataclass(frozen=True, slots=True, eq=False)
class CutOutlook:
    """What a cut will be.

    held_chances : (n,) of everybody to be in it.
    line_pins, line_interval_80 : total of the last that goes on, its median and its middle 80 %.
    totals, total_chances : totals of one bowler in rising order, each with the chance that it
        holds the cut; in between, the chance is that of the next one above.
    """

    held_chances: Floats = field(repr=False)
    line_pins: float
    line_interval_80: tuple[float, float]
    totals: Wholes = field(repr=False)
    total_chances: Floats = field(repr=False)

    def needed_total(self, chance: float) -> int:
        """The lowest total that holds the cut with this chance."""
        return int(self.totals[int(np.searchsorted(self.total_chances, chance - 1e-9))])


def cut_by_draws(totals: Wholes, me: int, places: int) -> CutOutlook:
    """The outlook of (draws, n) totals at the end, needed totals for the bowler `me`."""
    lines = lines_of(totals, places)
    low, high = np.quantile(lines, INTERVAL_80)
    asked, chances = _rivals(np.delete(totals, me, axis=1), places)
    return CutOutlook(
        held_chances=places_held(totals, places).mean(axis=0),
        line_pins=float(np.median(lines)),
        line_interval_80=(float(low), float(high)),
        totals=asked,
        total_chances=chances,
    )


def places_held(totals: Wholes, places: int) -> Floats:
    """(draws, n) share of one of the first `places` that everybody holds: 1, 0, or at the line
    what a tie leaves."""
    if places >= totals.shape[1]:
        return np.ones(totals.shape)
    line = lines_of(totals, places)[:, None]
    above, level = totals > line, totals == line
    left = places - above.sum(axis=1, keepdims=True)
    held: Floats = above + level * (left / level.sum(axis=1, keepdims=True))
    return held


def lines_of(totals: Wholes, places: int) -> Wholes:
    """(draws,) total of the last that goes on; the lowest total where everybody does."""
    place = max(totals.shape[1] - places, 0)
    lines: Wholes = np.partition(totals, place, axis=1)[:, place]
    return lines


def _rivals(others: Wholes, places: int) -> tuple[Wholes, Floats]:
    """Totals at which the chance to hold the cut against the others rises, and that chance: all
    draws whose line is passed, and a share of those whose line is met."""
    if places > others.shape[1]:
        return np.zeros(1, dtype=np.int64), np.ones(1)
    lines = lines_of(others, places)
    left = places - (others > lines[:, None]).sum(axis=1)
    shares = left / ((others == lines[:, None]).sum(axis=1) + 1)
    order = np.argsort(lines, kind="stable")
    lines, shared = lines[order], np.concatenate([[0.0], np.cumsum(shares[order])])
    asked = np.unique(np.concatenate([lines, lines + 1]))
    passed, met = (np.searchsorted(lines, asked, side=side) for side in ("left", "right"))
    return asked, (passed + shared[met] - shared[passed]) / len(lines)
