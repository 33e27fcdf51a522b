"""The best bag under a limit, against trying every bag."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nextpair.domain.errors import InvalidValueError
from nextpair.planning.bag import EQUAL_PINS, choose_bag

CLOSE_PINS = 3 * EQUAL_PINS


@st.composite
def lockers(draw):
    """Value table (options, games), ball of each option, limit and required balls."""
    options, games = draw(st.integers(1, 7)), draw(st.integers(1, 4))
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    spread_pins = draw(st.sampled_from([0.1, 2.0, 20.0]))
    value = 190.0 + spread_pins * rng.standard_normal((options, games))
    if draw(st.booleans()):
        value = value.round()
    balls = [f"ball {draw(st.integers(1, 4))}" for _ in range(options)]
    required = draw(st.sets(st.sampled_from(["ball 1", "spare ball"])))
    limit = draw(st.none() | st.integers(len(required) + 1, 6))
    return value, balls, limit, sorted(required)


def every_bag(balls, limit, required):
    for size in range(1, len(balls) + 1):
        for bag in combinations(range(len(balls)), size):
            names = [balls[option] for option in bag]
            places = len(set(names) | set(required))
            if len(set(names)) == size and (limit is None or places <= limit):
                yield bag


@given(lockers())
def test_the_bag_is_the_best_of_all_bags_and_has_no_ball_to_spare(locker):
    value, balls, limit, required = locker
    choice = choose_bag(value, balls, limit, required)
    scored = {bag: value[list(bag)].max(axis=0).sum() for bag in every_bag(balls, limit, required)}
    best = max(scored.values())
    assert scored[choice.options] == pytest.approx(choice.value_pins)
    assert choice.value_pins == pytest.approx(best, abs=CLOSE_PINS)
    fewest = min(
        sum(balls[option] not in required for option in bag)
        for bag, score in scored.items()
        if score >= best - 1e-9
    )
    assert sum(balls[option] not in required for option in choice.options) <= fewest


TWO_LANES = np.array([[205.0, 190.0], [204.0, 191.0], [190.0, 206.0], [198.0, 199.0]])
"""Two surfaces of one ball, a ball for the second game, and one for both."""
BALLS = ["Kestrel", "Kestrel", "Heron", "Plover"]


def test_one_place_goes_to_the_ball_for_both_games():
    choice = choose_bag(TWO_LANES, BALLS, 1)
    assert choice.options == (3,)
    assert choice.option_in_game == (3, 3)
    assert choice.value_pins == pytest.approx(198 + 199)


def test_two_places_go_to_a_ball_for_each_game():
    choice = choose_bag(TWO_LANES, BALLS, 2)
    assert choice.options == (0, 2)
    assert choice.option_in_game == (0, 2)
    assert choice.value_pins == pytest.approx(205 + 206)
    # Without Kestrel 190 + 206 is left, without Heron 205 + 190; over two games.
    assert choice.cost_if_left_pins_per_game == pytest.approx((15 / 2, 16 / 2))


def test_a_third_place_stays_empty_where_no_ball_adds_to_it():
    assert choose_bag(TWO_LANES, BALLS, 3).options == (0, 2)
    assert choose_bag(TWO_LANES, BALLS, None).options == (0, 2)


def test_the_spare_ball_takes_its_place():
    choice = choose_bag(TWO_LANES, BALLS, 2, required_balls=["Paper Moon"])
    assert choice.options == (3,)


def test_a_required_ball_with_options_is_thrown_where_it_is_best():
    choice = choose_bag(TWO_LANES, BALLS, 2, required_balls=["Heron"])
    assert choice.options == (0, 2)
    alone = choose_bag(TWO_LANES, BALLS, 1, required_balls=["Heron"])
    assert alone.options == (2,)


def test_the_only_ball_is_worth_all_its_pins():
    choice = choose_bag([[200.0, 190.0]], ["Kestrel"], 1)
    assert choice.cost_if_left_pins_per_game == (195.0,)


def test_equal_balls_are_taken_in_the_order_of_the_locker():
    assert choose_bag([[200.0], [200.0]], ["Kestrel", "Heron"], None).option_in_game == (0,)


@pytest.mark.parametrize(
    ("value", "balls", "limit", "required", "field"),
    [
        ([[200.0]], ["Kestrel"], 0, [], "ball_limit"),
        ([[200.0]], ["Kestrel"], 1, ["Paper Moon"], "ball_limit"),
        ([[200.0]], ["Kestrel", "Heron"], None, [], "value"),
        ([200.0], ["Kestrel"], None, [], "value"),
        ([[float("nan")]], ["Kestrel"], None, [], "value"),
    ],
    ids=["no place", "spare ball only", "a row is missing", "no games", "no number"],
)
def test_a_locker_without_a_bag_is_refused(value, balls, limit, required, field):
    with pytest.raises(InvalidValueError, match=field):
        choose_bag(value, balls, limit, required)
