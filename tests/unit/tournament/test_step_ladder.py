"""The step ladder against its chances multiplied out."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.tournament.match import win_chances
from nextpair.tournament.step_ladder import step_ladder
from unit.tournament.match_play import GAME_SD_PINS, errors_of, match_play, place_shares


def places_on_the_ladder(win):
    """(k, k) chance of each seed to come to each place. Closed form: who climbs, step by step."""
    seeds = len(win)
    places, climbing = np.zeros((seeds, seeds)), np.eye(seeds)[-1]
    for waiting in reversed(range(seeds - 1)):
        loses = climbing * win[waiting]
        places[:, waiting + 1] = loses
        places[waiting, waiting + 1] = climbing @ win[:, waiting]
        climbing = climbing * win[:, waiting]
        climbing[waiting] = loses.sum()
    places[:, 0] = climbing
    return places


@pytest.mark.parametrize("forms", [[214, 206, 201, 198, 195], [200] * 5, [190, 215], [200]])
def test_drawn_places_are_those_multiplied_out(forms):
    exact = places_on_the_ladder(win_chances(np.array(forms, float), GAME_SD_PINS, 1))
    assert exact.sum(axis=0) == pytest.approx(np.ones(len(forms)))
    shares = place_shares(step_ladder(match_play(forms)))
    assert np.all(np.abs(shares - exact) <= 4 * errors_of(exact))


def test_of_equals_the_first_seed_has_half_and_each_below_half_of_the_one_above():
    shares = place_shares(step_ladder(match_play([200] * 5)))[:, 0]
    expected = np.array([8, 4, 2, 1, 1]) / 16
    assert np.all(np.abs(shares - expected) <= 4 * errors_of(expected))


def test_a_better_seed_never_wins_less_often():
    shares = place_shares(step_ladder(match_play([207, 205, 203, 201, 199, 197])))[:, 0]
    assert np.all(np.diff(shares) < 0)
