"""Beliefs after some shots."""

from __future__ import annotations

import numpy as np
import pytest

from logged_lanes import LANES, shots_seen, story_of
from nextpair.domain.errors import InvalidValueError
from nextpair.reading.prior import usual_prior
from nextpair.reading.update import update

PRIOR = usual_prior((*LANES, 15))


def seen_under(shots, seed=5, **deviations):
    """So many shots with some unknowns so many deviations off the plan."""
    truth = PRIOR.mean.copy()
    for name, off in deviations.items():
        truth[PRIOR.place(name)] += off * PRIOR.sd[PRIOR.place(name)]
    story = story_of(shots)
    return story, shots_seen(story, PRIOR, truth, np.random.default_rng(seed))


def test_the_same_seed_gives_the_same_draws():
    story, seen = seen_under(6)
    first, again, other = (update(PRIOR, story, seen, seed, draws=64) for seed in (1, 1, 2))
    np.testing.assert_array_equal(first.draws, again.draws)
    assert not np.array_equal(first.draws, other.draws)


def test_speed_that_is_measured_is_learned():
    story, seen = seen_under(30, speed_mps=2.0)
    reading = update(PRIOR, story, seen, 1)
    place = PRIOR.place("speed_mps")
    assert reading.mean[place] / PRIOR.sd[place] == pytest.approx(2.0, abs=1.0)
    assert reading.sd[place] < 0.5 * PRIOR.sd[place]


def test_a_lane_that_was_not_met_keeps_its_own_part():
    story, seen = seen_under(20)
    reading = update(PRIOR, story, seen, 1)
    place = PRIOR.place("lane_15_dry_log")
    assert reading.sd[place] == pytest.approx(PRIOR.sd[place], rel=0.15)


def test_shots_on_a_lane_without_a_belief_are_refused():
    story, seen = seen_under(4)
    with pytest.raises(InvalidValueError, match="lane"):
        update(usual_prior((13,)), story, seen, 1)
