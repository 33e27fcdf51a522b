"""Pins on strings: the chances of free pins, less a published share of their strikes.

No tether was simulated: which pins strings keep up, and how a spare falls on them, is not known
here. What a strike becomes follows the leaves that free pins have at the same impact.
"""

from __future__ import annotations

import numpy as np

from nextpair.carry.deck import FloatArray
from nextpair.domain.errors import require

STRIKES_LOST_SHARE = 0.071
"""Strikes that strings take, as a share of those of free pins. The report does not say whether it
counts a share or points of a hundred shots: a share is an assumption, which a count of strikes on
both at one house could test. Source: [string-pin-study-2021]."""
LEAST_LEFT = 1e-9
"""A node that leaves pins less often than this only strikes, but for rounding."""


def strung_chances(chances: FloatArray, strike: int) -> FloatArray:
    """Chances on strings from those of free pins, both (offsets, angles, speeds, leaves).

    Every strike chance loses STRIKES_LOST_SHARE of itself to the node's own leaves, in the
    proportion they have there. A node that only strikes has the leaves of the nearest nodes to
    either side that leave something, at the same angle and speed. `strike` is the strike's place
    among the leaves. Raises InvalidValueError where an angle and speed never leave anything.

    Source: [string-pin-study-2021] for the share; the leaves are an assumption.
    """
    strikes = chances[..., strike]
    leaves = chances.copy()
    leaves[..., strike] = 0.0
    left = 1.0 - strikes
    bare = left < LEAST_LEFT
    for i, j, k in np.argwhere(bare):
        sides = _nearest(np.flatnonzero(~bare[:, j, k]), i)
        leaves[i, j, k] = leaves[sides, j, k].sum(axis=0)
        left[i, j, k] = left[sides, j, k].sum()
    kept = (1.0 - STRIKES_LOST_SHARE) * strikes
    strung = leaves * ((1.0 - kept) / left)[..., np.newaxis]
    strung[..., strike] = kept
    return np.asarray(strung)


def _nearest(places: np.ndarray, place: int) -> list[int]:
    """The nearest of ascending places on either side of one."""
    require(places.size > 0, "leaves", "none at all", "an impact that leaves something")
    return [*places[places < place][-1:], *places[places > place][:1]]
