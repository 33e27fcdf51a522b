"""Air, rolling resistance and landing: sizes that can be written down."""

from __future__ import annotations

import math

import pytest

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.units import POUND_KG
from nextpair.physics.constants import GRAVITY_MPS2
from nextpair.physics.forces import (
    STICKING_SHARE,
    air_drag_mps2,
    drag_per_m,
    flight_s,
    landing_share,
    rolling_moment_m2ps2,
)


def test_air_holds_against_the_path_with_the_square_of_speed():
    a_x, a_y = air_drag_mps2(3.0, 4.0, 0.01)
    assert (a_x, a_y) == pytest.approx((-0.01 * 5 * 3, -0.01 * 5 * 4))
    assert air_drag_mps2(0.0, 0.0, 0.01) == (0.0, 0.0)


def test_a_lighter_ball_is_held_more():
    heavy, light = (drag_per_m(lb * POUND_KG, BALL_RADIUS_M) for lb in (16, 12))
    assert light == pytest.approx(heavy * 16 / 12)


def test_in_roll_the_moment_is_weight_times_radius_times_coefficient():
    speed = 6.5
    M_x, M_y = rolling_moment_m2ps2(
        -speed / BALL_RADIUS_M, 0.0, 1 / speed, 0.003 * GRAVITY_MPS2, BALL_RADIUS_M
    )
    assert M_x == pytest.approx(0.003 * GRAVITY_MPS2 * BALL_RADIUS_M)
    assert M_y == 0.0


def test_a_ball_falls_as_everything_does():
    assert flight_s(0.0) == 0.0
    assert 0.5 * GRAVITY_MPS2 * flight_s(0.1) ** 2 == pytest.approx(0.1)


def test_a_landing_takes_the_flights_friction_but_never_turns_the_slip_round():
    assert landing_share(0.06, 0.14, STICKING_SHARE) == pytest.approx(0.06 * 0.14)
    assert landing_share(math.inf, 0.14, STICKING_SHARE) == STICKING_SHARE
