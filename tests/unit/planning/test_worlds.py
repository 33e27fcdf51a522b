"""Worlds: drawn from their seed, and off the plan by what they say."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from nextpair.physics.dressing import film_of
from nextpair.planning.scenarios import drawn_event
from nextpair.planning.traffic import starting_ball, throwers
from nextpair.planning.worlds import LANE_FILM_SD, UNEVEN_SD, World, drawn_world
from small_event import SEED, small_event


@cache
def world(number: int) -> World:
    event = small_event()
    return drawn_world(event, throwers(event, starting_ball(event)), number, SEED)


def test_a_world_is_the_same_for_the_same_seed():
    event = small_event()
    again = drawn_world(event, throwers(event, starting_ball(event)), 0, SEED)
    lane = event.start_pair.lanes[0]
    assert np.array_equal(again.condition.dressed[lane], world(0).condition.dressed[lane])
    assert again.release == world(0).release
    assert again.condition.dry_factor != world(1).condition.dry_factor


def test_oil_lies_unevenly_by_what_is_said():
    """From lane to lane and from place to place the logarithm spreads as it is drawn."""
    event = small_event()
    laid = film_of(event.left_pattern)
    oiled = laid > 0.1
    spread = [
        np.log(film[oiled] / laid[oiled])
        for number in range(4)
        for film in world(number).condition.dressed.values()
    ]
    by_world = np.array(spread).reshape(4, -1)
    off = by_world - by_world.mean(axis=1, keepdims=True)
    assert off.std() == pytest.approx(np.hypot(UNEVEN_SD, LANE_FILM_SD), rel=0.25)
    for film in world(0).condition.dressed.values():
        assert (film[laid == 0.0] == 0.0).all()


def test_everybody_throws_a_little_otherwise():
    event = small_event()
    told = throwers(event, starting_ball(event))
    apart = [
        person.release.speed_mps - told[name].release.speed_mps
        for name, person in world(0).people.items()
    ]
    assert 0.02 < np.std(apart) < 0.6


def test_drawn_events_are_valid_and_differ():
    patterns = (small_event().left_pattern,)
    events = [drawn_event(patterns, number, SEED) for number in range(6)]
    assert len({event.bowler.release.speed_mps for event in events}) == 6
    assert {event.bowler.hand.value for event in events} == {"left", "right"}
    assert events[0] == drawn_event(patterns, 0, SEED)
