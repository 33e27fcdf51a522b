"""Rings on a ball from a recorded path: closed forms of an axis that circles the pin."""

from __future__ import annotations

import math

import numpy as np
import pytest

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.units import DEGREE_RAD
from nextpair.kernel.flare import flare_m, ring_spacing_m
from nextpair.kernel.layout import NODE_M, NODES, Trace

TURN_M = 2.0 * math.pi * BALL_RADIUS_M


def circling(theta_rad, psi_rad_per_m, turns, rocking_rad=0.0):
    """Trace (8, 121, 1) of an axis that goes round the pin evenly and rocks once a turn."""
    trace = np.zeros((len(Trace), NODES, 1), np.float32)
    trace[Trace.V_Y] = 8.0
    trace[Trace.SURFACE_SPEED] = 8.0 * turns * TURN_M / NODE_M[-1]
    psi = psi_rad_per_m * NODE_M
    turn_rad = 2.0 * math.pi * turns * NODE_M / NODE_M[-1]
    theta = theta_rad + rocking_rad * np.cos(turn_rad)
    trace[Trace.AXIS_LOW, :, 0] = np.cos(theta)
    trace[Trace.AXIS_HIGH, :, 0] = np.sin(theta) * np.cos(psi)
    trace[Trace.AXIS_MIDDLE, :, 0] = np.sin(theta) * np.sin(psi)
    return trace, np.array([float(turns)])


def spread_m(theta_rad, psi_rad):
    """R gamma, cos gamma = cos^2 theta + sin^2 theta cos psi: model sheet, section 2.9."""
    cosine = math.cos(theta_rad) ** 2 + math.sin(theta_rad) ** 2 * math.cos(psi_rad)
    return BALL_RADIUS_M * math.acos(cosine)


@pytest.mark.parametrize("theta_deg", [20.0, 45.0, 80.0])
@pytest.mark.parametrize("psi_rad_per_m", [0.02, 0.15])
def test_rings_lie_as_far_apart_as_the_axis_goes_in_a_turn(theta_deg, psi_rad_per_m):
    trace, turns = circling(theta_deg * DEGREE_RAD, psi_rad_per_m, 15)
    spacing_m = ring_spacing_m(trace, turns)
    a_turn_rad = psi_rad_per_m * NODE_M[-1] / 15
    assert spacing_m.shape == (1, NODES)
    np.testing.assert_allclose(spacing_m, spread_m(theta_deg * DEGREE_RAD, a_turn_rad), rtol=2e-3)


def test_rocking_once_a_turn_moves_no_ring():
    still = ring_spacing_m(*circling(0.8, 0.1, 15))
    rocking = ring_spacing_m(*circling(0.8, 0.1, 15, rocking_rad=0.04))
    # Two and a half degrees of rocking are 4 mm on the cover; between nodes a tenth is left.
    np.testing.assert_allclose(rocking, still, atol=1e-3)
    assert abs(rocking.mean() / still.mean() - 1.0) < 0.01


@pytest.mark.parametrize("oiled_m", [6.0, 12.0, 18.0])
def test_flare_is_the_width_of_the_bow_tie_over_the_oil(oiled_m):
    trace, _ = circling(0.8, 0.12, 15)
    oiled_rad = 0.12 * NODE_M[np.searchsorted(NODE_M, oiled_m, side="right") - 1]
    assert flare_m(trace, oiled_m)[0] == pytest.approx(spread_m(0.8, oiled_rad), rel=1e-4)


def test_rings_begin_where_the_ball_comes_down():
    trace, _ = circling(0.8, 0.12, 15)
    down_m = NODE_M[10]
    assert flare_m(trace, NODE_M[80], down_m)[0] == pytest.approx(
        spread_m(0.8, 0.12 * (NODE_M[80] - down_m)), rel=1e-4
    )
    assert flare_m(trace, 1.0, 3.0)[0] == flare_m(trace, 1.0, 30.0)[0] == 0.0


def test_past_half_way_round_the_pin_the_bow_tie_grows_no_wider():
    trace, _ = circling(0.8, 0.3, 15)
    widest_m = flare_m(trace, 18.0)[0]
    assert widest_m == pytest.approx(2.0 * 0.8 * BALL_RADIUS_M, rel=1e-3)
    assert widest_m > flare_m(trace, 6.0)[0]


def test_without_oil_no_ring_is_seen_apart():
    trace, _ = circling(0.8, 0.3, 15)
    assert flare_m(trace, 0.0)[0] == 0.0


def test_a_ball_that_turns_less_than_once_has_its_axis_way():
    trace, turns = circling(0.8, 0.05, 0.7)
    expected_m = spread_m(0.8, 0.05 * NODE_M[-1])
    np.testing.assert_allclose(ring_spacing_m(trace, turns), expected_m, rtol=1e-3)


def test_a_ball_that_does_not_turn_has_one_ring():
    trace, _ = circling(0.8, 0.0, 0.0)
    np.testing.assert_allclose(ring_spacing_m(trace, np.zeros(1)), 0.0, atol=1e-9)


def test_every_ball_of_a_batch_has_its_own_rings():
    one, turns = circling(0.8, 0.1, 15)
    two, more = circling(0.3, 0.05, 12)
    both = ring_spacing_m(np.concatenate((one, two), axis=2), np.concatenate((turns, more)))
    np.testing.assert_array_equal(both[:1], ring_spacing_m(one, turns))
    np.testing.assert_array_equal(both[1:], ring_spacing_m(two, more))
