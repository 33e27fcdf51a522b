"""The distance between films is a metric, and hands do not matter to it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import wasserstein_distance

from nextpair.domain.lane import BOARDS, CELLS
from nextpair.planning.film_distance import felt_share, film_distance

ROUNDING = 1e-9
SOME = settings(max_examples=60, deadline=None)


@st.composite
def films(draw):
    """A film of random passes, with a gutter side and an end that may be dry, or a dry lane."""
    film = np.zeros((CELLS, BOARDS))
    for _ in range(draw(st.integers(0, 4))):
        near, far = sorted(draw(st.tuples(*[st.integers(0, CELLS)] * 2)))
        right, left = sorted(draw(st.tuples(*[st.integers(0, BOARDS)] * 2)))
        film[near:far, right:left] += draw(st.floats(0.0, 8.0, allow_subnormal=False))
    if draw(st.booleans()):
        seed = draw(st.integers(0, 2**32 - 1))
        film *= np.random.default_rng(seed).uniform(0.5, 1.5, film.shape)
    return film


@SOME
@given(films(), films())
def test_it_is_the_same_both_ways_and_never_negative(one, other):
    there, back = film_distance(one, other), film_distance(other, one)
    assert there.feet == pytest.approx(back.feet, abs=ROUNDING)
    assert min(there.grip_ft, there.across_boards, there.oil_ml) >= 0.0


@SOME
@given(films(), films())
def test_it_is_nothing_for_the_same_film_alone(one, other):
    assert film_distance(one, one.copy()).feet == 0.0
    assert (film_distance(one, other).feet == 0.0) == np.array_equal(one, other)


@SOME
@given(films(), films(), films())
def test_no_way_round_is_shorter(one, between, other):
    way_round = film_distance(one, between).feet + film_distance(between, other).feet
    assert film_distance(one, other).feet <= way_round + ROUNDING


@SOME
@given(films(), films())
def test_mirrored_films_are_as_far_apart(one, other):
    mirrored = film_distance(one[:, ::-1], other[:, ::-1])
    assert mirrored.feet == pytest.approx(film_distance(one, other).feet, abs=ROUNDING)


@SOME
@given(films(), films())
def test_across_is_the_earth_movers_distance_of_scipy(one, other):
    boards = np.arange(1, BOARDS + 1)
    weights = [film.sum(axis=0) if film.any() else np.ones(BOARDS) for film in (one, other)]
    expected = wasserstein_distance(boards, boards, *weights)
    assert film_distance(one, other).across_boards == pytest.approx(expected, abs=1e-7)


@SOME
@given(films(), films())
def test_grip_is_no_more_than_the_lane_is_long(one, other):
    assert film_distance(one, other).grip_ft <= 60.0
    assert felt_share(one).min() >= 0.0
    assert felt_share(one).max() <= 1.0
