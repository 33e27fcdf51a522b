"""Beliefs after some shots against an independent sampler, on three fixed days.

`emcee` samples the belief of lane_posterior.py, which rolls every shot for every belief and keeps
none of the reader's short cuts. Friction, oil, speed, revs and rotation are free; the oil's shape
is held, so that one film serves all beliefs. `tools/reading.py` frees everything.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from logged_lanes import LANES, shots_seen, story_of
from nextpair.reading.prior import usual_prior
from nextpair.reading.update import update
from reference.lane_posterior import Posterior, sampled

FREE = ("dry_log", "film_log", "speed_mps", "revs_log", "rotation_rad")
SHOTS, WALKERS, STEPS = 6, 20, 420
SAME_MEAN = 0.3
"""In deviations of the belief: as far as two means may lie apart."""
SAME_SD = 0.25
"""Relatively; the sampler's own error is a tenth."""


@pytest.mark.parametrize("day", [1, 2, 3])
def test_means_and_deviations_are_those_of_a_markov_chain(day, record):
    usual = usual_prior(LANES)
    free = [usual.place(name) for name in FREE]
    held = 1e-5 * usual.sd
    held[free] = usual.sd[free]
    prior = replace(usual, sd=held)
    rng = np.random.default_rng(day)
    truth = prior.mean + prior.sd * rng.normal(size=len(prior))
    story = story_of(SHOTS)
    seen = shots_seen(story, prior, truth, rng)
    chain = sampled(Posterior(prior, story, seen, tuple(free)), WALKERS, STEPS, day)
    found = update(prior, story, seen, day, draws=1024).draws[:, free]
    apart = (found.mean(axis=0) - chain.mean(axis=0)) / chain.std(axis=0)
    record.agreement(
        "emcee",
        f"Reading the lane: belief after {SHOTS} shots, day {day}",
        "means apart, in deviations (worst of 5)",
        error=float(np.abs(apart).max()),
        tolerance=SAME_MEAN,
        source="[foreman-mackey-2013] affine-invariant chain that rolls every shot",
    )
    np.testing.assert_allclose(found.std(axis=0), chain.std(axis=0), rtol=SAME_SD)
