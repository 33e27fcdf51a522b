"""A release as vectors: where the ball goes, how it turns, where its axis point is."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nextpair.physics.release import launch_spin_radps, launch_velocity_mps
from nextpair.physics.rigid_body import contact_slip

RADIUS_M = 0.1085
speeds_mps = st.floats(4.0, 12.0)
angles_rad = st.floats(-0.1, 0.2)
rates_radps = st.floats(1.0, 80.0)
rotations_rad = st.floats(-0.2, 2.0)
tilts_rad = st.floats(-0.2, 1.5)


@given(speeds_mps, angles_rad)
def test_the_velocity_has_the_speed_and_points_to_the_angle(speed, angle):
    v_x, v_y = launch_velocity_mps(speed, angle)
    assert math.hypot(v_x, v_y) == pytest.approx(speed)
    assert math.atan2(v_x, v_y) == pytest.approx(angle)


def test_a_positive_launch_angle_points_right():
    v_x, v_y = launch_velocity_mps(8.0, math.radians(2.0))
    assert v_x > 0
    assert v_y > 0


@given(rates_radps, rotations_rad, tilts_rad)
def test_the_spin_has_the_rev_rate_and_the_tilt(rate, rotation, tilt):
    spin = launch_spin_radps(rate, rotation, tilt)
    assert math.hypot(*spin) == pytest.approx(rate)
    assert spin[2] / rate == pytest.approx(math.sin(tilt))


def test_end_over_end_turns_forward_about_a_level_axis():
    """Rolling forward takes the top of the ball down the lane: the axis points left."""
    spin = launch_spin_radps(40.0, 0.0, 0.0)
    assert spin == pytest.approx((-40.0, 0.0, 0.0))
    speed_mps = 40.0 * RADIUS_M
    assert contact_slip(0.0, speed_mps, *spin[:2], RADIUS_M) == pytest.approx((0.0, 0.0))


def test_more_rotation_brings_the_axis_point_toward_the_bowler():
    """A right-hander's axis point starts on the left and moves to the bowler's side of the ball.

    Source: [model-sheet] section 6.1, read in a coaching article of December 2011.
    """
    points = [launch_spin_radps(1.0, math.radians(degrees), 0.0) for degrees in (0, 30, 60, 90)]
    assert points[0] == pytest.approx((-1.0, 0.0, 0.0))
    assert points[-1] == pytest.approx((0.0, -1.0, 0.0))
    toward_bowler = [-y for _, y, _ in points]
    assert toward_bowler == sorted(toward_bowler)


def test_a_pure_spinner_stands_upright():
    assert launch_spin_radps(30.0, 0.7, math.radians(90.0)) == pytest.approx((0.0, 0.0, 30.0))


@given(speeds_mps, angles_rad, rates_radps, rotations_rad, tilts_rad)
def test_the_slip_is_that_of_the_closed_form(speed, angle, rate, rotation, tilt):
    """Source: [model-sheet] section 6.1, written in the angles of a coach."""
    velocity = launch_velocity_mps(speed, angle)
    spin = launch_spin_radps(rate, rotation, tilt)
    rim_mps = RADIUS_M * rate * math.cos(tilt)
    assert contact_slip(*velocity, *spin[:2], RADIUS_M) == pytest.approx(
        (
            speed * math.sin(angle) + rim_mps * math.sin(rotation),
            speed * math.cos(angle) - rim_mps * math.cos(rotation),
        ),
        abs=1e-9,
    )
