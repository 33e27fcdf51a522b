"""Films from passes and from measured rows."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nextpair.domain.lane import BOARD_M, BOARDS, CELL_M, CELLS
from nextpair.domain.pattern import Direction, MeasuredFilm, Pass, Pattern
from nextpair.domain.units import FOOT_M
from nextpair.physics.dressing import film_of
from nextpair.physics.film import volume_ml

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
