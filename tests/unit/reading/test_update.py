"""Beliefs after some shots."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np
import pytest

from logged_lanes import LANES, SHARP, Eyes, shots_seen, story_of
from nextpair.domain.errors import InvalidValueError
from nextpair.reading.prior import usual_prior
from nextpair.reading.seen import NOT_SEEN, Seen
from nextpair.reading.update import update

PRIOR = usual_prior((*LANES, 15))


def seen_under(shots, seed=5, eyes=SHARP, **deviations):
    """So many shots with some unknowns so many deviations off the plan."""
    truth = PRIOR.mean.copy()
    for name, off in deviations.items():
        truth[PRIOR.place(name)] += off * PRIOR.sd[PRIOR.place(name)]
    story = story_of(shots)
    return story, shots_seen(story, PRIOR, truth, np.random.default_rng(seed), eyes)


def moved(first, second):
    """How far a belief is from another, in deviations before any shot."""
    return np.abs((first.mean - second.mean) / PRIOR.sd)


def test_the_same_seed_gives_the_same_draws():
    story, seen = seen_under(6)
    first, again, other = (update(PRIOR, story, seen, seed, draws=64) for seed in (1, 1, 2))
    np.testing.assert_array_equal(first.draws, again.draws)
    assert not np.array_equal(first.draws, other.draws)


def test_seeds_differ_by_no_more_than_so_many_draws_must():
    """A mean of 512 draws is good to a twentieth of their deviation; four times that."""
    story, seen = seen_under(12)
    first, other = (update(PRIOR, story, seen, seed) for seed in (1, 2))
    assert (np.abs(first.mean - other.mean) / first.sd).max() < 0.25


def test_friction_is_learned_from_where_balls_go():
    """Two days with the same luck, one with two deviations less friction, one with as many more:
    beliefs lie apart by a good part of the four, and not by more."""
    place, means = PRIOR.place("dry_log"), []
    for off in (-2.0, 2.0):
        story, seen = seen_under(30, dry_log=off)
        reading = update(PRIOR, story, seen, 1)
        means.append(reading.mean[place] / PRIOR.sd[place])
        assert reading.sd[place] < 0.9 * PRIOR.sd[place]
    assert 0.8 < means[1] - means[0] < 4.0


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


def test_what_all_lanes_share_is_learned_on_one():
    story, seen = seen_under(30, dry_log=2.0)
    reading = update(PRIOR, story, seen, 1)
    there = np.exp(reading.column("dry_log") + reading.column("lane_15_dry_log"))
    assert there.mean() > np.exp(0.2 * PRIOR.sd[PRIOR.place("dry_log")])


@pytest.mark.parametrize("names", [("entry",), ("entry", "breakpoint"), ("target",)])
def test_one_reading_that_is_five_boards_wrong_moves_the_belief_by_little(names):
    story, seen = seen_under(12)
    wrong = {name: getattr(seen, name).copy() for name in names}
    for boards in wrong.values():
        boards[5] += 5.0
    right, misled = (update(PRIOR, story, shots, 1) for shots in (seen, replace(seen, **wrong)))
    assert moved(right, misled).max() < 0.4
    assert np.abs(right.expected_entry - misled.expected_entry).mean() < 0.5


def test_a_reading_that_is_twelve_boards_wrong_is_not_believed_at_all():
    """Taken as a normal one it would move where the others are expected by 0.9 board."""
    story, seen = seen_under(12)
    entry = seen.entry.copy()
    entry[5] += 12.0
    right, misled = (
        update(PRIOR, story, shots, 1) for shots in (seen, replace(seen, entry=entry))
    )
    assert np.abs(right.expected_entry - misled.expected_entry).mean() < 0.2


def test_a_wild_shot_is_laid_to_the_release_and_not_to_the_lane():
    story, seen = seen_under(12)
    entry, breakpoint = seen.entry.copy(), seen.breakpoint.copy()
    entry[5] -= 12.0
    breakpoint[5] += 6.0
    wild = replace(seen, entry=entry, breakpoint=breakpoint)
    reading = update(PRIOR, story, wild, 1)
    assert reading.release_probability[5] > 0.9
    assert reading.bad_probability[5] > 0.9
    assert np.delete(reading.bad_probability, 5).max() < 0.5


def test_one_reading_in_ten_that_is_wrong_costs_little():
    """Where shots are expected, over four days of twenty shots: uneven oil moves one by half a
    board."""
    off = {0.0: [], 0.1: []}
    for day in range(4):
        drawn = np.random.default_rng(day).normal(size=len(PRIOR))
        away = dict(zip(PRIOR.names, drawn, strict=True))
        for share, told in off.items():
            story, seen = seen_under(20, seed=day, eyes=Eyes(wrong_share=share), **away)
            told.append(update(PRIOR, story, seen, 1).expected_entry)
    apart = np.array(off[0.1]) - np.array(off[0.0])
    assert np.sqrt((apart**2).mean()) < 0.5


def test_shots_that_nobody_saw_change_nothing():
    story, seen = seen_under(8)
    blind = {
        field.name: np.full(8, np.nan)
        for field in fields(Seen)
        if field.name not in ("lane", "leave")
    }
    nothing = replace(seen, **blind, leave=np.full(8, NOT_SEEN))
    reading = update(PRIOR, story, nothing, 1, draws=2048)
    assert not reading.used.any()
    assert np.isnan(reading.expected_entry).all()
    assert (np.abs(reading.mean - PRIOR.mean) / PRIOR.sd).max() < 0.1
    np.testing.assert_allclose(reading.sd, PRIOR.sd, rtol=0.1)


def test_what_is_missing_leaves_more_doubt():
    story, seen = seen_under(20)
    hidden = replace(seen, entry=np.full(20, np.nan), leave=np.full(20, NOT_SEEN))
    place = PRIOR.place("dry_log")
    full, less = (update(PRIOR, story, shots, 1, draws=2048) for shots in (seen, hidden))
    assert less.sd[place] > full.sd[place]


def test_what_was_left_tells_of_the_entry_that_nobody_saw():
    story, seen = seen_under(20, dry_log=2.5)
    hidden = replace(seen, entry=np.full(20, np.nan))
    blind = replace(hidden, leave=np.full(20, NOT_SEEN))
    place = PRIOR.place("dry_log")
    by_pins, without = (update(PRIOR, story, shots, 1, draws=2048) for shots in (hidden, blind))
    assert by_pins.sd[place] < without.sd[place]


def test_misses_are_told_to_the_inside():
    story, seen = seen_under(6)
    reading = update(PRIOR, story, replace(seen, entry=seen.entry + 1.0), 1, draws=64)
    before = update(PRIOR, story, seen, 1, draws=64)
    np.testing.assert_allclose(reading.entry_off_boards - before.entry_off_boards, 1.0)


def test_shots_on_a_lane_without_a_belief_are_refused():
    story, seen = seen_under(4)
    with pytest.raises(InvalidValueError, match="lane"):
        update(usual_prior((13,)), story, seen, 1)


def test_no_shots_are_refused():
    story = story_of(4)
    none = replace(story, **{
        name: getattr(story, name)[:0] for name in ("lane", "fresh", "worn", "body", "releases")
    })  # fmt: skip
    nothing = np.empty(0)
    seen = Seen(story.lane[:0], *[nothing] * 7, np.empty(0, np.int64))
    with pytest.raises(InvalidValueError, match="seen"):
        update(PRIOR, none, seen, 1)


def test_shots_of_another_story_are_refused():
    story, _ = seen_under(4)
    _, seen = seen_under(6)
    with pytest.raises(InvalidValueError, match="seen"):
        update(PRIOR, story, seen, 1)
