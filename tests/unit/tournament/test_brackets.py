"""Bracket chances against plain enumeration of every outcome, closed forms and simulation."""

from __future__ import annotations

from itertools import permutations, product

import numpy as np
import pytest
from scipy.stats import norm

from nextpair.domain.errors import InvalidValueError
from nextpair.tournament.brackets import (
    any_bracket_chance,
    bracket_chances,
    bracket_odds,
    drawn_rounds,
    rounds_won,
)
from unit.tournament.pot_fields import DRAWS, GAME_SD_PINS, pot_field
from unit.tournament.test_side_pots import DOUBTS, FOUR_STANDARD_ERRORS, UNEVEN

EIGHT = np.array([205.0, 180, 195, 200, 210, 215, 222, 190])
PAYS = (25.0, 10.0)


def win_chances(forms):
    """Chance of each to beat each in a game; a tie is half a win."""
    return norm.cdf((forms[:, None] - forms[None, :]) / (np.sqrt(2) * GAME_SD_PINS))


def rng():
    return np.random.default_rng(4)


def by_outcomes(win):
    """Winning chances by going through all outcomes of all seven matches."""
    chances = np.zeros(8)
    for outcome in product((0, 1), repeat=7):
        likely, left, result = 1.0, list(range(8)), iter(outcome)
        while len(left) > 1:
            winners = []
            for first, second in zip(left[::2], left[1::2], strict=True):
                winner, loser = (first, second) if next(result) else (second, first)
                likely *= win[winner, loser]
                winners.append(winner)
            left = winners
        chances[left[0]] += likely
    return chances


def test_chances_are_those_of_every_outcome_gone_through():
    win = win_chances(EIGHT)
    chances = bracket_chances(win)
    np.testing.assert_allclose(chances, by_outcomes(win), atol=1e-14)
    assert chances.sum() == pytest.approx(1.0, abs=1e-14)


def test_of_four_the_draw_is_one_of_three():
    win = win_chances(EIGHT[:4])
    orders = [np.array(order) for order in permutations(range(4))]
    every = [bracket_chances(win[np.ix_(order, order)])[np.argsort(order)] for order in orders]
    np.testing.assert_allclose(drawn_rounds(win)[-1], np.mean(every, axis=0), atol=1e-14)


def test_equal_players_win_equally_often_in_every_size():
    for size in (2, 4, 8, 16, 32):
        won = rounds_won(np.full((size, size), 0.5))
        expected = 0.5 ** np.arange(size.bit_length())
        np.testing.assert_allclose(won, np.broadcast_to(expected[:, None], won.shape))


def test_no_more_than_eight_are_drawn_in_every_way():
    with pytest.raises(InvalidValueError, match="at most 8"):
        drawn_rounds(np.full((16, 16), 0.5))


def test_the_draws_of_eight_are_drawn_by_simulation_too():
    win = win_chances(EIGHT)
    exact = drawn_rounds(win)[-1]
    random = np.random.default_rng(9)
    drawn = [random.permutation(8) for _ in range(4000)]
    chances = np.array([bracket_chances(win[np.ix_(p, p)])[np.argsort(p)] for p in drawn])
    error = chances.std(axis=0) / np.sqrt(len(chances))
    assert (np.abs(exact - chances.mean(axis=0)) < FOUR_STANDARD_ERRORS * error).all()


def simulated(field, count, size=8, pays=PAYS, draws=DRAWS):
    """(draws,) what `count` brackets pay: opponents drawn for each, own games in all the same."""
    random = np.random.default_rng(21)
    rounds = size.bit_length() - 1
    others = np.delete(np.arange(len(field.form_pins)), field.me)
    doubt = field.form_sd_pins[field.me] * random.standard_normal(draws)
    own_form = field.form_pins[field.me] + doubt
    own = np.rint(own_form[:, None] + GAME_SD_PINS * random.standard_normal((draws, rounds)))
    total = np.zeros(draws)
    for _ in range(count):
        who = random.choice(others, size=(draws, size - 1))
        form = field.form_pins[who] + field.form_sd_pins[who] * random.standard_normal(who.shape)
        noise = GAME_SD_PINS * random.standard_normal((*who.shape, rounds))
        games = np.concatenate([own[:, None], np.rint(form[..., None] + noise)], axis=1)
        left = np.broadcast_to(np.arange(size), (draws, size))
        rows = np.arange(draws)[:, None]
        for number in range(rounds):
            scores = games[rows, left, number] + random.uniform(-0.25, 0.25, left.shape)
            first_wins = scores[:, ::2] > scores[:, 1::2]
            lost = np.where(first_wins, left[:, 1::2], left[:, ::2])
            left = np.where(first_wins, left[:, ::2], left[:, 1::2])
            if number == rounds - 1 and len(pays) > 1:
                total += pays[1] * (lost[:, 0] == 0)
        total += pays[0] * (left[:, 0] == 0)
    return total


@pytest.mark.parametrize("count", [1, 4])
def test_brackets_are_worth_what_simulation_pays(count):
    field = pot_field(np.tile(UNEVEN, 3), np.tile(DOUBTS, 3))
    odds = bracket_odds(field, 8, PAYS)
    paid = simulated(field, count)
    mean, sd = odds.of_all(field.belief, count)
    error = paid.std() / np.sqrt(len(paid))
    assert abs(mean - paid.mean()) < FOUR_STANDARD_ERRORS * error
    assert sd == pytest.approx(paid.std(), rel=0.03)
    chance = any_bracket_chance(field, 8, PAYS, count, rng())
    assert chance == pytest.approx((paid > 0).mean(), abs=0.01)


@pytest.mark.parametrize("size", [2, 4, 16, 32])
def test_equal_players_get_back_what_is_paid_by_the_place(size):
    field = pot_field([200.0] * 40, 0.0)
    odds = bracket_odds(field, size, (4.0, 2.0, 1.0))
    paid = 7.0 if size > 2 else 6.0
    assert odds.of_all(field.belief)[0] == pytest.approx(paid / size, rel=1e-6)


def test_brackets_of_one_bowler_spread_wider_than_brackets_of_several():
    field = pot_field([200.0] * 40)
    odds = bracket_odds(field, 8, PAYS)
    _, one = odds.of_all(field.belief, 1)
    _, three = odds.of_all(field.belief, 3)
    assert np.sqrt(3) * one * 1.1 < three < 3 * one


def test_where_everybody_is_in_the_bracket_every_draw_is_gone_through():
    field = pot_field(EIGHT)
    odds = bracket_odds(field, 8, PAYS)
    reached = drawn_rounds(win_chances(EIGHT))[:, 0]
    expected = PAYS[0] * reached[3] + PAYS[1] * (reached[2] - reached[3])
    assert odds.of_all(field.belief)[0] == pytest.approx(expected, rel=1e-3)
    assert float(field.belief @ odds.chance) == pytest.approx(reached[2], rel=1e-3)


def test_a_bracket_that_pays_nothing_is_worth_nothing():
    field = pot_field([200.0] * 9)
    odds = bracket_odds(field, 8, ())
    assert odds.of_all(field.belief, 2) == (0.0, 0.0)
    assert any_bracket_chance(field, 8, (), 2, rng()) == 0.0
