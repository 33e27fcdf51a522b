"""Every lane of every game under doubt: what knowing it is worth, and the films that are drawn."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nextpair.domain.bowler import Hand
from nextpair.domain.units import FOOT_M
from nextpair.kernel.layout import own_frame
from nextpair.kernel.throws import usual_form
from nextpair.physics.film_draws import film_draws
from nextpair.planning.crowd import CROWDS
from nextpair.planning.doubt import Doubt, lane_doubt
from nextpair.planning.options import ball_options
from nextpair.planning.study import doubted_films
from small_event import mirror_image, small_event, small_workings, workings_of

WORK = small_workings()
STUDY, EVENT = WORK.study, WORK.event
LENGTH_M = 40.0 * FOOT_M
FRESH, START, END = (np.full((120, 39), um) for um in (2.0, 1.5, 1.0))


def doubt_of(dry=1.0, film=1.0, wear=1.0, time=0.0) -> Doubt:
    at, place = np.array([time]), np.array([0.5])
    oil = film_draws(film_factor=film, wear_factor=wear)
    return Doubt(np.array([dry]), oil, at, place, usual_form(1))


def test_both_lanes_of_every_game_are_studied_with_every_option():
    pairs = {1: (13, 14), 2: (17, 18)}
    assert set(STUDY.lanes) == {(game, lane) for game in pairs for lane in pairs[game]}
    assert [lane.lane for lane in STUDY.of_game(2)] == [17, 18]
    assert STUDY.options == ball_options(EVENT)
    assert STUDY.planned_values.shape == (len(STUDY.options), EVENT.games)
    assert STUDY.answered_values.shape == (*STUDY.planned_values.shape, len(STUDY.doubt))


def test_knowing_the_lane_can_only_help():
    answered = STUDY.answered_values.mean(axis=2)
    assert np.all(STUDY.planned_values <= answered + 1e-3)
    assert np.any(STUDY.planned_values < answered - 0.5)


def test_a_game_lies_between_what_was_planned_and_what_is_answered():
    answered = STUDY.answered_values.mean(axis=2)
    assert np.all(STUDY.planned_values <= STUDY.game_values + 1e-3)
    assert np.all(STUDY.game_values <= answered + 1e-3)


def test_films_are_the_bowlers_lane_before_and_half_way_through_the_game():
    for (game, number), lane in STUDY.lanes.items():
        np.testing.assert_array_equal(lane.fresh, WORK.films.fresh[number])
        np.testing.assert_array_equal(lane.start, WORK.films.at(number, game))
        end = WORK.films.at(number, game + 1)
        np.testing.assert_allclose(lane.middle, (lane.start + end) / 2)
        assert lane.films.shape == (len(STUDY.doubt), 120, 39)
        assert lane.films.min() >= 0.0


def test_each_draw_has_the_film_of_its_traffic():
    doubt = STUDY.doubt
    which = (doubt.traffic * CROWDS).astype(int)
    assert np.all(np.bincount(which) == len(doubt) / CROWDS)
    for (game, number), lane in STUDY.lanes.items():
        start, end = (WORK.films.stages[number, stage] for stage in (game, game + 1))
        for draw, traffic in enumerate(which):
            at = start[traffic] + doubt.time[draw] * (end[traffic] - start[traffic])
            worn = lane.fresh + doubt.oil.wear_factor[draw] * (at - lane.fresh)
            seen = doubt.oil.film_factor[draw] * np.maximum(worn, 0.0)
            np.testing.assert_allclose(lane.films[draw], seen, atol=1e-12)


def test_a_left_hander_studies_the_lane_from_the_left():
    left = workings_of(mirror_image(small_event()))
    for key, lane in left.study.lanes.items():
        game, number = key
        seen = own_frame(left.films.at(number, game), Hand.LEFT)
        np.testing.assert_array_equal(lane.start, seen)
        np.testing.assert_allclose(lane.films, STUDY.lanes[key].films, atol=1e-9)


@pytest.mark.parametrize(("time", "film_um"), [(0.0, 1.5), (0.5, 1.25), (1.0, 1.0)])
def test_without_doubt_the_film_is_what_the_game_has_left_by_then(time, film_um):
    films = doubted_films(FRESH, START, END, doubt_of(time=time), LENGTH_M)
    np.testing.assert_allclose(films, film_um)


def test_wear_counts_from_the_fresh_film():
    films = doubted_films(FRESH, START, END, doubt_of(wear=1.5), LENGTH_M)
    np.testing.assert_allclose(films, 2.0 - 1.5 * 0.5)
    np.testing.assert_allclose(doubted_films(FRESH, START, END, doubt_of(wear=0.0), LENGTH_M), 2.0)


def test_no_wear_takes_more_oil_than_there_was():
    films = doubted_films(FRESH, START, END, doubt_of(wear=9.0, time=1.0), LENGTH_M)
    np.testing.assert_array_equal(films, 0.0)


def test_a_fuller_pattern_is_fuller_all_over():
    films = doubted_films(FRESH, START, END, doubt_of(film=1.1), LENGTH_M)
    np.testing.assert_allclose(films, 1.1 * 1.5)


def test_every_draw_has_its_own_film():
    films = doubted_films(FRESH, START, END, lane_doubt(8, 7), LENGTH_M)
    assert len({float(film[0, 0]) for film in films}) == 8


def test_doubt_about_wear_spreads_the_films_only_where_they_are_worn():
    lane = STUDY.lanes[1, 13]
    draws = len(STUDY.doubt)
    oil = replace(STUDY.doubt.oil, film_factor=np.ones(draws))
    doubt = replace(STUDY.doubt, oil=oil, time=np.zeros(draws))
    spread = doubted_films(lane.fresh, lane.start, lane.start, doubt, LENGTH_M).std(axis=0)
    worn = np.abs(lane.fresh - lane.start) > 1e-6
    assert worn.any()
    assert spread[worn].min() > 0.0
    assert spread[~worn].max() < 1e-6
