"""How films split between lane and cover, and how flare makes the cover fresh."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from nextpair.domain.ball import BALL_RADIUS_M, Ball, Cover, Layout, Surface
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.units import DEGREE_RAD, INCH_M, MICROMETRE_M, POUND_KG
from nextpair.physics.contact import wetted_width_m
from nextpair.physics.wear import (
    USUAL_WEAR,
    WearLaw,
    absorbed_share,
    absorption_s,
    ball_flare_m_per_rev,
    flare_per_revolution_m,
    ring_film_share,
    ring_overlap,
    split_films_um,
)

films_um = st.floats(0.0, 60.0)
ratios = st.floats(0.0, 4.0)
shares = st.floats(0.0, 1.0)


@given(films_um, films_um, ratios, shares, st.floats(0.0, 2.0))
def test_a_split_keeps_the_oil_that_flows_through(lane_um, ball_um, ratio, share, retained_um):
    left_um, on_ball_um = split_films_um(lane_um, ball_um, ratio, share, retained_um)
    assert left_um + ratio * on_ball_um == pytest.approx(
        lane_um + ratio * ball_um, rel=1e-12, abs=1e-12
    )
    assert on_ball_um >= 0.0
    assert left_um >= min(lane_um, retained_um) - 1e-12


@given(films_um, ratios, shares)
def test_a_film_within_the_roughness_stays(lane_um, ratio, share):
    assert split_films_um(lane_um, 0.0, ratio, share, 60.0) == (lane_um, 0.0)


@given(films_um, films_um, ratios)
def test_without_removal_nothing_changes(lane_um, ball_um, ratio):
    assert split_films_um(lane_um, ball_um, ratio, 0.0, 0.3) == pytest.approx((lane_um, ball_um))


@pytest.mark.parametrize("share", [0.3, 0.5, 0.7, 1.0])
def test_a_dry_rolling_ball_takes_half_of_what_it_reaches(share):
    # r = 1: both surfaces are alike, so a full split halves the film. Closed form.
    left_um, on_ball_um = split_films_um(4.3, 0.0, 1.0, share, 0.3)
    assert on_ball_um == pytest.approx(share * 2.0)
    assert left_um == pytest.approx(4.3 - share * 2.0)


@given(st.floats(0.1, 3.0), st.floats(0.1, 50.0))
def test_films_in_the_ratio_of_the_split_are_left_alone(ratio, lane_um):
    settled_um = ratio**0.65 * lane_um
    assert split_films_um(lane_um, settled_um, ratio, 0.5, 0.0) == pytest.approx(
        (lane_um, settled_um), rel=1e-12
    )


def test_an_oily_ball_lays_oil_on_a_dry_lane():
    left_um, on_ball_um = split_films_um(0.0, 2.0, 1.0, 0.5, 0.3)
    assert (left_um, on_ball_um) == pytest.approx((0.5, 1.5))


@pytest.mark.parametrize(
    ("flare_m", "overlap"), [(0.0, 1.0), (1e-3, 0.75), (4e-3, 0.0), (9e-3, 0.0)]
)
def test_rings_overlap_until_they_lie_a_track_apart(flare_m, overlap):
    assert ring_overlap(flare_m, 4e-3) == pytest.approx(overlap)


@given(st.floats(0.0, 6e-3), st.floats(0.2, 1.2), st.floats(1e-3, 1.0), st.floats(0.5, 8.0))
def test_the_share_on_a_ring_is_where_turn_after_turn_settles(flare_m, ratio, share, film_um):
    law = WearLaw(removal_share=share, retained_um=0.0)
    width_m = wetted_width_m(law.patch_radius_m, BALL_RADIUS_M, film_um * MICROMETRE_M)
    settled = ring_film_share(flare_m, law, surface_ratio=ratio, film_um=film_um)
    carried_um = settled * film_um
    _, on_ball_um = split_films_um(film_um, carried_um, ratio, share, 0.0)
    assert on_ball_um * ring_overlap(flare_m, width_m) == pytest.approx(carried_um, abs=1e-12)
    assert 0.0 <= settled <= ratio**0.65 * (1.0 + 1e-12)


def test_a_ring_is_within_a_tenth_of_its_share_after_five_turns():
    for flare_m in (0.0, 1e-3):
        width_m = wetted_width_m(USUAL_WEAR.patch_radius_m, BALL_RADIUS_M, 2e-6)
        ball_um = 0.0
        for _ in range(5):
            _, ball_um = split_films_um(2.0, ball_um, 0.65, USUAL_WEAR.removal_share, 0.0)
            ball_um *= ring_overlap(flare_m, width_m)
        assert ball_um / 2.0 == pytest.approx(ring_film_share(flare_m), rel=0.1)


@pytest.mark.parametrize("flare_m", [0.0, 5e-3])
def test_a_ball_that_does_not_flare_brings_its_ring_round_and_a_strong_one_a_fresh_cover(flare_m):
    expected = 0.65**0.65 if flare_m == 0.0 else 0.0
    assert ring_film_share(flare_m) == pytest.approx(expected, rel=1e-12)


@given(st.floats(1.0, 600.0), st.floats(1.0, 600.0), st.sampled_from(Cover))
def test_oil_soaks_in_by_the_same_share_in_every_second(one_s, more_s, cover):
    time_s = absorption_s(cover)
    kept = 1.0 - absorbed_share(np.array([one_s, more_s, one_s + more_s]), np.full(3, time_s))
    assert kept[2] == pytest.approx(kept[0] * kept[1], rel=1e-12)
    assert absorbed_share(np.array(time_s), np.array(time_s)) == pytest.approx(1.0 - 1.0 / math.e)


def test_resin_soaks_in_minutes_urethane_slower_and_plastic_hardly():
    times_s = {cover: absorption_s(cover) for cover in Cover}
    # The rules ask for 135 s and more before a drop is gone ([facts] section 3, from memory).
    assert 135.0 < times_s[Cover.SOLID] < times_s[Cover.HYBRID] < times_s[Cover.PEARL] < 1200.0
    assert times_s[Cover.URETHANE] > 2.0 * times_s[Cover.PEARL]
    day_s = np.array(86400.0)
    assert absorbed_share(day_s / 24.0, np.array(times_s[Cover.PLASTIC])) < 0.01


def axis_wander_m(radii_m, pin_angle_rad, drilling_angle_rad):
    """Path of the spin axis over the cover in a small turn, by Euler's equations [m per turn]."""
    inertia = np.square(radii_m)

    def spin_up(_time, spin):
        return np.cross(inertia * spin, spin) / inertia

    across = math.sin(pin_angle_rad)
    axis = np.array(
        [
            math.cos(pin_angle_rad),
            across * math.cos(drilling_angle_rad),
            -across * math.sin(drilling_angle_rad),
        ]
    )
    turn_rad = 0.01
    end = solve_ivp(spin_up, (0.0, turn_rad), axis, rtol=1e-12, atol=1e-14).y[:, -1]
    apart_rad = np.linalg.norm(np.cross(axis, end)) / np.linalg.norm(end)
    return BALL_RADIUS_M * apart_rad * 2.0 * math.pi / turn_rad


@pytest.mark.parametrize("pin_angle_deg", [10.0, 45.0, 80.0])
@pytest.mark.parametrize("drilling_angle_deg", [0.0, 50.0, 90.0])
@pytest.mark.parametrize("middle_in", [2.53, 2.51])
def test_flare_is_the_wander_of_a_free_body(pin_angle_deg, drilling_angle_deg, middle_in):
    radii_m = (2.48 * INCH_M, 2.53 * INCH_M, middle_in * INCH_M)
    angles = (pin_angle_deg * DEGREE_RAD, drilling_angle_deg * DEGREE_RAD)
    flare_m = flare_per_revolution_m(radii_m, *angles, BALL_RADIUS_M)
    # The wander also changes the spin's length a little, which moves no ring: 2 %.
    assert flare_m == pytest.approx(axis_wander_m(radii_m, *angles), rel=0.02)


def test_an_even_core_flares_by_its_closed_form():
    radii_m = (2.50 * INCH_M, 2.55 * INCH_M, 2.55 * INCH_M)
    for pin_angle_rad in (0.2, 0.8, 1.4):
        flare_m = flare_per_revolution_m(radii_m, pin_angle_rad, 0.7, BALL_RADIUS_M)
        wander = (1.0 - (2.50 / 2.55) ** 2) * math.cos(pin_angle_rad) * math.sin(pin_angle_rad)
        assert flare_m == pytest.approx(2.0 * math.pi * BALL_RADIUS_M * wander, rel=1e-12)


@pytest.mark.parametrize("pin_in", [0.0, 3.375])
def test_a_pin_on_the_axis_or_a_round_core_does_not_flare(pin_in):
    differential_in = 0.05 if pin_in == 0.0 else 0.0
    ball = Ball(
        "no flare",
        15.0 * POUND_KG,
        2.50 * INCH_M,
        differential_in * INCH_M,
        0.0,
        Cover.PLASTIC,
        Surface(None),
        Layout(pin_in * INCH_M, 0.9, 0.6),
    )
    assert ball_flare_m_per_rev(ball) == pytest.approx(0.0, abs=1e-15)


@pytest.mark.parametrize(
    "field",
    [
        {"removal_share": 1.1},
        {"retained_um": -0.1},
        {"patch_radius_m": 0.0},
        {"wiped_share": 1.01},
    ],
)
def test_a_wear_law_refuses_impossible_numbers(field):
    with pytest.raises(InvalidValueError, match=next(iter(field))):
        WearLaw(**field)
