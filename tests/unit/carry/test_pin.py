"""The collision shape of a pin against its profile."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.carry.pin import (
    BASE_M,
    HEIGHT_M,
    MASS_KG,
    PARTS,
    parts_radius_m,
    profile_radius_m,
    solid_pin,
)
from nextpair.domain.lane import PIN_RADIUS_M
from nextpair.domain.units import INCH_M


def test_the_belly_is_as_wide_as_the_lane_says():
    assert profile_radius_m(4.5 * INCH_M) == pytest.approx(PIN_RADIUS_M, rel=1e-9)


@pytest.mark.parametrize(
    ("lowest_in", "highest_in", "within_in"),
    [(3.0, 6.5, 0.02), (0.75, 11.0, 0.07), (11.0, 14.75, 0.14)],
)
def test_the_parts_follow_the_profile(lowest_in, highest_in, within_in):
    height_m = np.linspace(lowest_in, highest_in, 400) * INCH_M
    gap_in = (parts_radius_m(height_m) - profile_radius_m(height_m)) / INCH_M
    assert np.abs(gap_in).max() <= within_in


def test_no_part_reaches_beyond_base_or_top():
    for part in PARTS:
        reach = part.half_height_m + (part.radius_m if part.shape == "capsule" else 0.0)
        assert part.height_m - reach > 0.0
        assert part.height_m + reach < HEIGHT_M + 0.2 * INCH_M


def test_a_pin_is_solid_where_it_has_a_radius():
    height_m = np.linspace(0.0, HEIGHT_M, 500)
    assert (profile_radius_m(height_m[:-1]) > 0.0).all()
    assert profile_radius_m(0.0) == pytest.approx(BASE_M)
    assert profile_radius_m(HEIGHT_M) == pytest.approx(0.0, abs=1e-9)


def test_mass_only_scales_inertia():
    light, heavy = solid_pin(MASS_KG), solid_pin(2 * MASS_KG)
    assert heavy.centre_m == pytest.approx(light.centre_m)
    assert heavy.across_kgm2 == pytest.approx(2 * light.across_kgm2)
    assert heavy.along_kgm2 == pytest.approx(2 * light.along_kgm2)
