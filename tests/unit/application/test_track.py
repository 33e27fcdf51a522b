"""The track on the ball: closed forms of ring and grip, and where the rings go."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from nextpair.application.one_path import roll_one
from nextpair.domain.shot import Track
from nextpair.domain.units import DEGREE_RAD, INCH_M
from nextpair.physics.layout import GRIP_RADIUS_M, grip_axes
from small_event import small_event

EVENT = small_event()
RADIUS_IN = GRIP_RADIUS_M / INCH_M


def track_of(ball: str = "Slate Weir", **bowler: float) -> Track:
    event = replace(EVENT, bowler=replace(EVENT.bowler, **bowler))
    return roll_one(event, ball, 22.0, 2.9).track


def test_the_first_ring_lies_a_quarter_round_and_the_tilt_from_the_axis_point():
    tilt_rad = EVENT.bowler.release.axis_tilt_rad
    expected = RADIUS_IN * (math.pi / 2 + tilt_rad)
    assert track_of().first_from_pap_in == pytest.approx(expected, abs=1e-3)


def test_the_grip_is_as_far_from_the_axis_point_as_over_and_up_say():
    """By the cosine rule on the ball, for an axis point over and up at right angles."""
    over_m, up_m = EVENT.bowler.pap_over_m, EVENT.bowler.pap_up_m
    apart = math.acos(math.cos(over_m / GRIP_RADIUS_M) * math.cos(up_m / GRIP_RADIUS_M))
    assert grip_axes(over_m, up_m)[0][2] == pytest.approx(math.cos(apart), abs=1e-12)
    assert np.linalg.norm(grip_axes(over_m, up_m)[0]) == pytest.approx(1.0, abs=1e-12)
    track = track_of()
    between = track.first_from_pap_in - track.first_from_grip_in
    assert between == pytest.approx(RADIUS_IN * apart, abs=1e-3)


def test_an_axis_point_farther_over_brings_the_track_closer_to_the_grip():
    near, far = (track_of(pap_over_m=inches * INCH_M) for inches in (4.5, 5.5))
    assert far.first_from_grip_in < near.first_from_grip_in
    assert near.first_from_grip_in - far.first_from_grip_in == pytest.approx(1.0, abs=0.02)


def test_less_tilt_brings_the_track_closer_to_the_grip():
    release = EVENT.bowler.release
    low = track_of(release=replace(release, axis_tilt_rad=3 * DEGREE_RAD))
    assert low.first_from_grip_in < track_of().first_from_grip_in


def test_the_first_ring_is_the_one_closest_to_the_grip_and_flare_leads_away_from_it():
    """Common practice, from memory: a coach finds the axis point from the ring that lies closest
    to the holes, as that is the first one."""
    for ball in ("Slate Weir", "Dunlin Flock", "Wet Sailcloth", "Plain Thimble"):
        track = track_of(ball)
        assert track.last_from_grip_in > track.first_from_grip_in


def test_a_ball_without_a_core_lays_its_rings_on_one_another():
    dead = tuple(
        replace(ball, differential_m=0.0, intermediate_m=0.0)
        if ball.name == "Plain Thimble"
        else ball
        for ball in EVENT.locker
    )
    track = roll_one(replace(EVENT, locker=dead), "Plain Thimble", 22.0, 2.9).track
    # The tilt falls as the ball turns faster, and friction rocks the axis by a tenth.
    moved = track.last_from_pap_in - track.first_from_pap_in
    assert -0.2 < moved < 0.0
    assert track.last_from_grip_in - track.first_from_grip_in == pytest.approx(moved, abs=0.12)
