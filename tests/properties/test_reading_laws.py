"""Laws of a belief: whose order does not matter, and to which blindness adds nothing."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from logged_lanes import LANES, Eyes, shots_seen, story_of
from nextpair.reading.likelihood import number_rows
from nextpair.reading.prior import usual_prior
from nextpair.reading.seen import NOT_SEEN, Seen
from nextpair.reading.update import likelihood_of

PRIOR = usual_prior(LANES)
SHOTS = 4
STORY = story_of(SHOTS)
UNKNOWNS = PRIOR.mean + PRIOR.sd * np.random.default_rng(4).normal(size=(5, len(PRIOR)))
seeds = st.integers(0, 2**32 - 1)
readings = [f.name for f in fields(Seen) if f.name not in ("lane", "leave")]


def seen_by(seed, missing=0.3):
    rng = np.random.default_rng(seed)
    truth = PRIOR.mean + PRIOR.sd * rng.normal(size=len(PRIOR))
    return shots_seen(STORY, PRIOR, truth, rng, Eyes(missing_share=missing))


def picked(thing, places):
    """A story or what was seen of it, some of the shots only."""
    shots = {
        field.name: getattr(thing, field.name)[places]
        for field in fields(thing)
        if isinstance(getattr(thing, field.name), np.ndarray)
    }
    if hasattr(thing, "releases"):
        shots["releases"] = tuple(thing.releases[place] for place in places)
    return replace(thing, **shots)


def told(story, seen):
    """Log likelihoods (5,) against their mean: what the shots say of the unknowns."""
    log = likelihood_of(PRIOR, story, seen).of(UNKNOWNS)
    return log - log.mean()


@given(seed=seeds, order=st.permutations(range(SHOTS)))
def test_the_order_of_shots_does_not_matter(seed, order):
    seen = seen_by(seed)
    shuffled = told(picked(STORY, list(order)), picked(seen, list(order)))
    np.testing.assert_allclose(shuffled, told(STORY, seen), atol=1e-6)


@given(seed=seeds)
def test_shots_tell_together_what_each_of_them_tells(seed):
    seen = seen_by(seed)
    alone = [told(picked(STORY, [shot]), picked(seen, [shot])) for shot in range(SHOTS)]
    np.testing.assert_allclose(sum(alone), told(STORY, seen), atol=1e-6)


@given(seed=seeds, shot=st.integers(0, SHOTS - 1))
def test_a_shot_that_nobody_saw_says_nothing(seed, shot):
    seen = seen_by(seed)
    blind = {name: getattr(seen, name).copy() for name in (*readings, "leave")}
    for name in readings:
        blind[name][shot] = np.nan
    blind["leave"][shot] = NOT_SEEN
    others = [other for other in range(SHOTS) if other != shot]
    rest = told(picked(STORY, others), picked(seen, others))
    np.testing.assert_allclose(told(STORY, replace(seen, **blind)), rest, atol=1e-6)


@given(seed=seeds)
def test_a_meant_line_without_any_reading_says_nothing(seed):
    seen = seen_by(seed)
    nothing = {name: np.full(SHOTS, np.nan) for name in readings if "meant" not in name}
    only_meant = replace(seen, **nothing, leave=np.full(SHOTS, NOT_SEEN))
    np.testing.assert_allclose(told(STORY, only_meant), 0.0, atol=1e-3)


def test_rows_name_what_each_lane_has_for_itself():
    rows = number_rows(PRIOR, STORY.lane)
    own = PRIOR.place("lane_13_dry_log")
    np.testing.assert_array_equal(rows[:, :, own].any(axis=1), STORY.lane == 13)
