"""Films from passes and from measured rows."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nextpair.domain.errors import InvalidValueError
from nextpair.domain.lane import BOARD_M, BOARDS, CELL_M, CELLS
from nextpair.domain.pattern import Direction, MeasuredFilm, Pass, Pattern
from nextpair.domain.units import FOOT_M
from nextpair.physics.dressing import film_of
from nextpair.physics.film import UM_PER_UL

LENGTH_M = 43.0 * FOOT_M
BACK = Pass(Direction.REVERSE, 4, 30, 3, 45.0, 1.0, 10.0)
BARE = MeasuredFilm((0.0, 12.0), ((0.0,) * BOARDS,) * 2)


def one_pass(start_m: float, end_m: float, from_board: int = 1, to_board: int = BOARDS) -> Pattern:
    oil = Pass(Direction.FORWARD, from_board, to_board, 2, 50.0, start_m, end_m)
    return Pattern("one pass", LENGTH_M, passes=(oil,))


def tapered(way: Direction, start_cells: float, end_cells: float) -> Pass:
    """20 cells of oil from cell 10 on, with these tapers."""
    tapers_m = (start_cells * CELL_M, end_cells * CELL_M)
    return Pass(way, 1, BOARDS, 2, 50.0, 10 * CELL_M, 30 * CELL_M, *tapers_m)


def measured(distance_m, rows_um) -> Pattern:
    rows = tuple((float(value_um),) * BOARDS for value_um in rows_um)
    return Pattern("measured", LENGTH_M, film=MeasuredFilm(tuple(distance_m), rows))


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


def test_without_taper_and_brush_a_film_is_load_arithmetic_to_the_last_bit():
    # Closed form: share of each cell that is covered, times microlitres over the covered area.
    start_m, end_m = 0.37, 9.91
    cell = np.arange(CELLS)
    near, far = (np.clip(place / CELL_M - cell, 0.0, 1.0) for place in (start_m, end_m))
    covered = far - near
    expected = covered * (2 * 50.0 * UM_PER_UL / covered.sum())
    np.testing.assert_array_equal(film_of(one_pass(start_m, end_m))[:, 6], expected)


def test_passes_add_up():
    near, far = one_pass(0.0, 5.0), one_pass(2.0, LENGTH_M)
    both = Pattern("both", LENGTH_M, passes=near.passes + far.passes)
    np.testing.assert_allclose(film_of(both), film_of(near) + film_of(far), rtol=1e-14)


@pytest.mark.parametrize("tapers", [(0.0, 0.0), (3.0, 5.5)], ids=["sharp", "tapered"])
def test_without_a_brush_the_way_the_machine_travels_does_not_matter(tapers):
    ways = [(tapered(way, *tapers),) for way in Direction]
    films = [film_of(Pattern("way", LENGTH_M, passes=passes)) for passes in ways]
    np.testing.assert_array_equal(*films)


def test_tapers_are_straight_and_lie_within_their_ends():
    # Closed form: a trapezium of height 1 over 20 cells, ramps of 4 and 5, is 15.5 cells of oil.
    film_um = film_of(Pattern("t", LENGTH_M, passes=(tapered(Direction.FORWARD, 4.0, 5.0),)))[:, 0]
    full_um = 2 * 50.0e-9 / (15.5 * CELL_M * BOARD_M) * 1e6
    rise, fall = (np.arange(4) + 0.5) / 4, (np.arange(5)[::-1] + 0.5) / 5
    expected = np.concatenate([np.zeros(10), rise, np.ones(11), fall, np.zeros(90)])
    np.testing.assert_allclose(film_um, full_um * expected, rtol=1e-12, atol=1e-12)


def test_a_taper_within_cells_is_the_mean_over_each_cell():
    # Closed form: the ramp v / 1.5 over [0, 1.5] has the means 1/3 and then 1 - (0.5 ** 2) / 3.
    film_um = film_of(Pattern("t", LENGTH_M, passes=(tapered(Direction.FORWARD, 1.5, 0.0),)))[:, 0]
    assert film_um[10] / film_um[15] == pytest.approx(1 / 3, rel=1e-12)
    assert film_um[11] / film_um[15] == pytest.approx(1 - 0.25 / 3, rel=1e-12)
    assert film_um[12] / film_um[15] == pytest.approx(1.0, rel=1e-12)


def test_two_tapers_that_meet_make_a_triangle():
    film_um = film_of(Pattern("t", LENGTH_M, passes=(tapered(Direction.REVERSE, 10.0, 10.0),)))
    np.testing.assert_allclose(film_um[10:30, 4], film_um[29:9:-1, 4], rtol=1e-9)
    np.testing.assert_allclose(film_um[10:20, 4] / film_um[10, 4], 2 * np.arange(10) + 1)


def test_the_brush_carries_the_oil_of_forward_passes_only():
    there = Pass(Direction.FORWARD, 4, 30, 3, 45.0, 1.0, 9.0)
    back = replace(there, direction=Direction.REVERSE, loads=2)
    buff_m = 4.0 * FOOT_M
    both = film_of(Pattern("both", LENGTH_M, passes=(there, back), buff_m=buff_m))
    alone = film_of(Pattern("there", LENGTH_M, passes=(there,), buff_m=buff_m))
    dry = film_of(Pattern("back", LENGTH_M, passes=(back,)))
    np.testing.assert_allclose(both, alone + dry, rtol=1e-12)
    past = both[int(9.0 / CELL_M) + 1 : int(LENGTH_M / CELL_M), 3:30]
    assert past.min() > 0.0
    assert (dry[int(9.0 / CELL_M) + 1 :] == 0.0).all()


@pytest.mark.parametrize(
    ("build", "field"),
    [
        (lambda: Pattern("m", LENGTH_M, film=BARE, buff_m=1.0), "buff_ft"),
        (lambda: Pattern("r", LENGTH_M, passes=(BACK,), buff_m=1.0), "buff_ft"),
        (lambda: replace(BACK, taper_start_m=5.0, taper_end_m=4.1), "taper_end_ft"),
        (lambda: replace(BACK, start_m=10.0, end_m=10.0 + 1e-12), "start_ft"),
        (lambda: Pattern("d", LENGTH_M, passes=(BACK,), description="x" * 601), "description"),
    ],
    ids=["measured", "reverse only", "tapers", "no length", "long description"],
)
def test_what_no_machine_lays_is_refused(build, field):
    with pytest.raises(InvalidValueError) as refused:
        build()
    assert refused.value.field == field


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
