"""How near is near: bandwidths that tell best what rolls left that were not looked at.

Every roll of a sample is told from all others but itself and its own image. What counts is the
logarithm of the chance given to what it left, a proper score: honest chances win in the long run.

Source: [gneiting-raftery-2007] the logarithmic score.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from scipy.spatial import cKDTree

from nextpair.carry.deck import FloatArray
from nextpair.carry.neighbours import (
    DIMENSIONS,
    Bandwidths,
    IntArray,
    near_and_wide,
    neighbours_of,
)
from nextpair.carry.rolls import Rolls

SAMPLE = 8_000
SEED = 7
STEP = 2.0**0.5
PSEUDO_ROLLS = (0.5, 1.0, 2.0, 4.0, 8.0, 16.0)
MOST_ROUNDS = 12
CLOSE = 0.3
"""Bandwidths within which two rolls share what is wrong with a chance."""
CLOSEST = 8
"""So many of its closest rolls are held against each."""


class Trial(NamedTuple):
    """One set of bandwidths, and how well it tells rolls that were left out."""

    bandwidths: Bandwidths
    pseudo_rolls: float
    """Rolls as which the wider surroundings count; the best of PSEUDO_ROLLS."""
    nats_a_roll: float
    """Mean of minus the logarithm of the chance given to what was left; less is better."""
    worse_by: float
    """Nats a roll more than the best trial, on the same rolls."""
    worse_by_error: float
    """Standard error of that difference."""

    def chances(self, sums: FloatArray, wide: FloatArray) -> FloatArray:
        """Rows (m, leaves) that sum to 1, from the sums near and the shares wide of m places."""
        mixed = sums + self.pseudo_rolls * wide
        share: FloatArray = mixed / mixed.sum(axis=1, keepdims=True)
        return share


def trials_of(
    rolls: Rolls, leave: IntArray, image: IntArray, only: Bandwidths | None = None
) -> tuple[Trial, ...]:
    """Bandwidths tried, the best first; with `only` given, those alone.

    From a first guess each bandwidth in turn is made STEP times wider and narrower, for as long as
    that tells held-out rolls better.

    Parameters
    ----------
    rolls : n rolls at full racks.
    leave : (n,) index of what each left, among the kept leaves.
    image : index of each kept leave's mirror image.
    """
    nats: dict[Bandwidths, FloatArray] = {}
    pseudo: dict[Bandwidths, float] = {}

    def score(tried: Bandwidths) -> float:
        if tried not in nats:
            pseudo[tried], nats[tried] = _held_out_nats(rolls, leave, image, tried)
        return float(nats[tried].mean())

    best = only or Bandwidths()
    score(best)
    for _ in range(0 if only else MOST_ROUNDS):
        before = best
        for name, width in best._asdict().items():
            for other in (width * STEP, width / STEP):
                best = min(best, best._replace(**{name: other}), key=score)
        if best == before:
            break
    order = sorted(nats, key=score)
    return tuple(_trial(tried, pseudo[tried], nats[tried], nats[order[0]]) for tried in order)


def used_trial(trials: Sequence[Trial]) -> Trial:
    """The widest of those that are not worse than the best by more than the error of that.

    Source: [breiman-1984] the rule of one standard error.
    """
    good = [trial for trial in trials if trial.worse_by <= trial.worse_by_error]
    return max(good, key=lambda trial: np.prod(trial.bandwidths[:DIMENSIONS]))


def blur_rolls(rolls: Rolls, leave: IntArray, image: IntArray, trial: Trial) -> float:
    """How many rolls would err as much by luck as smoothing errs by blur; infinite without blur.

    Half of the rolls tells the other half. Two of those that lie close together share what is
    wrong with the chance told there, but not their luck, so the mean product of their surprises is
    the square error of that chance. What is more than its sampling variance is the blur. Told is
    the chance of a strike, the first of the kept leaves.

    Source: [rice-1984] the variance from neighbouring observations, here their covariance.
    """
    places = trial.bandwidths.scaled(
        rolls.offset_boards, rolls.angle_deg, rolls.speed_mps, rolls.ball_kg
    )
    second = np.random.default_rng(SEED).permutation(len(leave)) % 2 == 1
    blur = spread = 0.0
    for told in (second, ~second):
        near = neighbours_of(rolls.taken(~told), leave[~told], image, trial.bandwidths)
        sums, effective, wide = near_and_wide(
            near, places[told], np.full(told.sum(), -1), len(image)
        )
        chance = trial.chances(sums, wide)[:, 0]
        surprise = (leave[told] == 0) - chance
        lone = chance * (1.0 - chance)
        sampling = lone / np.maximum(effective, 1.0)
        one, other = _close_pairs(places[told])
        blur += float(np.sum(surprise[one] * surprise[other] - sampling[one]))
        spread += float(np.sum(lone[one]))
    return spread / blur if blur > 0.0 else np.inf


def _close_pairs(places: FloatArray) -> tuple[IntArray, IntArray]:
    """Indices of places and, for each, of others that lie close."""
    _, found = cKDTree(places).query(places, CLOSEST + 1, distance_upper_bound=CLOSE)
    one = np.repeat(np.arange(len(places)), CLOSEST + 1)
    other = found.ravel()
    pair = (other < len(places)) & (other != one)
    return one[pair], other[pair]


def _left_out(
    rolls: Rolls, leave: IntArray, image: IntArray, bandwidths: Bandwidths, sample: IntArray
) -> tuple[FloatArray, FloatArray]:
    """Sums near and shares wide at each roll of a sample, as all others tell."""
    near = neighbours_of(rolls, leave, image, bandwidths)
    places = bandwidths.scaled(
        rolls.offset_boards[sample],
        rolls.angle_deg[sample],
        rolls.speed_mps[sample],
        rolls.ball_kg[sample],
    )
    sums, _, wide = near_and_wide(near, places, sample, len(image))
    return sums, wide


def _held_out_nats(
    rolls: Rolls, leave: IntArray, image: IntArray, bandwidths: Bandwidths
) -> tuple[float, FloatArray]:
    """The best number of pseudo-rolls, and nats of each roll of the sample with it.

    What no other roll left, near or wide, counts as left once in all rolls.
    """
    count = len(leave)
    sample = np.random.default_rng(SEED).choice(count, min(count, SAMPLE), replace=False)
    sums, wide = _left_out(rolls, leave, image, bandwidths, sample)
    each = np.arange(len(sample))
    scores = {}
    for pseudo_rolls in PSEUDO_ROLLS:
        told = Trial(bandwidths, pseudo_rolls, 0.0, 0.0, 0.0).chances(sums, wide)
        scores[pseudo_rolls] = -np.log(np.maximum(told[each, leave[sample]], 1.0 / count))
    best = min(scores, key=lambda pseudo_rolls: float(scores[pseudo_rolls].mean()))
    return best, scores[best]


def _trial(
    bandwidths: Bandwidths, pseudo_rolls: float, nats: FloatArray, best: FloatArray
) -> Trial:
    worse = nats - best
    return Trial(
        bandwidths,
        pseudo_rolls,
        float(nats.mean()),
        float(worse.mean()),
        float(worse.std() / np.sqrt(len(worse))),
    )
