"""What the trade says of a film: units, volume, ratio, class, rule of 31."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nextpair.domain.bowler import Hand
from nextpair.domain.lane import BOARDS, CELL_M, CELLS
from nextpair.domain.units import FOOT_M, OIL_UNIT_UM
from nextpair.physics.film import (
    SportClass,
    film_by_foot_units,
    film_line_units,
    film_units,
    pattern_ratio,
    rule_of_31_exit_board,
    side_ratio,
    sport_class,
)

LENGTH_M = 43.0 * FOOT_M


def test_units_are_films_in_the_trade_unit():
    film_um = np.full((CELLS, BOARDS), 3.0 * OIL_UNIT_UM)
    np.testing.assert_allclose(film_units(film_um), 3.0, rtol=1e-14)


def test_the_ratio_is_inside_over_outside_over_the_oiled_length():
    film_um = np.full((CELLS, BOARDS), 1.0)
    film_um[:, 10:29] = 5.0
    film_um[86:] = 9.0
    assert pattern_ratio(film_um, LENGTH_M) == pytest.approx(5.0, rel=1e-12)


def test_the_ratio_looks_at_both_sides():
    film_um = np.full((CELLS, BOARDS), 2.0)
    film_um[:, :10] = 1.5
    film_um[:, 29:] = 0.5
    assert pattern_ratio(film_um, LENGTH_M) == pytest.approx(2.0, rel=1e-12)
    assert pattern_ratio(film_um[:, ::-1], LENGTH_M) == pytest.approx(2.0, rel=1e-12)


def test_a_sides_ratio_looks_at_its_own_side():
    film_um = np.full((CELLS, BOARDS), 2.0)
    film_um[:, :10] = 1.25
    film_um[:, 29:] = 0.5
    assert side_ratio(film_um, LENGTH_M, Hand.RIGHT) == pytest.approx(1.6, rel=1e-12)
    assert side_ratio(film_um, LENGTH_M, Hand.LEFT) == pytest.approx(4.0, rel=1e-12)
    film_um[:, :10] = 0.0
    assert side_ratio(film_um, LENGTH_M, Hand.RIGHT) == math.inf


def test_the_ratio_is_infinite_with_dry_outside_boards():
    film_um = np.zeros((CELLS, BOARDS))
    film_um[:60, 10:29] = 5.0
    assert pattern_ratio(film_um, LENGTH_M) == math.inf
    assert sport_class(math.inf) is SportClass.HOUSE


def test_classes_meet_at_four_and_seven():
    # The limits themselves belong to the flatter class. Source: facts, section 4.
    steeper = math.nextafter
    assert sport_class(4.0) is SportClass.SPORT
    assert sport_class(steeper(4.0, 9.0)) is SportClass.CHALLENGE
    assert sport_class(7.0) is SportClass.CHALLENGE
    assert sport_class(steeper(7.0, 9.0)) is SportClass.HOUSE


def test_the_rule_of_31_never_points_into_the_gutter():
    # Common practice: very short patterns are played from the edge.
    assert rule_of_31_exit_board(28.0 * FOOT_M, Hand.RIGHT) == 1.0
    assert rule_of_31_exit_board(28.0 * FOOT_M, Hand.LEFT) == 39.0


@given(st.floats(0.0, 20.0))
def test_a_line_of_units_lies_straight_between_cell_centres(distance_m):
    slope_units = np.linspace(-0.2, 0.7, BOARDS)
    centre_m = (np.arange(CELLS) + 0.5) * CELL_M
    film_um = (20.0 + centre_m[:, None] * slope_units) * OIL_UNIT_UM
    within_m = min(max(distance_m, centre_m[0]), centre_m[-1])
    line = film_line_units(film_um, distance_m)
    assert len(line) == BOARDS
    np.testing.assert_allclose(line, 20.0 + within_m * slope_units, rtol=1e-12)


def test_a_film_by_foot_keeps_its_oil():
    film_um = np.random.default_rng(7).random((CELLS, BOARDS))
    by_foot = film_by_foot_units(film_um)
    assert len(by_foot) == CELLS // 2
    assert sum(map(sum, by_foot)) * 2 * OIL_UNIT_UM == pytest.approx(film_um.sum())
