"""The slow oracle's film map, and what it tells of a roll."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import RegularGridInterpolator

from nextpair.domain.errors import InvalidValueError
from nextpair.domain.lane import BOARDS, CELL_M, CELLS, END_PLANE_M, HEAD_PIN_M, board_to_x_m
from nextpair.physics.friction import friction_coefficient
from nextpair.physics.reference import FilmFriction, Forces, Start, roll

GAIN, OIL, EXCESS = 0.8, 0.03, 0.17
FILM_UM = np.random.default_rng(11).uniform(0.0, 3.0, (CELLS, BOARDS))
ON_FILM = FilmFriction(FILM_UM, GAIN, OIL, EXCESS)
CENTRES_M = (np.arange(CELLS) + 0.5) * CELL_M
K = 0.0635
ROLLING = Start(0.1, (-0.7, 7.0), (-7.0 / 0.1085, -0.7 / 0.1085, 5.0), (1.0, 0, 0, 0), (K, K, K))
SLIDING = Start(0.1, (0.2, 8.0), (-30.0, -30.0, 5.0), (1.0, 0, 0, 0), (K, K, K))


def law(film_um: float) -> float:
    return friction_coefficient(film_um, GAIN, OIL, EXCESS)


@given(st.integers(0, CELLS - 1), st.integers(1, BOARDS))
def test_at_a_cell_centre_friction_is_that_of_the_cell(row, board):
    at_centre = ON_FILM(board_to_x_m(board), CENTRES_M[row])
    assert at_centre == pytest.approx(law(FILM_UM[row, board - 1]))


@given(st.floats(0.5, 39.5), st.floats(-0.1, HEAD_PIN_M + 0.1))
def test_between_centres_the_film_is_bilinear_and_level_past_the_outermost(board, y_m):
    bilinear = RegularGridInterpolator((CENTRES_M, np.arange(1, BOARDS + 1.0)), FILM_UM)
    inside = np.clip(y_m, CENTRES_M[0], CENTRES_M[-1]), np.clip(board, 1, BOARDS)
    expected = law(bilinear(inside).item())
    assert ON_FILM(board_to_x_m(board), y_m) == pytest.approx(expected, rel=1e-9)


def test_a_film_of_the_wrong_shape_is_refused():
    with pytest.raises(InvalidValueError, match="film_um"):
        FilmFriction(FILM_UM.T, GAIN, OIL, EXCESS)


@given(st.floats(0.0, END_PLANE_M))
def test_a_rolling_ball_goes_straight_at_its_speed_on_any_film(distance_m):
    moment = ROLLED.at(distance_m)
    assert moment.y_m == pytest.approx(distance_m, abs=1e-9)
    assert moment.time_s == pytest.approx(distance_m / 7.0, abs=1e-9)
    assert moment.x_m == pytest.approx(0.1 - 0.1 * distance_m, abs=1e-9)
    assert moment.speed_mps == pytest.approx(math.hypot(0.7, 7.0))
    assert moment.angle_left_rad == pytest.approx(math.atan(0.1))


ROLLED = roll(ROLLING, ON_FILM)


def test_a_ball_begins_to_roll_when_its_slip_is_down_to_the_creep_speed():
    rolled = roll(SLIDING, ON_FILM, creep_mps=0.04)
    assert rolled.rolling is not None
    assert math.hypot(*rolled.rolling.slip_mps) == pytest.approx(0.04, rel=1e-6)
    before = [m for m in rolled.moments if m.time_s < rolled.rolling.time_s]
    assert min(math.hypot(*moment.slip_mps) for moment in before) > 0.04


def test_a_ball_on_a_slick_lane_does_not_begin_to_roll():
    assert roll(SLIDING, lambda _x_m, _y_m: 0.01).rolling is None


def test_a_path_is_known_from_foul_line_to_end_and_no_farther():
    assert ROLLED.at(0.0).x_m == 0.1
    assert ROLLED.at(END_PLANE_M).time_s == pytest.approx(ROLLED.end.time_s)
    for distance_m in (-0.01, END_PLANE_M + 0.01):
        with pytest.raises(InvalidValueError, match="distance_m"):
            ROLLED.at(distance_m)


def test_a_ball_that_does_not_get_there_is_refused():
    with pytest.raises(InvalidValueError, match="end_m"):
        roll(Start(0.0, (0.0, 0.1), (0.0,) * 3, (1.0, 0, 0, 0), (K, K, K)), lambda _x, _y: 0.0)


def test_a_tilted_lane_pulls_a_sliding_ball_as_a_slope_does():
    free = Start(0.0, (0.0, 8.0), (0.0, 0.0, 0.0), (1.0, 0, 0, 0), (K, K, K))
    end = roll(
        free, lambda _x_m, _y_m: 0.0, forces=Forces(pull=lambda _x_m, _y_m: (0.05, 0.0))
    ).end
    assert end.x_m == pytest.approx(0.5 * 0.05 * end.time_s**2)
    assert end.velocity_mps[0] == pytest.approx(0.05 * end.time_s)
