"""Friction: falls with film, rises with roughness, saturates with slip."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nextpair.domain.ball import Cover
from nextpair.domain.house import LaneSurface
from nextpair.physics.constants import CREEP_SPEED_MPS, DRY_FRICTION
from nextpair.physics.friction import (
    dry_friction,
    film_gain_per_um,
    friction_coefficient,
    friction_share,
)

OIL, EXCESS = 0.03, 0.17
films_um = st.floats(0.0, 20.0)
gains_per_um = st.floats(0.1, 10.0)
roughnesses_um = st.floats(0.05, 1.6)
slips_mps = st.floats(-10.0, 10.0)


def test_a_dry_lane_has_dry_friction_and_a_flooded_one_that_of_oil():
    assert friction_coefficient(0.0, 2.0, OIL, EXCESS) == OIL + EXCESS
    assert friction_coefficient(50.0, 2.0, OIL, EXCESS) == pytest.approx(OIL, abs=1e-15)


@given(gains_per_um)
def test_the_excess_is_down_to_one_e_th_at_the_critical_film(gain):
    at_critical = friction_coefficient(1 / gain, gain, OIL, EXCESS)
    assert at_critical == pytest.approx(OIL + EXCESS / math.e)


@given(films_um, films_um, gains_per_um)
def test_more_film_never_gives_more_friction(film_um, more_um, gain):
    thin = friction_coefficient(film_um, gain, OIL, EXCESS)
    thick = friction_coefficient(film_um + more_um, gain, OIL, EXCESS)
    assert OIL <= thick <= thin <= OIL + EXCESS


@given(films_um, roughnesses_um, roughnesses_um)
def test_a_rougher_cover_sees_through_more_oil(film_um, roughness_um, more_um):
    smooth, rough = (
        friction_coefficient(film_um, film_gain_per_um(ra_um), OIL, EXCESS)
        for ra_um in (roughness_um, roughness_um + more_um)
    )
    assert smooth <= rough


def test_a_mirror_smooth_ball_still_has_the_roughness_of_the_lane():
    assert film_gain_per_um(0.0) == pytest.approx(1 / (0.7 * 0.3))


@given(slips_mps, slips_mps)
def test_friction_points_along_the_slip_and_never_exceeds_its_full_value(slip_x, slip_y):
    share = friction_share(slip_x, slip_y, CREEP_SPEED_MPS.value)
    slip = math.hypot(slip_x, slip_y)
    assert share > 0
    assert share * slip < 1
    assert share * slip == pytest.approx(slip / math.hypot(slip, CREEP_SPEED_MPS.value))


def test_friction_is_full_in_sliding_and_at_seven_tenths_at_the_creep_speed():
    creep = CREEP_SPEED_MPS.value
    assert friction_share(5.0, 0.0, creep) * 5.0 == pytest.approx(1.0, abs=1e-4)
    assert friction_share(0.0, creep, creep) * creep == pytest.approx(math.sqrt(0.5))
    assert friction_share(0.0, 0.0, creep) == pytest.approx(1 / creep)


@pytest.mark.parametrize("lane", LaneSurface)
def test_covers_rank_from_plastic_to_solid(lane):
    friction = [dry_friction(cover, lane, 5.0) for cover in Cover]
    assert friction == sorted(friction)
    assert len(set(friction)) == len(Cover)


def test_a_new_synthetic_lane_is_slick_and_ages_into_wood():
    solid = DRY_FRICTION["solid"].value
    new, used, old, older = (
        dry_friction(Cover.SOLID, LaneSurface.SYNTHETIC, age) for age in (0.0, 10.0, 20.0, 40.0)
    )
    assert new == pytest.approx(0.85 * solid)
    assert used == pytest.approx((new + old) / 2)
    assert old == older == dry_friction(Cover.SOLID, LaneSurface.WOOD, 3.0) == solid
