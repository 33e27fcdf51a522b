"""Many shots at once: lanes and balls that differ from shot to shot."""

from __future__ import annotations

from dataclasses import replace

import pytest

import nextpair as npair
from nextpair.domain.ball import Cover
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.event import DressedLane
from nextpair.domain.house import House, LaneSurface, LaneTrait
from nextpair.domain.units import CENTIPOISE_PAS, INCH_M
from reference.flat_patterns import flat_pattern
from reference.robot_lane import BALL

LEVEL, SLOPING = 0, 1


def releases(laydown_board, hand="right"):
    return npair.Releases(
        hand=hand,
        laydown_board=laydown_board,
        launch_angle_deg=2.0,
        speed_mph=17.5,
        rev_rate_rpm=380,
        axis_rotation_deg=45,
        axis_tilt_deg=12,
    )


@pytest.fixture(scope="module")
def lanes():
    """A level lane, and others that each differ from it in one thing."""
    traits = (LaneTrait(2, tilt_m=0.02 * INCH_M),)
    house = House("Tern Quay", 4, LaneSurface.SYNTHETIC, 5.0, traits=traits)
    thick = flat_pattern(41.0)
    thin = replace(thick, viscosity_pas=15 * CENTIPOISE_PAS)
    return [
        DressedLane(1, house, thick),
        DressedLane(2, house, thick),
        DressedLane(3, house, thin),
        DressedLane(4, replace(house, surface=LaneSurface.WOOD), thick),
    ]


@pytest.mark.parametrize("hand", ["right", "left"])
def test_each_shot_rolls_on_its_own_lane_as_if_alone(lanes, hand):
    together = npair.roll(lanes, BALL, releases(20.0, hand)).x_m
    alone = [npair.roll(lane, BALL, releases(20.0, hand)).x_m[0] for lane in lanes]
    assert together.tolist() == alone
    assert len(set(alone)) == len(lanes)


def test_each_shot_has_its_own_ball_on_its_own_lane(lanes):
    balls = [BALL, replace(BALL, name="Plain", cover=Cover.PLASTIC)] * 2
    together = npair.roll(lanes, balls, releases([20.0, 21.0, 22.0, 23.0])).x_m
    alone = [
        npair.roll(lane, ball, releases(board)).x_m[0]
        for lane, ball, board in zip(lanes, balls, (20.0, 21.0, 22.0, 23.0), strict=True)
    ]
    assert together.tolist() == alone


def test_a_slope_to_the_right_moves_only_the_shots_on_that_lane(lanes):
    level, sloping, again = npair.roll(
        [lanes[LEVEL], lanes[SLOPING], lanes[LEVEL]], BALL, releases(20.0)
    ).x_m
    assert level == again
    assert sloping > level


@pytest.mark.parametrize(("count", "named"), [(0, "lanes"), (3, "releases")])
def test_lanes_that_do_not_fit_the_shots_are_refused(lanes, count, named):
    with pytest.raises(InvalidValueError, match=named):
        npair.roll(lanes[:count], BALL, releases([20.0, 21.0]))
