"""The brush against its own integral by SciPy, and at its limits."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import quad

from nextpair.domain.lane import CELL_M, CELLS
from nextpair.physics.brush import brushed

CENTRE_M = (np.arange(CELLS) + 0.5) * CELL_M


def oil_between(first_cell: int, last_cell: int) -> np.ndarray:
    along = np.zeros(CELLS)
    along[first_cell : last_cell + 1] = 1.0
    return along


def carried_m(from_m: float, to_m: float, end_m: float, length_m: float, buff_m: float) -> float:
    """Oil that lies between two places, of an even film from the foul line to `end_m`: the formula
    of the docstring, integrated over the place where the oil was laid."""

    def share(laid_m: float) -> float:
        whole = -math.expm1(-(length_m - laid_m) / buff_m)
        near, far = (max(place - laid_m, 0.0) for place in (from_m, to_m))
        return (math.exp(-near / buff_m) - math.exp(-far / buff_m)) / whole

    kinks = [place for place in (from_m, to_m) if 0.0 < place < end_m]
    return quad(share, 0.0, end_m, points=kinks or None, epsabs=1e-12, epsrel=1e-11)[0]


@pytest.mark.parametrize(("end_cell", "length_cells", "buff_ft"), [(64, 80, 4.0), (10, 84.5, 9.0)])
def test_the_brush_lays_what_its_formula_says(end_cell, length_cells, buff_ft):
    # Authority: adaptive quadrature of SciPy over the formula, cell by cell.
    length_m, buff_m = length_cells * CELL_M, buff_ft * 2 * CELL_M
    laid = brushed(oil_between(0, end_cell - 1), length_m, buff_m)
    edges = np.minimum(np.arange(CELLS + 1) * CELL_M, length_m)
    expected = [
        carried_m(near, far, end_cell * CELL_M, length_m, buff_m) / CELL_M
        for near, far in pairwise(edges)
    ]
    np.testing.assert_allclose(laid, expected, rtol=5e-4, atol=1e-12)


def test_past_the_last_oil_the_film_falls_to_1_over_e_every_buff_length():
    # Closed form: every share of the tail has the same exponential.
    laid = brushed(oil_between(0, 63), 80 * CELL_M, 8 * CELL_M)
    np.testing.assert_allclose(laid[65:80] / laid[64:79], math.exp(-1 / 8), rtol=1e-12)
    assert (laid[80:] == 0.0).all()


def test_oil_goes_forward_only():
    laid = brushed(oil_between(20, 29), 80 * CELL_M, 6 * CELL_M)
    assert (laid[:20] == 0.0).all()
    assert (laid[20:80] > 0.0).all()


def test_a_brush_that_empties_at_once_changes_nothing():
    along = oil_between(3, 40)
    np.testing.assert_allclose(brushed(along, 60 * CELL_M, 1e-6 * CELL_M), along, atol=2e-6)


def test_a_brush_that_hardly_empties_spreads_evenly_over_what_is_left():
    # Closed form: the limit of the formula for a long buff is 1 / (L - s).
    laid = brushed(oil_between(0, 0), 80 * CELL_M, 1e6 * CELL_M)
    np.testing.assert_allclose(laid[1:80], laid[1], rtol=1e-4)


def test_a_length_within_a_cell_fills_that_cell_in_part():
    laid = brushed(oil_between(0, 63), 79.25 * CELL_M, 8 * CELL_M)
    # Closed form: the exponential over a quarter of the cell, after the whole one before it.
    part = (1 - math.exp(-0.25 / 8)) / (1 - math.exp(-1 / 8))
    assert laid[79] / laid[78] == pytest.approx(part * math.exp(-1 / 8), rel=1e-12)


def test_oil_beyond_the_length_is_left_where_it_is():
    along = oil_between(50, 69)
    laid = brushed(along, 60 * CELL_M, 4 * CELL_M)
    np.testing.assert_array_equal(laid[60:], along[60:])
    assert laid.sum() == pytest.approx(along.sum(), rel=1e-12)
