"""A match of two: the closed form, and matches drawn by it."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from nextpair.tournament.match import win_chance, win_chances
from unit.tournament.match_play import DRAWS, GAME_SD_PINS, errors_of, match_play


@pytest.mark.parametrize("games", [1, 2, 3])
@pytest.mark.parametrize("ahead_pins", [0, 4, 15, 40])
def test_whole_pins_bowled_out_agree_with_the_closed_form(games, ahead_pins):
    noise = stats.norm(0, GAME_SD_PINS).rvs((2, 400_000, games), random_state=5)
    pins = np.rint(np.array([200.0 + ahead_pins, 200.0])[:, None, None] + noise).sum(axis=2)
    won = np.mean(pins[0] > pins[1]) + np.mean(pins[0] == pins[1]) / 2
    chance = win_chance(np.array(200.0 + ahead_pins), np.array(200.0), GAME_SD_PINS, games)
    assert chance == pytest.approx(won, abs=4 * errors_of(won, 400_000))


def test_a_longer_match_favours_the_better_and_one_of_two_wins():
    forms = np.array([210.0, 200, 200, 170])
    one, three = (win_chances(forms, GAME_SD_PINS, games) for games in (1, 3))
    assert one + one.T == pytest.approx(np.ones((4, 4)))
    assert np.all(three[forms[:, None] > forms] > one[forms[:, None] > forms])
    assert one[1, 2] == 0.5


def test_matches_are_drawn_by_their_chances_and_empty_seats_never_win():
    play = match_play([212, 195]).with_byes(4)
    one, other = (np.tile(seats, (DRAWS, 1)) for seats in ([0, 1], [1, 2]))
    winners, losers = play.played(one, other)
    share = np.mean(winners[:, 0] == 0)
    expected = stats.norm.cdf(17 / (2**0.5 * GAME_SD_PINS))
    assert share == pytest.approx(expected, abs=4 * errors_of(expected))
    assert np.all(winners[:, 1] == 1)
    assert np.array_equal(winners + losers, one + other)
