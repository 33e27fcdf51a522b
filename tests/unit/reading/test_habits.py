"""What lasts from event to event."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from logged_lanes import LANES, shots_seen, story_of
from nextpair.domain.bowler import Scatter
from nextpair.domain.house_book import Learned
from nextpair.domain.unknowns import DRY_LOG, SPEED_MPS
from nextpair.reading.habits import learned_release, learned_scatter
from nextpair.reading.lasting import LASTING_SHARE, lasting
from nextpair.reading.prior import usual_prior
from nextpair.reading.seen import NOT_SEEN, Seen
from nextpair.reading.update import Reading

PRIOR = usual_prior(LANES)
STORY = story_of(20)


def told(name, mean, sd):
    """What a day said of one thing."""
    return day(name, mean, sd).learned(name)


def day(name, mean, sd):
    """A day's belief that knows one thing: two draws that have this mean and deviation."""
    draws = np.stack((PRIOR.mean - PRIOR.sd, PRIOR.mean + PRIOR.sd))
    draws[:, PRIOR.place(name)] = mean - sd, mean + sd
    nothing = np.full(1, np.nan)
    return Reading(PRIOR, draws, np.array([False]), *[nothing] * 8)


def test_without_events_everything_is_as_believed():
    found = lasting("dry_log", [])
    assert found.mean == 0.0
    assert found.next_time == pytest.approx((0.0, DRY_LOG.spread))


def test_a_day_that_told_nothing_counts_for_nothing():
    silent = told("dry_log", 0.0, DRY_LOG.spread)
    assert lasting("dry_log", [silent]) == lasting("dry_log", [])


def test_one_sure_day_is_half_believed():
    """Closed form: half of the variance lasts, so half of a day that is known for sure is taken to
    last."""
    found = lasting("dry_log", [told("dry_log", 0.1, 1e-5)])
    assert found.mean == pytest.approx(LASTING_SHARE * 0.1, rel=1e-3)
    assert found.sd == pytest.approx(DRY_LOG.spread * 0.5, rel=1e-3)


def test_many_days_alike_are_believed():
    """Closed form: a belief of 0.1 ± 0.03 from nothing ± 0.07 came from shots that said 0.1225."""
    found = lasting("dry_log", [told("dry_log", 0.1, 0.03)] * 40)
    assert found.mean == pytest.approx(0.1 / (1 - 0.03**2 / DRY_LOG.spread**2), rel=0.05)
    assert found.sd < 0.3 * DRY_LOG.spread
    assert found.next_time[1] > np.sqrt(1 - LASTING_SHARE) * DRY_LOG.spread


def test_what_a_day_began_with_is_not_counted_twice():
    """A second day that starts from what the first has told, and tells nothing of its own."""
    first = told("dry_log", 0.06, 0.03)
    mean, sd = lasting("dry_log", [first]).next_time
    silent = Learned("dry_log", mean, sd, mean, sd)
    assert silent.mean != 0.0
    both, alone = lasting("dry_log", [first, silent]), lasting("dry_log", [first])
    assert both.mean == pytest.approx(alone.mean)


def test_a_release_follows_its_days():
    release = STORY.releases[0]
    faster = learned_release(release, [day("speed_mps", 2 * SPEED_MPS.spread, 0.01)] * 10)
    assert release.speed_mps < faster.speed_mps < release.speed_mps + 2 * SPEED_MPS.spread
    assert faster.rev_rate_radps == pytest.approx(release.rev_rate_radps)


def seen_of_scatter(scatter, shots, seed=1):
    """Shots of a bowler with this scatter, seen with the usual reading errors."""
    story = replace(story_of(shots), scatter=scatter)
    return shots_seen(story, PRIOR, PRIOR.mean, np.random.default_rng(seed))


@pytest.mark.parametrize("factor", [0.6, 1.0, 1.8])
def test_many_shots_tell_a_bowlers_scatter(factor):
    told = STORY.scatter
    true = Scatter(
        factor * told.laydown_boards,
        factor * told.launch_angle_rad,
        factor * told.speed_mps,
        told.rev_rate_radps,
    )
    found = learned_scatter(told, [seen_of_scatter(true, 240)], STORY.releases[0].speed_mps)
    assert found.laydown_boards == pytest.approx(true.laydown_boards, rel=0.25)
    assert found.launch_angle_rad == pytest.approx(true.launch_angle_rad, rel=0.25)
    assert found.speed_mps == pytest.approx(true.speed_mps, rel=0.25)
    assert found.rev_rate_radps == told.rev_rate_radps


def test_few_shots_leave_a_scatter_near_the_file():
    told = STORY.scatter
    wide = replace(told, laydown_boards=3 * told.laydown_boards)
    few, many = (
        learned_scatter(told, [seen_of_scatter(wide, n)], STORY.releases[0].speed_mps)
        for n in (4, 120)
    )
    assert (
        told.laydown_boards < few.laydown_boards < many.laydown_boards < wide.laydown_boards * 1.2
    )


def test_one_wild_shot_leaves_a_scatter_alone():
    seen = seen_of_scatter(STORY.scatter, 40)
    target = seen.target.copy()
    target[7] += 8.0
    speed_mps = STORY.releases[0].speed_mps
    right, misled = (
        learned_scatter(STORY.scatter, [shots], speed_mps)
        for shots in (seen, replace(seen, target=target))
    )
    assert misled.launch_angle_rad == pytest.approx(right.launch_angle_rad, rel=0.15)


def test_a_fast_day_is_no_scatter_of_speed():
    seen = seen_of_scatter(STORY.scatter, 60)
    fast = replace(seen, speed_mps=seen.speed_mps + 0.3)
    speed_mps = STORY.releases[0].speed_mps
    told, untold = (
        learned_scatter(STORY.scatter, [fast], speed_mps, off).speed_mps for off in ([0.3], [0.0])
    )
    usual = learned_scatter(STORY.scatter, [seen], speed_mps).speed_mps
    assert told == pytest.approx(usual)
    assert untold > 1.2 * told


def test_what_nobody_saw_leaves_the_file():
    blind = Seen(np.array([13]), *[np.full(1, np.nan)] * 7, np.array([NOT_SEEN]))
    found = learned_scatter(STORY.scatter, [blind], STORY.releases[0].speed_mps)
    # The mean of a factor whose logarithm spreads by 0.3, cut off at its ends.
    assert found.laydown_boards == pytest.approx(STORY.scatter.laydown_boards, rel=0.05)
