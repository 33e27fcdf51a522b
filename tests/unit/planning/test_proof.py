"""A day in a world that is as planned, and the sums of the proof."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.stats import ttest_1samp

from nextpair.application.proof import prove, summed_up
from nextpair.domain.errors import InvalidValueError
from nextpair.planning.by_result import by_result
from nextpair.planning.condition import AS_PLANNED
from nextpair.planning.contenders import (
    Contender,
    Prepared,
    known_score,
    known_values,
    prepare,
    real_films,
)
from nextpair.planning.day import Day, bowl_event, bowl_frames, day_of
from nextpair.planning.proof import GameRecord, PairKind, pair_kinds
from nextpair.planning.worlds import World
from nextpair.scoring.game_value import expected_score_of_frames
from small_event import SEED, small_event, workings_of


@cache
def prepared() -> Prepared:
    event = small_event()
    return prepare(event, workings_of(event).table, SEED)


@cache
def as_planned() -> Day:
    """A day on which everything is as the plan has it."""
    event = prepared().event
    world = World(
        condition=AS_PLANNED,
        people=prepared().people,
        lane_dry_factor=dict.fromkeys((n for pair in event.pairs for n in pair.lanes), 1.0),
        release=event.bowler.release,
        scatter=event.bowler.scatter,
        spare_log_odds=0.0,
    )
    return day_of(
        event,
        world,
        real_films(prepared(), world, SEED),
        prepared().options,
        prepared().table,
        prepared().spare_chance,
        SEED,
    )


def test_where_nothing_is_hidden_the_plan_loses_next_to_nothing():
    """Who knows the world knows no more than the plan then."""
    for game in (1, 2):
        lines = prepared().plans[Contender.PLANNER][game - 1]
        planned = expected_score_of_frames(
            bowl_frames(as_planned(), game, lambda frame, lines=lines: lines[frame % 2])
        )
        known = known_score(as_planned(), game, known_values(prepared(), as_planned(), game))
        assert planned == pytest.approx(known, abs=6.0)


def test_a_day_is_the_same_for_everybody_who_stands_on_the_same_lines():
    plan = prepared().plans[Contender.PLANNER]
    first, again = (bowl_event(as_planned(), by_result(as_planned(), plan)) for _ in range(2))
    assert [game.score for game in first] == [game.score for game in again]


def test_a_game_counts_every_frame():
    """All strikes score 300 by the rules."""
    mover = by_result(as_planned(), prepared().plans[Contender.PLANNER])
    game = bowl_event(as_planned(), mover)[0]
    assert len(game.frames) == 10
    assert 100.0 < game.score < 280.0


def test_pair_kinds_leave_the_bowler_out():
    event = small_event()
    alone = replace(event, squad=tuple(e for e in event.squad if e.name == event.bowler_name))
    assert pair_kinds(alone) == (PairKind.NOBODY,) * event.games


def record(event: int, planner: float) -> GameRecord:
    score = dict.fromkeys(Contender, 180.0) | {Contender.PLANNER: planner}
    return GameRecord(event, event, 1, PairKind.SAME, score, score, 178.0, 0.8, 0.5)


def test_intervals_take_events_as_independent():
    """With one game an event it is the usual interval of a mean; SciPy's t-test."""
    gains = np.random.default_rng(3).normal(5.0, 4.0, 12)
    proof = summed_up([record(n, 180.0 + gain) for n, gain in enumerate(gains)], 7, 12, 12)
    gain = proof.kinds[0].gains[0]
    usual = ttest_1samp(gains, 0.0).confidence_interval(0.95)
    assert (gain.low, gain.high) == pytest.approx((usual.low, usual.high))
    assert gain.value == pytest.approx(gains.mean())


def test_the_same_game_twice_says_no_more_than_once():
    once = [record(n, 180.0 + n) for n in range(5)]
    single, double = (summed_up(rows, 7, 5, 5).kinds[0].gains[0] for rows in (once, once * 2))
    assert single.low == pytest.approx(double.low)


def test_no_worlds_are_refused():
    with pytest.raises(InvalidValueError, match="worlds"):
        prove((small_event().left_pattern,), 0, SEED)
