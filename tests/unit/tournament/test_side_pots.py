"""What side pots bring back: closed forms, and the same pots bowled out by simulation."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.tournament.pot_field import FORMS_PINS, spread_over
from nextpair.tournament.side_pots import (
    best_game_odds,
    high_game_odds,
    mystery_game_odds,
    series_odds,
)
from nextpair.tournament.stake_odds import fair_form_pins
from unit.tournament.pot_fields import bowl_out, paid_out, pot_field, standard_error

UNEVEN = (205, 180, 195, 200, 210, 215, 222, 190)
DOUBTS = (9, 5, 6, 7, 8, 9, 10, 4)
AMOUNTS = (120.0, 60.0, 20.0)
OPPONENTS = 23
FOUR_STANDARD_ERRORS = 4
KINDS = {
    "game": (lambda f, m, a: high_game_odds(f, 5, m, a), lambda games: games[..., 5]),
    "best": (best_game_odds, lambda games: games.max(axis=-1)),
    "series": (series_odds, lambda games: games.sum(axis=-1)),
}


def fields():
    rng = np.random.default_rng(3)
    bowled = np.rint(rng.normal(200, 27, (len(UNEVEN), 3)))
    return {
        "fresh": pot_field(UNEVEN, DOUBTS),
        "half bowled": pot_field(UNEVEN, DOUBTS, bowled=bowled),
        "strong": pot_field(np.asarray(UNEVEN) + 45, DOUBTS),
    }


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("opponents", [45, 7, 1])
def test_equal_entrants_get_their_share_of_what_is_paid_back(kind, opponents):
    field = pot_field([200.0] * 5)
    amounts = [5.0, 3.0, 1.0][: opponents + 1]
    odds = KINDS[kind][0](field, opponents, amounts)
    # A mean over whole pins leaves a thousandth.
    assert odds.of_all(field.belief)[0] == pytest.approx(sum(amounts) / (opponents + 1), rel=1e-3)


def test_a_second_entry_brings_less_than_the_first():
    field = pot_field([200.0] * 5)
    first, both = (
        best_game_odds(field, 37, AMOUNTS, own).of_all(field.belief)[0] for own in (1, 2)
    )
    assert first < both < 2 * first


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", ["fresh", "half bowled", "strong"])
def test_a_pot_is_worth_what_simulation_pays(kind, name):
    field = fields()[name]
    value, counted = KINDS[kind]
    odds = value(field, OPPONENTS, AMOUNTS)
    own, others = bowl_out(field, OPPONENTS)
    paid = paid_out(counted(own), counted(others), AMOUNTS)
    mean, sd = odds.of_all(field.belief)
    assert abs(mean - paid.mean()) < FOUR_STANDARD_ERRORS * standard_error(paid)
    assert sd == pytest.approx(paid.std(), rel=0.05)
    cashed = (paid > 0).astype(float)
    chance = float(field.belief @ odds.chance)
    assert abs(chance - cashed.mean()) < FOUR_STANDARD_ERRORS * standard_error(cashed)


def test_games_of_one_form_are_won_together():
    field = pot_field(UNEVEN, DOUBTS)
    odds = high_game_odds(field, 0, OPPONENTS, AMOUNTS)
    own, others = bowl_out(field, OPPONENTS)
    paid = sum(paid_out(own[:, game], others[:, :, game], AMOUNTS) for game in range(6))
    mean, sd = odds.of_all(field.belief, stakes=6)
    assert abs(mean - paid.mean()) < FOUR_STANDARD_ERRORS * standard_error(paid)
    # Opponents are others in each game here, the same ones in the simulation: hardly a difference.
    assert sd == pytest.approx(paid.std(), rel=0.05)


def test_a_mystery_game_is_any_of_the_games_by_lot():
    field = fields()["half bowled"]
    odds = mystery_game_odds(field, OPPONENTS, AMOUNTS)
    own, others = bowl_out(field, OPPONENTS)
    paid = np.concatenate(
        [paid_out(own[:, game], others[:, :, game], AMOUNTS) for game in range(6)]
    )
    mean, sd = odds.of_all(field.belief)
    assert abs(mean - paid.mean()) < FOUR_STANDARD_ERRORS * standard_error(paid)
    assert sd == pytest.approx(paid.std(), rel=0.05)


def test_among_equals_a_mystery_game_is_worth_a_high_game():
    field = pot_field([200.0] * 4)
    one, other = (
        odds.of_all(field.belief)
        for odds in (
            mystery_game_odds(field, 19, AMOUNTS),
            high_game_odds(field, 0, 19, AMOUNTS),
        )
    )
    assert one == pytest.approx(other)


def test_the_best_of_one_game_is_that_game():
    field = pot_field(UNEVEN, DOUBTS, games=1)
    best, high = best_game_odds(field, 9, AMOUNTS), high_game_odds(field, 0, 9, AMOUNTS)
    np.testing.assert_allclose(best.returned, high.returned, rtol=2e-4)


def test_two_entries_of_one_game_take_two_places():
    field = pot_field([200.0] * 3)
    two = best_game_odds(field, 0, [10.0, 4.0], own_entries=2)
    assert two.of_all(field.belief) == pytest.approx((14.0, 0.0), abs=1e-6)


def test_a_better_form_is_worth_more_and_one_form_makes_it_fair():
    field = pot_field([200.0] * 6)
    fee = sum(AMOUNTS) / 24
    odds = high_game_odds(field, 0, 23, AMOUNTS)
    assert (np.diff(odds.returned) >= -1e-9).all()
    assert fair_form_pins(odds.returned - fee) == pytest.approx(200.0, abs=0.5)
    assert fair_form_pins(odds.returned - 1000.0) is None


def test_a_game_that_was_bowled_is_not_bowled_again():
    bowled = np.array([[279.0], [200.0], [210.0]])
    field = pot_field([180.0, 200.0, 210.0], bowled=bowled)
    odds = high_game_odds(field, 0, 20, AMOUNTS)
    assert odds.of_all(field.belief) == pytest.approx((120.0, 0.0), abs=1e-9)


def test_laid_on_a_grid_weights_keep_their_mean():
    values, weights = np.array([200.3, 187.9, 214.0]), np.array([0.2, 0.5, 0.3])
    laid = spread_over(FORMS_PINS, values, weights)
    assert laid.sum() == pytest.approx(1.0)
    assert laid @ FORMS_PINS == pytest.approx(values @ weights)
