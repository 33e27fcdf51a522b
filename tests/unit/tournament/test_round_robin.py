"""The round robin: who meets whom, and its winner by every result of four."""

from __future__ import annotations

from itertools import combinations, product

import numpy as np
import pytest
from scipy import stats

from nextpair.tournament.match import win_chances
from nextpair.tournament.round_robin import (
    block_pins,
    bonus_pins,
    round_robin,
    rounds_of_everybody,
)
from nextpair.tournament.stages import by_lot
from unit.tournament.match_play import DRAWS, GAME_SD_PINS, errors_of, match_play

BONUS = 10_000
"""So many that matches alone decide, and pins only between those who won as many."""


def ends(forms, win, tie, games=1, draws=DRAWS):
    play = match_play(forms, games, draws)
    return round_robin(play, np.full((draws, len(forms)), 300), win, tie)


@pytest.mark.parametrize("entrants", [1, 2, 3, 4, 7, 8, 24])
def test_everybody_meets_everybody_once_and_nobody_two_at_a_time(entrants):
    rounds = list(rounds_of_everybody(entrants))
    for matches in rounds:
        assert len(set(matches.ravel().tolist())) == matches.size
    met = [tuple(sorted(match)) for matches in rounds for match in matches.tolist()]
    assert sorted(met) == list(combinations(range(entrants), 2))
    assert len(rounds) == max(entrants - 1 + entrants % 2, 1)


def test_a_bonus_goes_to_more_pins_and_is_shared_where_they_are_equal():
    one, other = bonus_pins(np.array([200, 180, 190]), np.array([190, 181, 190]), 30, 15)
    assert (one.tolist(), other.tolist()) == ([30, 0, 15], [0, 30, 15])


def test_matches_won_are_those_of_every_result_gone_through():
    forms = (212.0, 203, 196, 188)
    win = win_chances(np.array(forms), GAME_SD_PINS, 1)
    pairs = list(combinations(range(4), 2))
    exact = np.zeros((4, 4))
    for results in product((0, 1), repeat=6):
        chance, won = 1.0, [0] * 4
        for (a, b), result in zip(pairs, results, strict=True):
            chance *= (win[a, b], win[b, a])[result]
            won[(a, b)[result]] += 1
        exact[range(4), won] += chance
    pins = ends(forms, 2 * BONUS, BONUS)
    # A tie, one match in a hundred, is half a win to both; it is put to lot here.
    tied = pins // BONUS % 2 == 1
    won = np.clip(pins // BONUS, 0, 6)
    halves = np.random.default_rng(1).random(won.shape) < 0.5
    won = won // 2 + (tied & halves)
    shares = np.stack([np.mean(won == number, axis=0) for number in range(4)], axis=1)
    assert np.all(np.abs(shares - exact) <= 4 * errors_of(exact))


def test_pins_without_a_bonus_are_those_of_as_many_games():
    forms = np.array([208.0, 200, 191])
    pins = ends(forms, 0, 0, games=2)
    assert np.all(np.abs(pins.mean(axis=0) - 4 * forms) <= 4 * 2 * GAME_SD_PINS / DRAWS**0.5)
    assert pins.std(axis=0) == pytest.approx(np.full(3, 2 * GAME_SD_PINS), rel=0.02)


def test_of_two_the_bonus_alone_decides_as_one_match_does():
    pins = ends((205.0, 195), 30, 15)
    chance = stats.norm.cdf(10 / (2**0.5 * GAME_SD_PINS))
    first = np.mean(by_lot(pins, np.random.default_rng(2))[:, 0] == 0)
    assert first == pytest.approx(chance, abs=4 * errors_of(chance))


def test_equals_win_alike():
    pins = ends([200.0] * 6, 30, 15)
    winners = by_lot(pins, np.random.default_rng(2))[:, 0]
    shares = np.bincount(winners, minlength=6) / DRAWS
    assert np.all(np.abs(shares - 1 / 6) <= 4 * errors_of(1 / 6))


def test_no_game_is_above_the_most():
    play = match_play([299.0, 299], games=2, draws=500)
    pins = block_pins(play, play.form_pins, np.full((500, 2), 300))
    assert pins.max() == 600
