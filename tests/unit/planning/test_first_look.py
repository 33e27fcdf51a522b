"""The first look: what it leaves out against a full study of everything."""

from __future__ import annotations

from functools import cache

import numpy as np

from nextpair.planning.bag import choose_bag
from nextpair.planning.doubt import outer_doubt
from nextpair.planning.first_look import LOOK_PINS, studied
from nextpair.planning.study import Study
from small_event import small_workings, unheard

WORK = small_workings()
FULL = WORK.study


@cache
def chosen() -> Study:
    return studied(WORK.event, FULL.doubt, WORK.films, WORK.pins, unheard)


def test_options_are_left_out_and_every_one_was_looked_at():
    look = chosen().first_look
    assert look is not None
    assert look.options == FULL.options
    assert 0 < len(chosen().options) < len(FULL.options)
    assert set(chosen().options) <= set(FULL.options)


def test_no_game_loses_its_best_option():
    """Against the study of every option, which leaves nothing out."""
    kept = [FULL.options.index(ball) for ball in chosen().options]
    best = FULL.game_values.max(axis=0)
    np.testing.assert_allclose(FULL.game_values[kept].max(axis=0), best, atol=0.1)
    np.testing.assert_allclose(chosen().game_values, FULL.game_values[kept], atol=1e-3)


def test_the_bag_is_worth_what_the_best_of_all_options_is():
    """Against the proven optimum over the options that were left out as well."""
    worth = []
    for study in (FULL, chosen()):
        values = study.answered_values.reshape(len(study.options), -1)
        bag = choose_bag(values, [ball.name for ball in study.options], 2)
        worth.append(bag.value_pins / values.shape[1])
    assert worth[1] <= worth[0] + 1e-6
    assert worth[1] > worth[0] - 0.1


def test_the_look_is_not_farther_off_than_it_allows_for():
    look = chosen().first_look
    assert look is not None
    error = look.answered_values.mean(axis=2) - FULL.answered_values.mean(axis=2)
    assert np.std(error - error.mean(axis=0)) < LOOK_PINS / 2


def test_the_lanes_looked_at_lie_on_both_sides_of_what_is_planned():
    doubt = outer_doubt()
    assert doubt.dry_factor[0] < 1.0 < doubt.dry_factor[1]
    assert doubt.oil.film_factor[0] > 1.0 > doubt.oil.film_factor[1]
    assert doubt.oil.wear_factor[0] < 1.0 < doubt.oil.wear_factor[1]
