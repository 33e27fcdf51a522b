"""Releases as arrays, and boards counted from the bowler's own side."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nextpair.domain.bowler import Hand, Release, Scatter
from nextpair.domain.event import DressedLane
from nextpair.domain.house import House, LaneSurface, LaneTrait
from nextpair.domain.lane import LANE_WIDTH_M, board_to_x_m
from nextpair.domain.units import INCH_M
from nextpair.kernel.throws import (
    LaneKind,
    lane_kind,
    own_board,
    own_boards_of,
    own_x_m,
    release_errors,
    shots_of,
)
from nextpair.physics.constants import GRAVITY_MPS2
from reference.flat_patterns import flat_pattern

RELEASE = Release(7.8, 38.0, 0.84, 0.22)
SCATTER = Scatter(0.5, 0.005, 0.16, 1.5, 0.03)


def test_a_left_hander_counts_from_the_left_edge():
    assert own_board(10.0, Hand.RIGHT) == 10.0
    assert own_board(10.0, Hand.LEFT) == 30.0
    assert own_board(own_board(7.25, Hand.LEFT), Hand.LEFT) == 7.25


@pytest.mark.parametrize("board", [1.0, 8.5, 20.0, 39.0])
def test_own_metres_are_the_lanes_for_a_right_hander_and_turned_round_for_a_left_hander(board):
    assert own_x_m(board) == pytest.approx(board_to_x_m(board))
    assert own_x_m(own_board(board, Hand.LEFT)) == pytest.approx(-board_to_x_m(board))
    assert own_boards_of(own_x_m(board)) == pytest.approx(board)


def test_a_lane_that_falls_to_the_right_pulls_a_right_hander_to_the_own_side():
    trait = LaneTrait(5, tilt_m=0.02 * INCH_M, friction=1.04)
    lane = DressedLane(
        5, House("test", 24, LaneSurface.WOOD, 9, traits=(trait,)), flat_pattern(41)
    )
    right, left = lane_kind(lane, Hand.RIGHT), lane_kind(lane, Hand.LEFT)
    pull = GRAVITY_MPS2 * 0.02 * INCH_M / LANE_WIDTH_M
    np.testing.assert_allclose(right.pull_mps2[0], pull)
    np.testing.assert_allclose(left.pull_mps2[0], -pull)
    assert not right.pull_mps2[1].any()
    assert right.friction == left.friction == 1.04
    assert lane_kind(replace(lane, number=6), Hand.RIGHT).pull_mps2 is None


def test_every_film_of_a_lane_is_as_long_as_its_pattern_and_leans_as_the_lane_does():
    kind = LaneKind(12.5, 0.02, pull_mps2=np.ones((2, 120, 39)))
    one, three = kind.under(np.ones((120, 39))), kind.under(np.ones((3, 120, 39)))
    assert one.film_um.shape == (1, 120, 39)
    np.testing.assert_array_equal(three.length_m, 12.5)
    np.testing.assert_array_equal(three.oil_friction, 0.02)
    assert three.pull_mps2.shape == (3, 2, 120, 39)


def test_a_thinner_and_a_warmer_oil_hold_less():
    def hold(viscosity_pas: float, temperature_c: float) -> float:
        house = House("test", 24, LaneSurface.WOOD, 9, temperature_c=temperature_c)
        pattern = replace(flat_pattern(41), viscosity_pas=viscosity_pas)
        return lane_kind(DressedLane(1, house, pattern), Hand.RIGHT).oil_friction

    assert hold(0.020, 21) < hold(0.035, 21) < hold(0.035, 15)


def test_shots_come_out_flat_in_the_order_of_their_axes():
    shots = shots_of(
        RELEASE,
        LaneKind(12.5, friction=1.1),
        own_laydown=np.array([20.0, 25.0])[:, None],
        launch_angle_rad=np.array([0.01, 0.02, 0.03])[None],
        dry_factor=2.0,
    )
    assert len(shots) == 6
    np.testing.assert_allclose(own_boards_of(shots.x_m), [20, 20, 20, 25, 25, 25])
    np.testing.assert_allclose(shots.launch_angle_rad, [0.01, 0.02, 0.03] * 2)
    np.testing.assert_allclose(shots.dry_factor, 2.2)
    np.testing.assert_allclose(shots.loft_m, RELEASE.loft_m)
    np.testing.assert_allclose(shots.speed_mps, RELEASE.speed_mps)
    assert shots.film.dtype == shots.body.dtype == np.int64


def test_changes_are_added_to_the_release_and_revs_stay_above_nothing():
    shots = shots_of(
        RELEASE,
        LaneKind(12.5),
        own_laydown=20.0,
        launch_angle_rad=0.0,
        speed_change_mps=[0.3, -0.3],
        rev_change_radps=[5.0, -50.0],
        rotation_change_rad=0.1,
    )
    np.testing.assert_allclose(shots.speed_mps, RELEASE.speed_mps + np.array([0.3, -0.3]))
    np.testing.assert_allclose(shots.rev_rate_radps, [43.0, 0.0])
    np.testing.assert_allclose(shots.axis_rotation_rad, RELEASE.axis_rotation_rad + 0.1)
    np.testing.assert_allclose(shots.axis_tilt_rad, RELEASE.axis_tilt_rad)


ERRORS = (
    "laydown_boards",
    "launch_angle_rad",
    "speed_mps",
    "rev_rate_radps",
    "axis_rotation_rad",
)


@pytest.mark.parametrize("name", ERRORS)
def test_errors_are_normal_with_the_bowlers_own_scatter(name):
    errors = getattr(release_errors(SCATTER, 2048, 3), name)
    spread = getattr(SCATTER, name)
    assert errors.mean() == pytest.approx(0.0, abs=0.02 * spread)
    assert errors.std() == pytest.approx(spread, rel=0.02)
    assert np.mean(np.abs(errors) < spread) == pytest.approx(0.6827, abs=0.01)


def test_parts_of_a_release_err_apart_from_each_other():
    errors = release_errors(SCATTER, 2048, 3)
    apart = np.corrcoef([getattr(errors, name) for name in ERRORS])
    assert np.abs(apart[~np.eye(len(ERRORS), dtype=bool)]).max() < 0.03


def test_the_same_seed_gives_the_same_errors_and_another_seed_others():
    first, again, other = (release_errors(SCATTER, 10, seed) for seed in (3, 3, 4))
    assert len(first) == 10
    for name in ERRORS:
        np.testing.assert_array_equal(getattr(first, name), getattr(again, name))
        assert not np.array_equal(getattr(first, name), getattr(other, name))


def test_lanes_are_alike_where_nothing_but_the_film_differs():
    level = LaneKind(12.8)
    assert level.is_like(LaneKind(12.8))
    assert not level.is_like(LaneKind(12.9))
    assert not level.is_like(LaneKind(12.8, friction=1.01))
    tilted = LaneKind(12.8, pull_mps2=np.ones((2, 120, 39)))
    assert not level.is_like(tilted)
    assert tilted.is_like(LaneKind(12.8, pull_mps2=np.ones((2, 120, 39))))
