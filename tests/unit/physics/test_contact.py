"""The patch of ball and lane: pressure carries the load, and the gap closes where oil begins."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.physics.contact import (
    contact_modulus_pa,
    contact_radius_m,
    peak_pressure_pa,
    wetted_width_m,
)

loads_n = st.floats(20.0, 80.0)
moduli_pa = st.floats(2e8, 1e10)


@given(loads_n, moduli_pa)
def test_the_pressure_over_the_patch_carries_the_load(load_n, modulus_pa):
    # Hertz: p = p0 sqrt(1 - (r/a)^2). Source: Johnson, Contact Mechanics, chapter 4.
    radius_m = contact_radius_m(load_n, BALL_RADIUS_M, modulus_pa)
    peak_pa = peak_pressure_pa(load_n, radius_m)
    share, _ = quad(lambda s: 2.0 * math.pi * s * math.sqrt(1.0 - s * s), 0.0, 1.0)
    assert peak_pa * radius_m**2 * share == pytest.approx(load_n, rel=1e-8)


@given(loads_n, moduli_pa)
def test_peak_pressure_and_patch_fit_the_elastic_bodies(load_n, modulus_pa):
    # Johnson (4.24): p0 = 2 a E* / (pi R), independent of the load's formula.
    radius_m = contact_radius_m(load_n, BALL_RADIUS_M, modulus_pa)
    peak_pa = peak_pressure_pa(load_n, radius_m)
    assert peak_pa == pytest.approx(
        2.0 * radius_m * modulus_pa / (math.pi * BALL_RADIUS_M), rel=1e-12
    )


def test_a_rigid_lane_leaves_the_modulus_of_the_cover():
    joint_pa = contact_modulus_pa(1e9, 0.4, 1e30, 0.3)
    assert joint_pa == pytest.approx(1e9 / (1.0 - 0.4**2), rel=1e-12)
    assert contact_modulus_pa(1e9, 0.4, 8e9, 0.3) == contact_modulus_pa(8e9, 0.3, 1e9, 0.4)


def test_a_dry_lane_is_wetted_no_wider_than_the_patch():
    assert wetted_width_m(1.8e-3, BALL_RADIUS_M, 0.0) == pytest.approx(3.6e-3, rel=1e-12)


@given(st.floats(0.1e-6, 50e-6))
def test_oil_reaches_to_where_the_round_ball_clears_it(film_m):
    # A sphere that rests on a point rises by x^2 / 2R, so the film ends where that is h.
    half_m = 0.5 * wetted_width_m(0.0, BALL_RADIUS_M, film_m)
    rise_m = BALL_RADIUS_M - math.sqrt(BALL_RADIUS_M**2 - half_m**2)
    assert rise_m == pytest.approx(film_m, rel=1e-3)
