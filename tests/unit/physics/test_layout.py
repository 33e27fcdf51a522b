"""A layout as core axes: pin distance, drilling angle and VAL angle can be read back from them."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from nextpair.domain.ball import Balance, Layout
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.units import INCH_M, OUNCE_KG, POUND_KG
from nextpair.physics.layout import (
    GRIP_RADIUS_M,
    axes_to_quaternion,
    core_angles_rad,
    core_axes,
    grip_axes,
    offset_in_spin_frame_m,
)
from nextpair.physics.rigid_body import to_lane

layouts = st.builds(
    Layout,
    pin_to_pap_m=st.floats(0.0, 6.75 * INCH_M),
    drilling_angle_rad=st.floats(0.0, math.pi),
    val_angle_rad=st.floats(0.0, math.pi / 2),
)
spin_axes = st.builds(
    lambda longitude, height: (
        math.cos(longitude) * math.cos(height),
        math.sin(longitude) * math.cos(height),
        math.sin(height),
    ),
    st.floats(-math.pi, math.pi),
    st.floats(-math.pi / 2, math.pi / 2),
)


def angle_rad(a, b) -> float:
    return math.atan2(float(np.linalg.norm(np.cross(a, b))), float(np.dot(a, b)))


@given(layouts, spin_axes)
def test_the_core_axes_are_a_right_handed_triad(layout, spin_axis):
    axes = np.array(core_axes(layout, spin_axis))
    assert axes @ axes.T == pytest.approx(np.eye(3), abs=1e-12)
    assert np.linalg.det(axes) == pytest.approx(1.0)


@given(layouts, spin_axes)
def test_the_pin_lies_its_distance_from_the_axis_point(layout, spin_axis):
    low, _, _ = core_axes(layout, spin_axis)
    along_the_cover_m = angle_rad(low, spin_axis) * GRIP_RADIUS_M
    assert along_the_cover_m == pytest.approx(layout.pin_to_pap_m, abs=1e-9)


@given(layouts, spin_axes)
def test_the_drilling_angle_opens_at_the_pin(layout, spin_axis):
    """Between the line from the pin to the axis point and the one to the high axis."""
    assume(layout.pin_to_pap_m > 0.1 * INCH_M)
    low, high, _ = map(np.array, core_axes(layout, spin_axis))
    to_axis_point = np.array(spin_axis) - np.dot(spin_axis, low) * low
    assert angle_rad(to_axis_point, high) == pytest.approx(layout.drilling_angle_rad, abs=1e-9)


@given(layouts, spin_axes, st.floats(0.0, math.pi / 2))
def test_the_val_angle_only_turns_the_core_about_the_spin_axis(layout, spin_axis, other_rad):
    other = Layout(layout.pin_to_pap_m, layout.drilling_angle_rad, other_rad)
    turn_rad = angle_between_triads_rad(
        core_axes(layout, spin_axis), core_axes(other, spin_axis), spin_axis
    )
    assert abs(turn_rad) == pytest.approx(abs(layout.val_angle_rad - other_rad), abs=1e-9)


def angle_between_triads_rad(one, other, axis) -> float:
    """Angle of the turn from one triad to the other, which must be about the given axis."""
    turn = Rotation.from_matrix(np.transpose(other) @ np.array(one)).as_rotvec()
    assert np.cross(turn, axis) == pytest.approx(np.zeros(3), abs=1e-7)
    return float(np.dot(turn, axis))


@given(layouts, spin_axes)
def test_the_quaternion_takes_body_axes_to_the_core_axes(layout, spin_axis):
    axes = core_axes(layout, spin_axis)
    q = axes_to_quaternion(*axes)
    assert math.hypot(*q) == pytest.approx(1.0)
    for body_axis, lane_axis in zip(np.eye(3), axes, strict=True):
        assert to_lane(*q, *body_axis) == pytest.approx(lane_axis, abs=1e-12)


def test_three_and_three_eighths_inches_is_an_eighth_of_a_turn():
    """A quarter of the circumference is the largest pin distance; half of it flares most.

    Source: [facts] section 3: 6.75 in and 3 3/8 in, from memory.
    """
    theta_rad, delta_rad = core_angles_rad(Layout(3.375 * INCH_M, 1.0, 0.5))
    assert theta_rad == pytest.approx(math.pi / 4, rel=0.01)
    assert delta_rad == 1.0


def test_the_grip_has_three_square_axes_and_the_axis_point_lies_over_and_up_from_it():
    over_m, up_m = 5.0 * INCH_M, 0.5 * INCH_M
    axes = np.array(grip_axes(over_m, up_m))
    np.testing.assert_allclose(axes @ axes.T, np.eye(3), atol=1e-12)
    # Seen from outside with the fingers up, the axis point's side is to the right.
    np.testing.assert_allclose(np.cross(axes[2], axes[0]), axes[1], atol=1e-12)
    over, up = over_m / GRIP_RADIUS_M, up_m / GRIP_RADIUS_M
    axis_point = np.array([0.0, 0.0, 1.0])
    assert axes[2] @ axis_point == pytest.approx(math.sin(up))
    assert axes[1] @ axis_point == pytest.approx(math.cos(up) * math.sin(over))


def test_side_weight_on_a_ball_whose_axis_point_is_a_quarter_over_lies_on_the_spin_axis():
    quarter_m = 0.5 * math.pi * GRIP_RADIUS_M
    offset = offset_in_spin_frame_m(Balance(side_m=1e-3), quarter_m, 0.0)
    assert offset == pytest.approx((0.0, 0.0, 1e-3), abs=1e-15)


def test_an_ounce_moves_the_mass_of_a_15_pound_ball_by_half_a_millimetre():
    """[model-sheet] section 2.5: 3 oz on a balance is about 1.3 mm, an estimate."""
    kg = 15 * POUND_KG
    balance = Balance.of_static_weights(kg, 0.0, 3 * OUNCE_KG, 0.0)
    assert balance.side_m == pytest.approx(1.3e-3, rel=0.06)
    with pytest.raises(InvalidValueError, match="side_weight_oz"):
        Balance.of_static_weights(kg, 0.0, 3.1 * OUNCE_KG, 0.0)
    with pytest.raises(InvalidValueError, match="weight_lb"):
        Balance.of_static_weights(0.0, 0.0, OUNCE_KG, 0.0)
