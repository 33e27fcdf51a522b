"""Single and double elimination against everything that can happen, gone through one by one."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from nextpair.tournament.brackets import rounds_won
from nextpair.tournament.elimination import (
    double_elimination,
    seats_of_seeds,
    single_elimination,
)
from nextpair.tournament.match import win_chances
from unit.tournament.match_play import GAME_SD_PINS, errors_of, match_play, place_shares

FORMS = (214.0, 206, 201, 198, 195, 190, 188, 181)


def chances_of(forms, games=1):
    return win_chances(np.asarray(forms, float), GAME_SD_PINS, games)


def doubly(win):
    """(k,) chance of each of 4 or 8 seeds to win a double elimination, every result gone through:
    seats and crossing written out, losses remembered."""
    sheet = {4: (0, 3, 1, 2), 8: (0, 7, 3, 4, 1, 6, 2, 5)}[len(win)]

    @cache
    def from_here(unbeaten, beaten, turn):
        if len(unbeaten) == len(beaten) == 1:
            (a,), (b,) = unbeaten, beaten
            return unit(a) * (win[a, b] + win[b, a] * win[a, b]) + unit(b) * win[b, a] ** 2
        total = np.zeros(len(win))
        if turn == "beaten":
            for chance, through, _ in results(pairs_of(beaten)):
                total = total + chance * from_here(unbeaten, through, "unbeaten")
            return total
        for chance, through, fallen in results(pairs_of(unbeaten)):
            met = tuple(zip(beaten, reversed(fallen), strict=True))
            for then, stays, _ in results(met):
                total = total + chance * then * from_here(through, stays, "beaten")
        return total

    def unit(seed):
        return np.eye(len(win))[seed]

    def pairs_of(seeds):
        return tuple(zip(seeds[::2], seeds[1::2], strict=True))

    @cache
    def results(pairs):
        if not pairs:
            return ((1.0, (), ()),)
        (a, b), rest = pairs[0], results(pairs[1:])
        return tuple(
            (chance * win[x, y], (x, *won), (y, *lost))
            for x, y in ((a, b), (b, a))
            for chance, won, lost in rest
        )

    return sum(
        chance * from_here(won, lost, "beaten") for chance, won, lost in results(pairs_of(sheet))
    )


def test_the_sheet_keeps_the_best_apart_as_long_as_can_be():
    assert seats_of_seeds(8).tolist() == [0, 7, 3, 4, 1, 6, 2, 5]
    for seats in (2, 4, 16, 64):
        order = seats_of_seeds(seats)
        while len(order) > 1:
            assert np.all(order[::2] + order[1::2] == len(order) - 1)
            order = np.minimum(order[::2], order[1::2])


@pytest.mark.parametrize("games", [1, 3])
def test_single_elimination_is_that_of_the_exact_bracket(games):
    order = seats_of_seeds(8)
    exact = rounds_won(chances_of(FORMS, games)[order[:, None], order])[:, np.argsort(order)]
    shares = place_shares(single_elimination(match_play(FORMS, games)))
    reached = np.stack([shares[:, :places].sum(axis=1) for places in (8, 4, 2, 1)])
    assert np.all(np.abs(reached - exact) <= 4 * errors_of(exact) + 1e-9)


@pytest.mark.parametrize("forms", [FORMS, FORMS[:4], FORMS[::-1], (200.0,) * 8])
def test_double_elimination_is_that_of_every_result_gone_through(forms):
    exact = doubly(chances_of(forms))
    assert exact.sum() == pytest.approx(1)
    shares = place_shares(double_elimination(match_play(forms)))[:, 0]
    assert np.all(np.abs(shares - exact) <= 4 * errors_of(exact))


def test_two_play_until_one_is_beaten_twice():
    win = chances_of((206, 196))[0, 1]
    shares = place_shares(double_elimination(match_play((206, 196))))[0]
    assert shares[0] == pytest.approx(win**2 * (3 - 2 * win), abs=4 * errors_of(0.5))


@pytest.mark.parametrize("play_out", [single_elimination, double_elimination])
@pytest.mark.parametrize("entrants", [4, 8, 16])
def test_equals_win_alike(play_out, entrants):
    shares = place_shares(play_out(match_play([200] * entrants)))[:, 0]
    assert np.all(np.abs(shares - 1 / entrants) <= 4 * errors_of(1 / entrants))


@pytest.mark.parametrize("play_out", [single_elimination, double_elimination])
def test_a_better_seed_never_wins_less_often_and_a_second_chance_helps_the_best(play_out):
    shares = place_shares(play_out(match_play(np.linspace(220, 178, 8))))[:, 0]
    assert np.all(np.diff(shares) < 0)
    assert doubly(chances_of(FORMS))[0] > rounds_won(chances_of(FORMS))[-1, 0]


def test_byes_go_to_the_best_seeds():
    win = chances_of(FORMS[:3])
    shares = place_shares(single_elimination(match_play(FORMS[:3])))
    first = win[0, 1] * win[1, 2] + win[0, 2] * win[2, 1]
    assert shares[0, 0] == pytest.approx(first, abs=4 * errors_of(first))
    assert shares[0, 2] == 0
    assert shares[1, 2] == pytest.approx(win[2, 1], abs=4 * errors_of(win[2, 1]))


@pytest.mark.parametrize("play_out", [single_elimination, double_elimination])
@pytest.mark.parametrize("entrants", [1, 2, 3, 5, 6, 7, 11, 20])
def test_with_byes_everybody_still_comes_to_one_place(play_out, entrants):
    shares = place_shares(play_out(match_play(np.linspace(210, 190, entrants), draws=2000)))
    assert shares.sum(axis=0) == pytest.approx(np.ones(entrants))
    assert shares.sum(axis=1) == pytest.approx(np.ones(entrants))


def test_who_goes_out_in_one_round_is_placed_by_seed():
    placed = single_elimination(match_play(FORMS, draws=2000))
    assert np.all(np.diff(placed[:, 4:], axis=1) > 0)
    assert np.all(np.diff(placed[:, 2:4], axis=1) > 0)
    doubles = double_elimination(match_play(FORMS, draws=2000))
    assert np.all(np.diff(doubles[:, 4:6], axis=1) > 0)
    assert np.all(np.diff(doubles[:, 6:], axis=1) > 0)


def test_who_falls_crosses_over_so_as_not_to_meet_the_same_again():
    # The better always wins. Seeds 3 and 4 meet at once, and next only where two are left below.
    forms = [7000, 3000, 2000, 6000, 5000, 1000, 0, 4000]
    placed = double_elimination(match_play(forms, draws=1))
    assert placed.tolist() == [[0, 3, 1, 4, 2, 5, 6, 7]]
