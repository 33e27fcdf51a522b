"""Where pins stand and how racks differ."""

from __future__ import annotations

import math

import numpy as np
import pytest

from nextpair.carry.deck import (
    MIRRORED_PIN,
    PIN_X_M,
    PIN_Y_M,
    SPOTTING_M,
    Bodies,
    exact_racks,
    mirrored_racks,
    spotted_racks,
)
from nextpair.domain.lane import PIN_RADIUS_M
from nextpair.physics.constants import GRAVITY_MPS2
from nextpair.scoring.leaves import MIRROR_IMAGES

BODIES = Bodies()


def test_a_mirrored_pin_is_the_one_the_rules_name():
    assert {pin + 1: int(MIRRORED_PIN[pin]) + 1 for pin in range(10)} == MIRROR_IMAGES


def test_exact_racks_stand_on_their_spots():
    racks = exact_racks(3, BODIES)
    np.testing.assert_array_equal(racks.x_m, np.tile(PIN_X_M, (3, 1)))
    np.testing.assert_array_equal(racks.y_m, np.tile(PIN_Y_M, (3, 1)))
    assert racks.ball_restitution == pytest.approx(np.full((3, 10), BODIES.ball_restitution))


def test_spotted_pins_stand_within_the_machines_reach_and_fill_it_evenly():
    racks = spotted_racks(np.random.default_rng(1), 4000, BODIES)
    off_spot_m = np.hypot(racks.x_m - PIN_X_M, racks.y_m - PIN_Y_M)
    assert off_spot_m.max() <= SPOTTING_M
    # An even disc has a quarter of its area within half its radius.
    assert np.mean(off_spot_m < 0.5 * SPOTTING_M) == pytest.approx(0.25, abs=0.01)


def test_a_lying_pin_points_anywhere():
    racks = spotted_racks(np.random.default_rng(2), 4000, BODIES)
    assert racks.turn.mean() == pytest.approx(2.0 / math.pi, abs=0.01)
    assert exact_racks(1, BODIES).turn == pytest.approx(np.full((1, 10), 2.0 / math.pi))


def test_the_same_seed_spots_the_same_racks():
    first, again = (spotted_racks(np.random.default_rng(3), 5, BODIES) for _ in range(2))
    for values, same in zip(first, again, strict=True):
        np.testing.assert_array_equal(values, same)


def test_two_mirrors_give_the_rack_back():
    racks = spotted_racks(np.random.default_rng(4), 5, BODIES)
    for values, back in zip(racks, mirrored_racks(mirrored_racks(racks)), strict=True):
        np.testing.assert_array_equal(values, back)


def test_a_mirrored_rack_is_a_rack():
    exact = exact_racks(1, BODIES)
    for values, mirrored in zip(exact, mirrored_racks(exact), strict=True):
        np.testing.assert_array_equal(values, mirrored)


def test_derived_constants_follow_from_what_they_are_derived_from():
    assert BODIES.gutter_s == pytest.approx(math.sqrt(2 * PIN_RADIUS_M / GRAVITY_MPS2), abs=5e-4)
    assert BODIES.topple_mps == pytest.approx(math.sqrt(2 * 0.035 / BODIES.pin_kg), abs=5e-3)
