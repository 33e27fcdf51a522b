"""Rotations against SciPy's, and the mechanics of the contact against vector products."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from nextpair.physics.rigid_body import (
    contact_slip,
    quaternion_product,
    spin_momentum,
    to_body,
    to_lane,
)

RADIUS_M = 0.1085
numbers = st.floats(-50.0, 50.0)
vectors = st.tuples(numbers, numbers, numbers)
angles_rad = st.floats(-math.pi, math.pi)
rotations = st.builds(
    lambda *angles: Rotation.from_euler("zyx", angles), angles_rad, angles_rad, angles_rad
)
to_the_contact = np.array([0.0, 0.0, -RADIUS_M])


def quaternion(rotation: Rotation) -> tuple[float, ...]:
    return tuple(rotation.as_quat(scalar_first=True))


@given(rotations, vectors)
def test_body_vectors_turn_into_lane_axes_as_scipy_turns_them(rotation, vector):
    turned = to_lane(*quaternion(rotation), *vector)
    assert turned == pytest.approx(rotation.apply(vector), abs=1e-11)


@given(rotations, vectors)
def test_lane_vectors_turn_back_into_body_axes(rotation, vector):
    turned = to_body(*quaternion(rotation), *vector)
    assert turned == pytest.approx(rotation.apply(vector, inverse=True), abs=1e-11)


@given(rotations, rotations)
def test_the_product_of_two_quaternions_turns_by_the_second_then_the_first(first, second):
    product = quaternion_product(*quaternion(first), *quaternion(second))
    expected = np.array(quaternion(first * second))
    assert np.abs(expected @ product) == pytest.approx(1.0, abs=1e-12)
    assert math.sqrt(sum(part * part for part in product)) == pytest.approx(1.0)


def test_hamiltons_rule():
    one, i, j, k = np.eye(4)
    assert quaternion_product(*i, *j) == tuple(k)
    assert quaternion_product(*j, *k) == tuple(i)
    assert quaternion_product(*k, *i) == tuple(j)
    assert quaternion_product(*i, *i) == tuple(-one)


@given(numbers, numbers, vectors)
def test_slip_is_the_velocity_of_the_lowest_point(v_x, v_y, spin):
    lowest = np.array([v_x, v_y, 0.0]) + np.cross(spin, to_the_contact)
    slip = contact_slip(v_x, v_y, spin[0], spin[1], RADIUS_M)
    assert slip == pytest.approx(lowest[:2], abs=1e-12)


@given(numbers, numbers)
def test_a_rolling_ball_does_not_slip(v_x, v_y):
    slip = contact_slip(v_x, v_y, -v_y / RADIUS_M, v_x / RADIUS_M, RADIUS_M)
    assert slip == pytest.approx((0.0, 0.0), abs=1e-12)


@given(numbers, numbers, vectors)
def test_momentum_about_the_contact_gives_back_the_spin_momentum(v_x, v_y, spin_m2ps):
    about_contact = np.array(spin_m2ps) + np.cross(-to_the_contact, [v_x, v_y, 0.0])
    recovered = spin_momentum(about_contact[0], about_contact[1], v_x, v_y, RADIUS_M)
    assert recovered == pytest.approx(spin_m2ps[:2], abs=1e-11)
