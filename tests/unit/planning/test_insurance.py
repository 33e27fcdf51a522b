"""Balls for the bad case: what fills a bag's free places."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from nextpair.domain.errors import InvalidValueError
from nextpair.planning.bad_case import BAD_SHARE, worst_tenth
from nextpair.planning.bag import choose_bag
from nextpair.planning.insurance import LEAST_INSURANCE_PINS, insure

BALLS = ("Kestrel", "Heron", "Heron", "Plover")


@given(st.lists(st.floats(100.0, 250.0), min_size=1, max_size=40))
def test_the_worst_tenth_is_the_tail_mean_of_linear_programming(pins):
    """The least mean that weights of at most 1/(0.1 n) can make, by SciPy's HiGHS."""
    found = linprog(
        pins,
        A_eq=np.ones((1, len(pins))),
        b_eq=[1.0],
        bounds=(0.0, 1.0 / (BAD_SHARE * len(pins))) if len(pins) >= 10 else (0.0, 1.0),
    )
    assert worst_tenth(pins) == pytest.approx(found.fun, abs=1e-6)


def test_the_worst_tenth_of_nothing_is_refused():
    with pytest.raises(InvalidValueError, match="pins"):
        worst_tenth([])


def insured(value, places, limit_of_best=None):
    best = choose_bag(value, BALLS, limit_of_best)
    return insure(best, value, BALLS, places)


TWENTY_CASES = np.full((4, 20), 180.0)
TWENTY_CASES[0] = 200.0
TWENTY_CASES[0, :2] = 170.0
"""One ball for all cases; in two of twenty it is bad, and there Heron's second surface is best."""
TWENTY_CASES[2, :2] = 178.0
TWENTY_CASES[1, :2] = TWENTY_CASES[3, :2] = 160.0


def test_a_free_place_goes_to_the_ball_that_saves_the_worst_tenth():
    bag = insured(TWENTY_CASES, 2, limit_of_best=1)
    assert bag.options == (0, 2)
    assert bag.bad_case_pins == pytest.approx(178.0)
    place = bag.options.index(2)
    assert bag.bad_case_cost_pins[place] == pytest.approx(8.0)
    assert bag.cost_pins[place] == pytest.approx(8.0 * 2 / 20)


def test_next_comes_the_ball_that_stands_in_for_one_that_is_out():
    value = np.array([[200.0] * 10, [150.0] * 10, [190.0] * 10, [195.0] * 10])
    bag = insured(value, 3)
    assert bag.best.options == (0,)
    # With Kestrel out, Plover's 195 is best; Heron adds nothing beside it.
    assert bag.options == (0, 3)
    assert bag.cost_pins == pytest.approx((5.0, 0.0))
    assert bag.stands_in_for == (None, (0, None))


def test_what_a_ball_saves_is_told_beside_what_else_would_strike():
    value = np.array(
        [[200.0] * 5 + [150.0] * 5, [150.0] * 5 + [200.0] * 5, [0.0] * 10, [190.0] * 10]
    )
    bag = insured(value, 3, limit_of_best=2)
    assert bag.options == (0, 1, 3)
    # Without one of the two the other makes 175 on average; with Plover beside it 195.
    assert bag.stands_in_for == (None, None, (0, pytest.approx(20.0)))


def test_a_ball_that_saves_less_than_a_named_number_of_pins_stays_at_home():
    value = np.array([[200.0] * 10, [1.0] * 10, [1.0] * 10, [1.0] * 10])
    value[3, 0] = 200.0 + 0.5 * LEAST_INSURANCE_PINS
    assert insured(value, None, limit_of_best=1).options != ()
    assert insured(value, 1, limit_of_best=1).options == (0,)


@pytest.mark.parametrize("places", [1, 2, 3, None])
def test_no_more_balls_come_than_there_are_places_and_one_surface_of_each(places):
    rng = np.random.default_rng(5)
    value = 190.0 + rng.standard_normal((4, 12))
    bag = insured(value, places, limit_of_best=1)
    names = [BALLS[option] for option in bag.options]
    assert len(set(names)) == len(names) <= (places or 3)
    assert set(bag.best.options) <= set(bag.options)
    held = value[list(bag.options)].max(axis=0)
    assert bag.mean_pins == pytest.approx(held.mean())
    assert bag.bad_case_pins == pytest.approx(held.min(), abs=0.5)
    for option, cost in zip(bag.options, bag.cost_pins, strict=True):
        rest = [other for other in bag.options if other != option]
        without = value[rest].max(axis=0).mean() if rest else 0.0
        assert cost == pytest.approx(bag.mean_pins - without)
