"""The account of a game adds up on the page, to the tenth, whatever the numbers are."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from debriefs import a_game
from nextpair.reports.game_parts import PARTS, told_parts, told_plan, told_sums

pins = st.floats(-80, 80, allow_subnormal=False)
TENTH = Fraction(1, 10)


def exactly(value: float) -> Fraction:
    """A number of tenths, as it is read on the page."""
    return Fraction(str(round(value, 1)))


@given(st.integers(0, 300), pins, pins, pins, pins, st.none() | pins)
def test_plan_and_parts_add_up_to_the_score_as_they_are_told(
    score, lane, release, choice, spares, strays
):
    game = a_game(
        1, score, lane_pins=lane, release_pins=release, choice_pins=choice, spares_pins=spares,
        strays_pins=strays,
    )  # fmt: skip
    told = told_parts(game)
    assert exactly(told_plan(game)) + sum(map(exactly, told.values())) == score
    for name, value in told.items():
        assert abs(value - getattr(game, name)) < TENTH


@given(st.lists(st.tuples(st.integers(0, 300), pins), min_size=1, max_size=8))
def test_sums_are_those_of_what_is_told(games):
    accounts = [a_game(n, score, lane_pins=lane) for n, (score, lane) in enumerate(games, 1)]
    sums = told_sums(accounts)
    for name, value in sums.items():
        assert exactly(value) == sum(exactly(told_parts(game)[name]) for game in accounts)


def test_a_part_that_nobody_saw_is_not_told():
    told = told_parts(a_game(1, 200, strays_pins=None))
    assert set(PARTS) - set(told) == {"strays_pins", "carry_pins"}


@pytest.mark.parametrize("score", [0, 300])
def test_the_ends_of_the_scale_add_up_too(score):
    game = a_game(1, score)
    assert sum(map(exactly, told_parts(game).values())) + exactly(told_plan(game)) == score
