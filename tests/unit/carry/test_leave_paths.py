"""Straight paths past pins: where, and whether they touch, against paths walked step by step."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nextpair.carry.deck import DECK_HALF_WIDTH_M, PIN_X_M, PIN_Y_M
from nextpair.carry.leave_paths import (
    front_m,
    level_boards,
    offset_at,
    offset_of_place,
    place_boards,
    touches,
)
from nextpair.domain import entry
from nextpair.domain.ball import CONTACT_M
from nextpair.domain.lane import BOARD_M, PIN_SPACING_M
from nextpair.domain.units import DEGREE_RAD
from nextpair.scoring.leaves import mirrored_leave, parse_leave, standing_pins

LEVELS = st.floats(-19.0, 19.0)
ANGLES = st.floats(-3.0, 8.0)
LEAVES = st.integers(1, 1023)
STEP_M = 2e-4


def walked(leave: int, level: float, angle_deg: float) -> bool:
    """The ball moved along from before the head pin in small steps: does it touch a pin first?"""
    y = np.arange(-0.2, 1.2, STEP_M)
    x = level * BOARD_M - y * math.tan(angle_deg * DEGREE_RAD)
    off = np.abs(x) > DECK_HALF_WIDTH_M
    off[y < min(0.0, PIN_Y_M[standing_pins(leave)[0] - 1] - CONTACT_M)] = False
    near = np.zeros(len(y), bool)
    for pin in standing_pins(leave):
        near |= np.hypot(x - PIN_X_M[pin - 1], y - PIN_Y_M[pin - 1]) < CONTACT_M
    gone = int(np.argmax(off)) if off.any() else len(y)
    return bool(near[:gone].any()) and abs(level * BOARD_M) <= DECK_HALF_WIDTH_M


def clearance_m(leave: int, level: float, angle_deg: float) -> float:
    """How far from the border between touching and missing a path is."""
    angle = angle_deg * DEGREE_RAD
    found = [abs(abs(level * BOARD_M) - DECK_HALF_WIDTH_M)]
    for pin in standing_pins(leave):
        x_m, y_m = PIN_X_M[pin - 1], PIN_Y_M[pin - 1]
        across = (level * BOARD_M - x_m) * math.cos(angle) - y_m * math.sin(angle)
        before = math.sqrt(max(CONTACT_M**2 - across**2, 0.0))
        centre = x_m + across * math.cos(angle) + before * math.sin(angle)
        found += [abs(abs(across) - CONTACT_M), abs(abs(centre) - DECK_HALF_WIDTH_M)]
    return min(found)


@given(LEVELS, ANGLES, st.sampled_from([1 << pin for pin in range(10)]))
def test_a_lone_pin_is_touched_where_a_walked_ball_touches_it(level, angle_deg, leave):
    if clearance_m(leave, level, angle_deg) > 2e-3:
        offset = offset_at(level, angle_deg)
        assert bool(touches(leave, offset, angle_deg)) == walked(leave, level, angle_deg)


@given(LEVELS, ANGLES)
def test_offsets_come_back_from_where_paths_cross_the_row(level, angle_deg):
    # At a graze the ball may touch before or behind the row: a tenth of a board at most.
    assert level_boards(offset_at(level, angle_deg), angle_deg) == pytest.approx(level, abs=0.3)


@given(LEVELS, ANGLES, LEAVES)
def test_offsets_come_back_from_the_place_at_a_leave(level, angle_deg, leave):
    offset = offset_at(level, angle_deg)
    there = place_boards(leave, offset, angle_deg)
    assert offset_of_place(leave, there, angle_deg) == pytest.approx(float(offset), abs=0.3)


@given(LEVELS, ANGLES, LEAVES)
def test_a_mirror_turns_everything_round(level, angle_deg, leave):
    offset = offset_at(level, angle_deg)
    image = mirrored_leave(leave)
    assert place_boards(image, -offset, -angle_deg) == pytest.approx(
        -float(place_boards(leave, offset, angle_deg))
    )
    if clearance_m(leave, level, angle_deg) > 5e-3:
        assert touches(image, -offset, -angle_deg) == touches(leave, offset, angle_deg)


def test_a_head_on_ball_touches_the_head_pin_two_radii_before_it():
    assert float(offset_at(0.0, 0.0)) == 0.0
    # At 6 degrees a ball whose centre meets the head pin's front crosses its row further left.
    crossed = float(level_boards(0.0, 6.0)) * BOARD_M
    assert crossed == pytest.approx(-CONTACT_M * math.tan(6.0 * DEGREE_RAD))


def test_the_front_of_a_leave_is_the_middle_of_its_nearest_pins():
    assert front_m(parse_leave("4-6-7-10")) == pytest.approx((0.0, math.sqrt(3) * PIN_SPACING_M))
    assert front_m(parse_leave("3-10")) == pytest.approx(
        (0.5 * PIN_SPACING_M, math.sqrt(3) / 2 * PIN_SPACING_M)
    )


def test_a_ball_that_never_comes_touches_nothing():
    assert not touches(1023, np.nan, 1.0)


@given(LEVELS, ANGLES)
def test_arrays_and_numbers_tell_the_same(level, angle_deg):
    offset = entry.offset_boards_of(level, angle_deg)
    assert float(offset_at(level, angle_deg)) == pytest.approx(offset, abs=1e-9)
    assert float(level_boards(offset, angle_deg)) == pytest.approx(
        entry.level_boards(offset, angle_deg), abs=1e-9
    )
