"""An eliminator: who is left after each game, and what that is worth, against bowling it out."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.tournament.eliminator import eliminator_odds, left_after
from unit.tournament.pot_fields import bowl_out, pot_field, standard_error
from unit.tournament.test_side_pots import DOUBTS, FOUR_STANDARD_ERRORS, UNEVEN

AMOUNTS = (150.0, 60.0, 30.0)


def bowled_out(field, opponents, amounts):
    """What the bowler, entrant 0, gets in each draw, game by game by hand."""
    own, others = bowl_out(field, opponents)
    games = np.concatenate([own[:, None], others], axis=1)
    games = games + np.random.default_rng(5).uniform(-0.25, 0.25, games.shape)
    keeps = left_after(opponents + 1, field.games, len(amounts))
    paid = np.zeros(len(games))
    for draw, scores in enumerate(games):
        left = list(range(opponents + 1))
        for number, kept in enumerate(keeps):
            left = sorted(left, key=lambda one: -scores[one, number])[:kept]
        order = sorted(left, key=lambda one: -scores[one, len(keeps)])
        if 0 in order[: len(amounts)]:
            paid[draw] = amounts[order.index(0)]
    return paid


def test_halves_go_out_until_those_who_are_paid_are_left():
    assert left_after(46, 6, 3) == (23, 12, 6, 3)
    assert left_after(8, 6, 1) == (4, 2, 1)
    assert left_after(20, 3, 2) == (10, 5)
    assert left_after(3, 6, 5) == ()


@pytest.mark.parametrize(("opponents", "amounts"), [(45, AMOUNTS), (7, (80.0,)), (2, AMOUNTS)])
def test_equal_entrants_get_their_share(opponents, amounts):
    field = pot_field([200.0] * 6)
    odds = eliminator_odds(field, opponents, amounts, np.random.default_rng(1))
    fair = sum(amounts[: opponents + 1]) / (opponents + 1)
    # 4,000 draws of the others' bars leave about two in a hundred.
    assert odds.of_all(field.belief)[0] == pytest.approx(fair, rel=0.05)


@pytest.mark.parametrize("games_over", [0, 2])
def test_an_eliminator_is_worth_what_simulation_pays(games_over):
    bowled = np.rint(np.random.default_rng(8).normal(205, 20, (len(UNEVEN), 2)))[:, :games_over]
    bowled[:1] = 231
    field = pot_field(UNEVEN, DOUBTS, bowled=bowled)
    odds = eliminator_odds(field, 19, AMOUNTS, np.random.default_rng(2))
    paid = bowled_out(field, 19, AMOUNTS)
    mean, sd = odds.of_all(field.belief)
    assert abs(mean - paid.mean()) < FOUR_STANDARD_ERRORS * 1.5 * standard_error(paid)
    assert sd == pytest.approx(paid.std(), rel=0.08)
    assert float(field.belief @ odds.chance) == pytest.approx((paid > 0).mean(), rel=0.08)


def test_whoever_was_left_behind_wins_nothing():
    bowled = np.array([[120.0], *[[220.0]] * 5])
    field = pot_field([200.0] * 6, bowled=bowled)
    odds = eliminator_odds(field, 15, AMOUNTS, np.random.default_rng(2))
    assert odds.of_all(field.belief) == pytest.approx((0.0, 0.0))
