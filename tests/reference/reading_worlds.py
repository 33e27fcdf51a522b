"""Days drawn from what the reader believes beforehand, and what it makes of their shots."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.stats import chisquare

from logged_lanes import LANES, Eyes, shots_seen, story_of
from nextpair.reading.likelihood import BAD_SHARE
from nextpair.reading.prior import Prior, usual_prior
from nextpair.reading.update import update

FloatArray = NDArray[np.float64]

DRAWS = 256
MISSING_SHARE = 0.2
EYES = Eyes(missing_share=MISSING_SHARE, bad_share=BAD_SHARE)
"""A fifth of all readings is missing, and shots are bad as often as the reader thinks."""


@dataclass(frozen=True)
class Ranks:
    """Of w days the share of the draws that lie below the truth (w, p), uniform if beliefs are
    right; and the deviations left, of those beforehand (w, p)."""

    prior: Prior
    below: FloatArray
    left: FloatArray

    def uniform_p(self, name: str, bins: int) -> float:
        """Chance of ranks at least as uneven, were they uniform.

        Source: [talts-2018] simulation-based calibration; Pearson's chi-square, by SciPy.
        """
        ranks = self.below[:, self.prior.place(name)]
        return float(chisquare(np.histogram(ranks, bins, (0.0, 1.0))[0]).pvalue)


def ranks_of(worlds: int, shots: int, seed: int) -> Ranks:
    """Ranks of so many days of so many shots."""
    prior, story = usual_prior(LANES), story_of(shots)
    below, left = [], []
    for world in range(worlds):
        rng = np.random.default_rng([seed, world])
        truth = prior.mean + prior.sd * rng.normal(size=len(prior))
        seen = shots_seen(story, prior, truth, rng, EYES)
        reading = update(prior, story, seen, world, draws=DRAWS)
        below.append((reading.draws < truth).mean(axis=0))
        left.append(reading.sd / prior.sd)
    return Ranks(prior, np.array(below), np.array(left))
