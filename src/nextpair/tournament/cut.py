"""The cut: who is in it, where its line will be, and which total holds it.

Where several tie for the last places, each is taken to go on with the same chance, as a roll-off
between equals would have it.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from nextpair.tournament.field_model import Floats, Wholes


def places_held(totals: Wholes, places: int) -> Floats:
    """(draws, n) share of one of the first `places` that everybody holds: 1, 0, or at the line
    what a tie leaves."""
    n = totals.shape[1]
    if places >= n:
        return np.ones(totals.shape)
    line = np.partition(totals, n - places, axis=1)[:, n - places, None]
    above, level = totals > line, totals == line
    left = places - above.sum(axis=1, keepdims=True)
    held: Floats = above + level * (left / level.sum(axis=1, keepdims=True))
    return held


def lines_of(totals: Wholes, places: int) -> Wholes:
    """(draws,) total of the last that goes on; the lowest total where everybody does."""
    n = totals.shape[1]
    place = max(n - places, 0)
    line: Wholes = np.partition(totals, place, axis=1)[:, place]
    return line


@dataclass(frozen=True, slots=True, eq=False)
class Rivals:
    """What a total must beat, draw by draw: the line of the others, how many of them are above it,
    and how many share it. `totals` are sorted, each with the chance that it holds the cut."""

    totals: Wholes = field(repr=False)
    chances: Floats = field(repr=False)

    def needed(self, chance: float) -> int:
        """The lowest total that holds the cut with this chance."""
        return int(self.totals[int(np.searchsorted(self.chances, chance))])


def rivals_of(totals: Wholes, me: int, places: int) -> Rivals:
    """What one bowler's total must beat to be among the first `places`."""
    others = np.delete(totals, me, axis=1)
    if places > others.shape[1]:
        return Rivals(np.zeros(1, dtype=np.int64), np.ones(1))
    line = lines_of(others, places)
    left = places - (others > line[:, None]).sum(axis=1)
    shared = left / ((others == line[:, None]).sum(axis=1) + 1)
    asked = np.unique(np.concatenate([line, line + 1]))
    order = np.argsort(line, kind="stable")
    line, shared = line[order], np.concatenate([[0.0], np.cumsum(shared[order])])
    beaten = np.searchsorted(line, asked, side="left")
    tied = shared[np.searchsorted(line, asked, side="right")] - shared[beaten]
    return Rivals(asked, (beaten + tied) / len(line))
