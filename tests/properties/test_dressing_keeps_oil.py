"""Whatever a lane machine is told to lay: all of it is on the lane, nowhere less than none."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nextpair.domain.lane import BOARDS, CELL_M, CELLS
from nextpair.domain.pattern import Direction, MeasuredFilm, Pass, Pattern
from nextpair.domain.units import FOOT_M
from nextpair.physics.dressing import film_of
from nextpair.physics.film import pattern_ratio, volume_ml

SHORTEST_PASS_M = 1e-3


@st.composite
def passes(draw, length_m: float) -> Pass:
    from_board = draw(st.integers(1, BOARDS))
    start_m = draw(st.floats(0.0, length_m - SHORTEST_PASS_M))
    end_m = draw(st.floats(start_m + SHORTEST_PASS_M, length_m))
    taper_start_m = draw(st.floats(0.0, 1.0)) * (end_m - start_m)
    taper_end_m = draw(st.floats(0.0, 1.0)) * (end_m - start_m - taper_start_m)
    return Pass(
        draw(st.sampled_from(Direction)),
        from_board,
        draw(st.integers(from_board, BOARDS)),
        draw(st.integers(1, 60)),
        draw(st.floats(0.1, 200.0)),
        start_m,
        end_m,
        taper_start_m,
        taper_end_m,
    )


@st.composite
def patterns(draw) -> Pattern:
    length_m = draw(st.floats(20.0, 60.0)) * FOOT_M
    laid = draw(st.lists(passes(length_m), min_size=1, max_size=8).map(tuple))
    forward = any(a_pass.direction is Direction.FORWARD for a_pass in laid)
    buff_m = draw(st.floats(0.0, 20.0 * FOOT_M)) if forward else 0.0
    return Pattern("any", length_m, passes=laid, buff_m=buff_m)


def mirrored(a_pass: Pass) -> Pass:
    ends = (BOARDS + 1 - a_pass.to_board, BOARDS + 1 - a_pass.from_board)
    return replace(a_pass, from_board=ends[0], to_board=ends[1])


@given(patterns())
def test_a_film_holds_exactly_the_oil_of_its_passes(pattern):
    film_um = film_of(pattern)
    assert film_um.shape == (CELLS, BOARDS)
    assert film_um.min() >= 0.0
    laid_ml = sum(a_pass.volume_ul for a_pass in pattern.passes) * 1e-3
    assert volume_ml(film_um) == pytest.approx(laid_ml, rel=1e-12)


@given(patterns())
def test_every_board_holds_the_oil_of_the_passes_over_it(pattern):
    by_board = film_of(pattern).sum(axis=0)
    laid_ul = np.zeros(BOARDS)
    for a_pass in pattern.passes:
        laid_ul[a_pass.from_board - 1 : a_pass.to_board] += a_pass.loads * a_pass.oil_ul
    np.testing.assert_allclose(by_board * laid_ul.sum(), laid_ul * by_board.sum(), rtol=1e-11)


@given(patterns())
def test_no_oil_lies_beyond_the_length_or_before_the_first_pass(pattern):
    film_um = film_of(pattern)
    first_m = min(a_pass.start_m for a_pass in pattern.passes)
    assert (film_um[: int(first_m / CELL_M)] == 0.0).all()
    assert film_um[int(np.ceil(pattern.length_m / CELL_M - 1e-6)) :].max(initial=0.0) < 1e-6


@given(patterns())
def test_mirrored_passes_lay_the_mirror_image(pattern):
    film_um = film_of(pattern)
    other_um = film_of(replace(pattern, passes=tuple(map(mirrored, pattern.passes))))
    np.testing.assert_array_equal(other_um, film_um[:, ::-1])
    assert pattern_ratio(other_um, pattern.length_m) == pytest.approx(
        pattern_ratio(film_um, pattern.length_m), rel=1e-12
    )


@given(patterns())
def test_the_brush_moves_oil_toward_the_pins_only(pattern):
    brushed_um = film_of(pattern).cumsum(axis=0)
    plain_um = film_of(replace(pattern, buff_m=0.0)).cumsum(axis=0)
    assert (brushed_um <= plain_um * (1.0 + 1e-12) + 1e-12).all()


@given(st.data())
def test_a_measured_film_keeps_its_two_sides_apart(data):
    rows = st.lists(st.floats(0.0, 60.0), min_size=BOARDS, max_size=BOARDS).map(tuple)
    thickness_um = data.draw(st.lists(rows, min_size=2, max_size=4).map(tuple))
    distance_m = tuple(2.0 + 4.0 * row for row in range(len(thickness_um)))
    film = MeasuredFilm(distance_m, thickness_um)
    other = MeasuredFilm(distance_m, tuple(row[::-1] for row in thickness_um))
    film_um, other_um = (film_of(Pattern("m", 13.0, film=each)) for each in (film, other))
    assert film_um.min() >= 0.0
    np.testing.assert_array_equal(other_um, film_um[:, ::-1])
