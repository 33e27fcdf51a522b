"""What would have to be so for the second of two moves to come first."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nextpair.application.believed import picked_rows
from nextpair.application.findings import told_as
from nextpair.application.names import lane_of
from nextpair.domain.belief import Draws
from nextpair.domain.event import Event

FloatArray = NDArray[np.float64]

DECIDES_CORRELATION = 0.5
"""From this size on, one unknown decides between two moves."""
HARDLY_PROBABILITY = 0.05
"""Below this chance of the second move nothing that is still open speaks for it."""


def would_change(event: Event, lane: int, belief: Draws, lead_by_draw: FloatArray) -> str:
    """In words, for a lane; `lead_by_draw` (d,) is what the first move is worth more than the
    second, in pins a game, under draws evenly taken from the belief."""
    second = float((lead_by_draw < 0).mean())
    chance = f"in {100 * second:.0f} of 100 cases of what may be so"
    if second < HARDLY_PROBABILITY:
        return "nothing that these shots leave open puts the second option first"
    names = [name for name in belief.names if lane_of(name) in (None, lane)]
    columns = np.array([belief.column(name) for name in names]).T
    draws = columns[picked_rows(belief, len(lead_by_draw))]
    correlation = _correlations(draws, lead_by_draw)
    place = int(np.abs(correlation).argmax())
    if abs(correlation[place]) < DECIDES_CORRELATION:
        return f"the second option comes first {chance}; no one thing decides it"
    slope, level = np.polyfit(draws[:, place], lead_by_draw, 1)
    told = told_as(event, names[place])
    even = float(told.scale(np.array([-level / slope]))[0])
    side = "below" if slope > 0 else "above"
    return (
        f"{told.name} {side} {even:.3g} {told.unit}: there the second option comes first, as it "
        f"does {chance}"
    )


def _correlations(draws: FloatArray, values: FloatArray) -> FloatArray:
    """Correlation (p,) of each column with some values; 0 where either does not vary."""
    off, deviation = draws - draws.mean(axis=0), values - values.mean()
    size = np.sqrt((off**2).sum(axis=0) * (deviation**2).sum())
    return np.asarray(off.T @ deviation / np.where(size > 0, size, np.inf))
