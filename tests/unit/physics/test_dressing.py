"""Films from passes and from measured rows; ratio, class and lines of units."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nextpair.domain.bowler import Hand
from nextpair.domain.lane import BOARD_M, BOARDS, CELL_M, CELLS
from nextpair.domain.pattern import Direction, MeasuredFilm, Pass, Pattern
from nextpair.domain.units import FOOT_M, OIL_UNIT_UM
from nextpair.physics.dressing import (
    SportClass,
    film_by_foot_units,
    film_line_units,
    film_of,
    film_units,
    pattern_ratio,
    rule_of_31_exit_board,
    sport_class,
    volume_ml,
)

LENGTH_M = 43.0 * FOOT_M


@st.composite
def passes(draw) -> Pass:
    from_board = draw(st.integers(1, BOARDS))
    start_m = draw(st.floats(0.0, 12.0))
    return Pass(
        draw(st.sampled_from(Direction)),
        from_board,
        draw(st.integers(from_board, BOARDS)),
        draw(st.integers(1, 60)),
        draw(st.floats(0.1, 200.0)),
        start_m,
        draw(st.floats(start_m + 1e-3, LENGTH_M)),
    )


def one_pass(start_m: float, end_m: float, from_board: int = 1, to_board: int = BOARDS) -> Pattern:
    oil = Pass(Direction.FORWARD, from_board, to_board, 2, 50.0, start_m, end_m)
    return Pattern("one pass", LENGTH_M, passes=(oil,))


def measured(distance_m, rows_um) -> Pattern:
    rows = tuple((float(value_um),) * BOARDS for value_um in rows_um)
    return Pattern("measured", LENGTH_M, film=MeasuredFilm(tuple(distance_m), rows))


@given(st.lists(passes(), min_size=1, max_size=8).map(tuple))
def test_a_film_holds_exactly_the_oil_of_its_passes(oil):
    film_um = film_of(Pattern("any", LENGTH_M, passes=oil))
    laid_ml = sum(a_pass.volume_ul for a_pass in oil) * 1e-3
    assert film_um.shape == (CELLS, BOARDS)
    assert film_um.min() >= 0.0
    assert volume_ml(film_um) == pytest.approx(laid_ml, rel=1e-12)


def test_a_pass_oils_its_boards_and_its_length_only():
    film_um = film_of(one_pass(2.0 * FOOT_M, 10.0 * FOOT_M, 3, 5))
    oiled = np.zeros((CELLS, BOARDS), bool)
    oiled[4:20, 2:5] = True
    assert (film_um[oiled] > 0.0).all()
    assert (film_um[~oiled] == 0.0).all()
    even_um = 2 * 50.0e-9 / (8.0 * FOOT_M * BOARD_M) * 1e6
    np.testing.assert_allclose(film_um[oiled], even_um, rtol=1e-12)


def test_a_cell_covered_in_part_gets_its_share():
    film_um = film_of(one_pass(0.25 * CELL_M, 2.5 * CELL_M))
    np.testing.assert_allclose(film_um[:4, 0] / film_um[1, 0], [0.75, 1.0, 0.5, 0.0], atol=1e-12)


def test_passes_add_up():
    near, far = one_pass(0.0, 5.0), one_pass(2.0, LENGTH_M)
    both = Pattern("both", LENGTH_M, passes=near.passes + far.passes)
    np.testing.assert_allclose(film_of(both), film_of(near) + film_of(far), rtol=1e-14)


def test_the_way_the_machine_travels_does_not_matter_for_the_film():
    there = Pass(Direction.FORWARD, 4, 30, 3, 45.0, 1.0, 9.0)
    back = Pass(Direction.REVERSE, 4, 30, 3, 45.0, 1.0, 9.0)
    films = [film_of(Pattern("way", LENGTH_M, passes=(oil,))) for oil in (there, back)]
    np.testing.assert_array_equal(*films)


def test_measured_rows_are_joined_by_straight_lines():
    film_um = film_of(measured((0.0, LENGTH_M), (8.0, 0.0)))
    centre_m = (np.arange(86) + 0.5) * CELL_M
    np.testing.assert_allclose(film_um[:86, 7], 8.0 * (1.0 - centre_m / LENGTH_M), rtol=1e-12)


def test_a_measured_film_holds_its_first_and_last_row_and_ends_with_the_pattern():
    film_um = film_of(measured((2.0, 10.0), (6.0, 3.0)))
    assert (film_um[: int(2.0 / CELL_M)] == 6.0).all()
    held = slice(int(10.0 / CELL_M) + 1, int(LENGTH_M / CELL_M))
    assert (film_um[held] == 3.0).all()
    assert (film_um[86:] == 0.0).all()


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


def test_the_ratio_is_infinite_with_dry_outside_boards():
    assert pattern_ratio(film_of(one_pass(0.0, 9.0, 11, 29)), LENGTH_M) == math.inf
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
