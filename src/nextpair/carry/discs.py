"""Ball and ten pins as discs in the plane of the pin deck, until everything rests or is gone.

What the plane keeps: positions, masses, restitution, the ball's deflection and its roll, the
kickbacks, the gutters, the pit, and that a fallen pin lies across part of its way and sweeps
wider than a standing one. What it cannot know: pins that fly over others, spin, tilt and wobble,
the shape of a contact away from the belly, friction between pins. So its strike chances are a
calibrated likeness of published totals, not a prediction of an absolute carry.

Time advances to the nearest possible contact, never less than STEP_S; the deepest contact is
resolved first. Both rules ignore the order of the pins, so a mirrored rack plays out mirrored to
the last bit.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numba import njit, prange
from numpy.typing import NDArray

from nextpair.carry.deck import (
    DECK_HALF_WIDTH_M,
    KICKBACK_X_M,
    PIT_Y_M,
    Bodies,
    FloatArray,
    Racks,
)
from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.lane import BOARD_M, PIN_RADIUS_M
from nextpair.domain.units import DEGREE_RAD
from nextpair.kernel.roll import CONTACT_M
from nextpair.physics.constants import GRAVITY_MPS2
from nextpair.scoring.leaves import FULL_RACK, PINS

IntArray = NDArray[np.int64]

STEP_S = 2e-5
LONGEST_STEP_S = 4e-3
LONGEST_RACK_S = 2.5
MOST_STEPS = 60_000
RUN_UP_M = 0.03
"""Way before first contact at which a rack starts, longer than any pin is off its spot."""

_BALL = PINS
_BODIES = PINS + 1
_STANDING, _FALLEN, _GONE = 0, 1, 2


class RackResult(NamedTuple):
    """What n racks left: standing pins, pins the ball touched (bit masks), and its exit."""

    standing: IntArray
    touched: IntArray
    exit_x_m: FloatArray
    """Ball centre when it leaves the deck into the pit; NaN when it does not."""


class _State(NamedTuple):
    x: FloatArray
    y: FloatArray
    vx: FloatArray
    vy: FloatArray
    reach: FloatArray
    way: FloatArray
    in_gutter_s: FloatArray
    condition: IntArray
    roll: FloatArray


@njit(cache=True, error_model="numpy")
def _started(x_m, y_m, pins, offset_boards, angle_deg, speed_mps):  # type: ignore[no-untyped-def]
    """Bodies just before the ball meets the head pin (or its row, if it will miss)."""
    s = _State(
        np.empty(_BODIES),
        np.empty(_BODIES),
        np.zeros(_BODIES),
        np.zeros(_BODIES),
        np.full(_BODIES, PIN_RADIUS_M),
        np.zeros(_BODIES),
        np.zeros(_BODIES),
        np.full(_BODIES, _STANDING),
        np.empty(2),
    )
    for i in range(PINS):
        s.x[i] = x_m[i]
        s.y[i] = y_m[i]
        if not pins >> i & 1:
            s.condition[i] = _GONE
    angle = angle_deg * DEGREE_RAD
    s.vx[_BALL] = s.roll[0] = -speed_mps * math.sin(angle)
    s.vy[_BALL] = s.roll[1] = speed_mps * math.cos(angle)
    s.reach[_BALL] = BALL_RADIUS_M
    s.condition[_BALL] = _FALLEN
    offset_m = offset_boards * BOARD_M
    before2 = CONTACT_M * CONTACT_M - offset_m * offset_m
    before = math.sqrt(before2) if before2 > 0.0 else 0.0
    s.x[_BALL] = offset_m + RUN_UP_M * math.sin(angle)
    s.y[_BALL] = -before - RUN_UP_M * math.cos(angle)
    return s


@njit(cache=True, error_model="numpy")
def _next_contact(b, s):  # type: ignore[no-untyped-def]
    """Deepest approaching contact (i, j), or (-1, -1) and a time in which none can begin.

    A negative time means that nothing moves any more.
    """
    widening = (b.half_length_m - PIN_RADIUS_M) / b.fall_path_m
    deepest, first, second = 0.0, -1, -1
    wait = -1.0
    for i in range(_BODIES):
        if s.condition[i] == _GONE:
            continue
        own2 = s.vx[i] ** 2 + s.vy[i] ** 2
        if own2 > 0.0 and wait < 0.0:
            wait = LONGEST_STEP_S
        for j in range(i):
            other2 = s.vx[j] ** 2 + s.vy[j] ** 2
            if s.condition[j] == _GONE or (own2 == 0.0 and other2 == 0.0):
                continue
            wait = LONGEST_STEP_S if wait < 0.0 else wait
            touch = CONTACT_M if i == _BALL else s.reach[i] + s.reach[j]
            dx, dy = s.x[i] - s.x[j], s.y[i] - s.y[j]
            ux, uy = s.vx[i] - s.vx[j], s.vy[i] - s.vy[j]
            apart2 = dx * dx + dy * dy
            if apart2 < touch * touch:
                depth = touch - math.sqrt(apart2)
                if ux * dx + uy * dy < 0.0 and depth > deepest:
                    deepest, first, second = depth, i, j
            else:
                closing = math.sqrt(ux * ux + uy * uy)
                if i != _BALL:
                    closing += widening * (math.sqrt(own2) + math.sqrt(other2))
                wait = min(wait, (math.sqrt(apart2) - touch) / closing)
    return first, second, wait


@njit(cache=True, error_model="numpy")
def _collide(b, s, i, j, restitution):  # type: ignore[no-untyped-def]
    """Impulse between body i (ball or pin) and pin j along the line of centres.

    The ball also drags a pin across that line, at most until they no longer slip. Its rolling
    face slips downward as well, and that takes its share of the friction.
    """
    dx, dy = s.x[i] - s.x[j], s.y[i] - s.y[j]
    apart = math.sqrt(dx * dx + dy * dy)
    nx, ny = dx / apart, dy / apart
    ux, uy = s.vx[i] - s.vx[j], s.vy[i] - s.vy[j]
    mass_kg = b.ball_kg if i == _BALL else b.pin_kg
    along = -(1.0 + restitution) * (ux * nx + uy * ny) / (1.0 / mass_kg + 1.0 / b.pin_kg)
    across = 0.0
    if i == _BALL:
        sideways = uy * nx - ux * ny
        downward = s.roll[0] * nx + s.roll[1] * ny
        slip = math.sqrt(sideways * sideways + downward * downward)
        ball_yield = (1.0 + 1.0 / b.ball_inertia) / b.ball_kg
        pin_yield = (1.0 + 1.0 / b.pin_inertia) / b.pin_kg
        if slip > 0.0:
            across = -sideways * min(b.ball_grip * along / slip, 1.0 / (ball_yield + pin_yield))
    px, py = along * nx - across * ny, along * ny + across * nx
    s.vx[i] += px / mass_kg
    s.vy[i] += py / mass_kg
    s.vx[j] -= px / b.pin_kg
    s.vy[j] -= py / b.pin_kg
    if along > b.topple_mps * b.pin_kg:
        s.condition[j] = _FALLEN
        s.condition[i] = _FALLEN


@njit(cache=True, error_model="numpy")
def _advance_ball(b, s, dt):  # type: ignore[no-untyped-def]
    """Move the ball; friction draws its speed toward its roll and its roll toward its speed.

    Returns where it leaves the deck, NaN while it is on it.
    """
    exit_x = math.nan
    x, y = s.x[_BALL], s.y[_BALL]
    s.x[_BALL] += s.vx[_BALL] * dt
    s.y[_BALL] += s.vy[_BALL] * dt
    if y < PIT_Y_M <= s.y[_BALL]:
        exit_x = x + (s.x[_BALL] - x) * (PIT_Y_M - y) / (s.y[_BALL] - y)
    if s.y[_BALL] > PIT_Y_M + BALL_RADIUS_M or abs(s.x[_BALL]) > DECK_HALF_WIDTH_M:
        s.condition[_BALL] = _GONE
    ux, uy = s.vx[_BALL] - s.roll[0], s.vy[_BALL] - s.roll[1]
    slip = math.sqrt(ux * ux + uy * uy)
    if slip > 0.0:
        until_rolling = b.ball_inertia / (1.0 + b.ball_inertia)
        share = min(b.ball_friction * GRAVITY_MPS2 * dt / slip, until_rolling)
        s.vx[_BALL] -= share * ux
        s.vy[_BALL] -= share * uy
        s.roll[0] += share / b.ball_inertia * ux
        s.roll[1] += share / b.ball_inertia * uy
    return exit_x


@njit(cache=True, error_model="numpy")
def _advance_pin(b, s, i, turn, dt):  # type: ignore[no-untyped-def]
    """Move one pin: it slides to rest, comes to lie across, meets kickback, gutter and pit."""
    speed = math.sqrt(s.vx[i] ** 2 + s.vy[i] ** 2)
    s.x[i] += s.vx[i] * dt
    s.y[i] += s.vy[i] * dt
    s.way[i] += speed * dt
    if s.condition[i] == _FALLEN:
        fallen = min(s.way[i] / b.fall_path_m, 1.0)
        s.reach[i] = PIN_RADIUS_M + (b.half_length_m - PIN_RADIUS_M) * turn * fallen
    if abs(s.x[i]) > DECK_HALF_WIDTH_M:
        s.in_gutter_s[i] += dt
    else:
        left = max(0.0, 1.0 - b.pin_friction * GRAVITY_MPS2 * dt / speed)
        s.vx[i] *= left
        s.vy[i] *= left
    if abs(s.x[i]) > KICKBACK_X_M - PIN_RADIUS_M and s.x[i] * s.vx[i] > 0.0:
        s.vx[i] *= -b.wall_restitution
    if s.y[i] > PIT_Y_M or s.in_gutter_s[i] > b.gutter_s:
        s.condition[i] = _GONE


@njit(cache=True, error_model="numpy")
def _played(b, rack, pins, offset_boards, angle_deg, speed_mps, ball_only):  # type: ignore[no-untyped-def]
    """One rack: (standing, touched, exit_x_m)."""
    x_m, y_m, ball_restitution, pin_restitution, turn = rack
    s = _started(x_m, y_m, pins, offset_boards, angle_deg, speed_mps)
    touched, time_s, exit_x = 0, 0.0, math.nan
    for _ in range(MOST_STEPS):
        i, j, wait = _next_contact(b, s)
        if i == _BALL:
            _collide(b, s, i, j, ball_restitution[j])
            touched |= 1 << j
            if ball_only:
                s.condition[j] = _GONE
        elif i >= 0:
            _collide(b, s, i, j, 0.5 * (pin_restitution[i] + pin_restitution[j]))
        else:
            if wait < 0.0 or time_s > LONGEST_RACK_S:
                break
            dt = max(wait, STEP_S)
            time_s += dt
            if s.condition[_BALL] != _GONE:
                left_at = _advance_ball(b, s, dt)
                exit_x = exit_x if math.isnan(left_at) else left_at
            for k in range(PINS):
                if s.condition[k] != _GONE and (s.vx[k] != 0.0 or s.vy[k] != 0.0):
                    _advance_pin(b, s, k, turn[k], dt)
    standing = 0
    for k in range(PINS):
        if s.condition[k] == _STANDING:
            standing |= 1 << k
    return standing, touched, exit_x


@njit(cache=True, parallel=True, error_model="numpy")
def _played_all(b, racks, pins, offsets, angles, speeds, ball_only):  # type: ignore[no-untyped-def]
    count = offsets.size
    standing = np.empty(count, np.int64)
    touched = np.empty(count, np.int64)
    exit_x = np.empty(count)
    x_m, y_m, ball_restitution, pin_restitution, turn = racks
    for k in prange(count):
        rack = (x_m[k], y_m[k], ball_restitution[k], pin_restitution[k], turn[k])
        standing[k], touched[k], exit_x[k] = _played(
            b, rack, pins, offsets[k], angles[k], speeds[k], ball_only
        )
    return standing, touched, exit_x


def roll_into(
    racks: Racks,
    offset_boards: FloatArray,
    entry_angle_deg: FloatArray,
    speed_mps: FloatArray,
    bodies: Bodies,
    *,
    pins: int = FULL_RACK,
    ball_only: bool = False,
) -> RackResult:
    """Roll one ball into each of n racks.

    Parameters
    ----------
    racks : n racks, see `Racks`.
    offset_boards : (n,) ball centre right of the head-pin spot at first contact with the head
        pin, or level with its row when the head pin is missed [boards].
    entry_angle_deg : (n,) angle of the path, positive toward the left [deg].
    speed_mps : (n,) speed of the ball, in full roll along its path [m/s], above 0.
    pins : bit mask of the pins that are spotted; the offset is counted from the head-pin spot
        even when no head pin stands there.
    ball_only : take away each pin once the ball has hit it, to follow the ball alone.

    Source: [model-sheet] sections 5.2 and 5.3.
    """
    columns = [
        np.ascontiguousarray(v, np.float64) for v in (offset_boards, entry_angle_deg, speed_mps)
    ]
    offset, angle, speed = columns
    played = _played_all(bodies, racks, pins, offset, angle, speed, ball_only)
    return RackResult(*played)
