"""Films under doubt: what a lane holds if it was laid and worn otherwise than planned."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.domain.lane import BOARDS, CELL_M, CELLS
from nextpair.domain.units import FOOT_M
from nextpair.physics.film_draws import drawn_films, film_draws

LENGTH_M = 40.0 * FOOT_M
PLACE_M = (np.arange(CELLS) + 0.5) * CELL_M
FRESH = np.repeat(np.where(PLACE_M < LENGTH_M, 4.0 * (1 - PLACE_M / LENGTH_M), 0.0), BOARDS)
FRESH = FRESH.reshape(CELLS, BOARDS)
WORN = np.where(PLACE_M[:, None] < LENGTH_M, 0.5 * FRESH, 0.2)


def one(**differences: float) -> np.ndarray:
    return drawn_films(FRESH, WORN, film_draws(**differences), LENGTH_M)[0]


def test_without_a_difference_a_film_is_the_planned_one_to_the_last_digit():
    np.testing.assert_array_equal(one(), WORN)


def test_wear_and_carried_oil_count_from_the_fresh_film():
    assert one(wear_factor=0.0) == pytest.approx(FRESH)
    assert one(wear_factor=9.0).min() == 0.0
    carried = one(carry_factor=3.0)
    past = PLACE_M > LENGTH_M
    np.testing.assert_allclose(carried[past], 0.6)
    np.testing.assert_allclose(carried[~past], WORN[~past])


def test_a_flatter_pattern_has_more_at_the_gutters_and_less_in_the_middle():
    flat = one(flatter=0.1)
    np.testing.assert_allclose(flat[10, [0, 38]], np.exp(0.1) * WORN[10, 0])
    np.testing.assert_allclose(flat[10, 19], np.exp(-0.1) * WORN[10, 19])


def test_a_longer_pattern_holds_the_same_films_farther_down():
    longer = one(longer_m=4.0 * FOOT_M)
    at_20_ft, at_22_ft = (int(feet * FOOT_M / CELL_M) for feet in (20.0, 22.0))
    # On an even slope linear interpolation is exact: 20 ft of 40 lie at 22 ft of 44.
    assert np.interp(22.0 * FOOT_M, PLACE_M, longer[:, 5]) == pytest.approx(
        np.interp(20.0 * FOOT_M, PLACE_M, WORN[:, 5]), abs=1e-9
    )
    assert longer[at_22_ft, 5] < longer[at_20_ft, 5]


def test_every_draw_has_its_own_film_and_worn_films_may_be_one_each():
    draws = film_draws(film_factor=[1.0, 1.1, 0.9])
    films = drawn_films(FRESH, np.stack([WORN, FRESH, FRESH]), draws, LENGTH_M)
    np.testing.assert_allclose(films[0], WORN)
    np.testing.assert_allclose(films[1], 1.1 * FRESH)
    assert films.shape == (3, CELLS, BOARDS)
