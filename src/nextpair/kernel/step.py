"""One step down the lane for one shot, in float32: the loop over shots vectorises it.

Distance down the lane is the independent variable, so that all shots of a block share a film row
and no step straddles a kink of the film. Orientation is advanced by an integrating factor: the
turn at the step's first body rate exactly, Runge-Kutta for the slow rest. Friction is looked up
where the ball will be half-way and at the end, predicted to second order: once for both middle
stages, and once for the last stage and the next step's first. Air and rolling resistance are
small and smooth: they are reckoned once a step, and air acts half before it and half after.

Source: [kernel-notes] points 1 to 3; the equations are those of physics.rigid_body and friction.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from nextpair.domain.lane import BOARD_M, BOARDS
from nextpair.kernel._lanes import read_table
from nextpair.kernel.layout import CREEP, GRAVITY, RADIUS
from nextpair.physics._jit import sqrt
from nextpair.physics.forces import air_drag_mps2, rolling_moment_m2ps2
from nextpair.physics.friction import friction_coefficient, friction_share
from nextpair.physics.offset import offset_moment, offset_spin_momentum, offset_velocity
from nextpair.physics.rigid_body import (
    contact_slip,
    quaternion_product,
    spin_momentum,
    to_body,
    to_lane,
)

SLOWEST_MPS = np.float32(0.5)
"""Below this down-lane speed a ball counts as stopped; the loop goes on at this speed."""

ZERO, HALF, ONE, TWO = (np.float32(n) for n in (0.0, 0.5, 1.0, 2.0))
ONE_AND_HALF, QUARTER = np.float32(1.5), np.float32(0.25)
SIXTH, THIRD = np.float32(1 / 6), np.float32(1 / 3)
C24, C120, C720, C5040 = (np.float32(1 / n) for n in (24, 120, 720, 5040))
INVERSE_GRAVITY = np.float32(1 / GRAVITY)
INVERSE_BOARD = np.float32(1 / BOARD_M)
INVERSE_TURN = np.float32(0.5 / math.pi)
RIGHT_EDGE = np.float32((BOARDS - 1) / 2)
FIRST_GAP, LAST_GAP = np.int32(0), np.int32(BOARDS - 2)
LAST_COLUMN = np.float32(BOARDS - 1)

SETTINGS = {"fastmath": True, "error_model": "numpy", "cache": True}
INLINE = {**SETTINGS, "forceinline": True, "cache": False}


@njit(**INLINE)
def under_ball(row, start, x):
    """Value of a row under the ball: linear between the centres of two boards, level past the
    outermost."""
    place = min(max(RIGHT_EDGE - x * INVERSE_BOARD, ZERO), LAST_COLUMN)
    board = max(min(np.int32(place), LAST_GAP), FIRST_GAP)
    share = place - np.float32(board)
    right = read_table(row, start + board)
    left = read_table(row, start + board + np.int32(1))
    return right + share * (left - right)


@njit(**INLINE)
def _rates(decel, guess, v_x, v_y, q, J, inverses, offset):
    """Rates per metre of lane: place, time, velocity, turn in body axes, momentum; and the spin.

    `decel` is friction over mass; `guess` a value near 1 / v_y. With an offset, v is the velocity
    of the centre of mass and the place that of the ball's centre.
    """
    if offset is None:
        L_x, L_y = spin_momentum(J[0], J[1], v_x, v_y, RADIUS)
        L_z = J[2]
    else:
        D_x, D_y, D_z = to_lane(q[0], q[1], q[2], q[3], offset[0], offset[1], offset[2])
        L_x, L_y, L_z = offset_spin_momentum(J[0], J[1], J[2], D_x, D_y, D_z, v_x, v_y, RADIUS)
    b_1, b_2, b_3 = to_body(q[0], q[1], q[2], q[3], L_x, L_y, L_z)
    b_1, b_2, b_3 = b_1 * inverses[0], b_2 * inverses[1], b_3 * inverses[2]
    w_x, w_y, w_z = to_lane(q[0], q[1], q[2], q[3], b_1, b_2, b_3)
    c_x, c_y = v_x, v_y
    M = (ZERO, ZERO, ZERO)
    if offset is not None:
        W_x, W_y, W_z = offset_velocity(w_x, w_y, w_z, D_x, D_y, D_z)
        c_x, c_y = v_x - W_x, v_y - W_y
        M = offset_moment(D_x, D_y, W_x, W_y, W_z, c_x, c_y, GRAVITY)
        decel *= max(ONE + (w_x * W_y - w_y * W_x) * INVERSE_GRAVITY, ZERO)
    u_x, u_y = contact_slip(c_x, c_y, w_x, w_y, RADIUS)
    pull = decel * friction_share(u_x, u_y, CREEP)
    forward = max(c_y, SLOWEST_MPS)
    slow = guess * (TWO - forward * guess) if offset is None else ONE / forward
    return (
        c_x * slow,
        slow,
        -pull * u_x * slow,
        -pull * u_y * slow,
        b_1 * slow,
        b_2 * slow,
        b_3 * slow,
        (M[0] * slow, M[1] * slow, M[2] * slow),
        w_x,
        w_y,
    )


@njit(**INLINE)
def _half_turn(w_1, w_2, w_3, h):
    """Quaternion of the turn by body rate w over half a step h."""
    a_1, a_2, a_3 = w_1 * h * QUARTER, w_2 * h * QUARTER, w_3 * h * QUARTER
    a2 = a_1 * a_1 + a_2 * a_2 + a_3 * a_3
    sinc = ONE - a2 * (SIXTH - a2 * (C120 - a2 * C5040))
    cosine = ONE - a2 * (HALF - a2 * (C24 - a2 * C720))
    return cosine, sinc * a_1, sinc * a_2, sinc * a_3


@njit(**INLINE)
def nudged(q, h, d):
    """Orientation q turned further by the small angle h d, in its own axes."""
    return quaternion_product(
        q[0], q[1], q[2], q[3], ONE, HALF * h * d[0], HALF * h * d[1], HALF * h * d[2]
    )


@njit(**INLINE)
def _reckoned(values, step, k1, k2, k3, k4):
    """Runge-Kutta's sum of rates over a step."""
    s, m = step * SIXTH, step * THIRD
    return values + s * (k1 + k4) + m * (k2 + k3)


@njit(**INLINE)
def _unit(q):
    """A quaternion near length one, brought back to it."""
    norm = ONE_AND_HALF - HALF * (q[0] * q[0] + q[1] * q[1] + q[2] * q[2] + q[3] * q[3])
    return (q[0] * norm, q[1] * norm, q[2] * norm, q[3] * norm)


@njit(**INLINE)
def _pushed(J, step, M):
    return (J[0] + step * M[0], J[1] + step * M[1], J[2] + step * M[2])


@njit(**INLINE)
def _blown(v_x, v_y, J, per_step):
    """Velocity and momentum after half of what the air does in a step."""
    dv_x, dv_y = air_drag_mps2(v_x, v_y, per_step)
    return v_x + dv_x, v_y + dv_y, (J[0] - RADIUS * dv_y, J[1] + RADIUS * dv_x, J[2])


@njit(**INLINE)
def _turned(p, e):
    return quaternion_product(p[0], p[1], p[2], p[3], e[0], e[1], e[2], e[3])


@njit(**INLINE)
def stepped(table, middle, last, h, touch, x, t, v_x, v_y, q, J, decel, ring, body, lane, offset):
    """A shot's state a step of length h further: x, t, v_x, v_y, q, J, friction, ring, and turn.

    `middle` and `last` are where the step's film rows begin in `table`, `touch` the share of it
    for which the ball is on the lane; `body` holds three inverse squared radii of gyration, drag
    and rolling deceleration, `lane` film gain, oil and dry deceleration and ring share.
    """
    g = HALF * h
    guess = ONE / max(v_y, SLOWEST_MPS)
    v_x, v_y, J = _blown(v_x, v_y, J, body[3] * g * guess)
    k1 = _rates(touch * decel, guess, v_x, v_y, q, J, body, offset)
    near = k1[1]
    half = _half_turn(k1[4], k1[5], k1[6], h)
    q_half = _turned(q, half)
    q_full = _turned(q_half, half)
    turned = h * sqrt(k1[4] * k1[4] + k1[5] * k1[5] + k1[6] * k1[6])

    bend = (k1[2] - k1[0] * k1[3]) * near
    film = under_ball(table, middle, x + g * (k1[0] + HALF * g * bend))
    met = touch * turned * INVERSE_TURN
    ring_middle = ring + HALF * met * (lane[3] * film - ring)
    decel = touch * friction_coefficient(film + ring_middle, lane[0], lane[1], lane[2])
    k2 = _rates(
        decel, near, v_x + g * k1[2], v_y + g * k1[3], q_half,
        _pushed(J, g, k1[7]), body, offset,
    )  # fmt: skip
    d2 = (k2[4] - k1[4], k2[5] - k1[5], k2[6] - k1[6])

    k3 = _rates(
        decel, near, v_x + g * k2[2], v_y + g * k2[3], nudged(q_half, g, d2),
        _pushed(J, g, k2[7]), body, offset,
    )  # fmt: skip
    d2 = to_body(half[0], half[1], half[2], half[3], d2[0], d2[1], d2[2])
    d3 = to_body(half[0], half[1], half[2], half[3], k3[4] - k1[4], k3[5] - k1[5], k3[6] - k1[6])

    ring += met * (lane[3] * film - ring_middle)
    film = under_ball(table, last, x + h * k2[0])
    decel = friction_coefficient(film + ring, lane[0], lane[1], lane[2])
    k4 = _rates(
        touch * decel, near, v_x + h * k3[2], v_y + h * k3[3], nudged(q_full, h, d3),
        _pushed(J, h, k3[7]), body, offset,
    )  # fmt: skip

    s, m = h * SIXTH, h * THIRD
    d = (
        d2[0] + d3[0] + HALF * (k4[4] - k1[4]),
        d2[1] + d3[1] + HALF * (k4[5] - k1[5]),
        d2[2] + d3[2] + HALF * (k4[6] - k1[6]),
    )
    q = nudged(q_full, m, d)
    J = _pushed(_pushed(_pushed(_pushed(J, s, k1[7]), m, k2[7]), m, k3[7]), s, k4[7])
    M_x, M_y = rolling_moment_m2ps2(k1[8], k1[9], near, touch * body[4] * h * near, RADIUS)
    v_x = _reckoned(v_x, h, k1[2], k2[2], k3[2], k4[2])
    v_y = _reckoned(v_y, h, k1[3], k2[3], k3[3], k4[3])
    v_x, v_y, J = _blown(v_x, v_y, (J[0] + M_x, J[1] + M_y, J[2]), body[3] * g * near)
    x = _reckoned(x, h, k1[0], k2[0], k3[0], k4[0])
    t = _reckoned(t, h, k1[1], k2[1], k3[1], k4[1])
    return x, t, v_x, v_y, _unit(q), J, decel, ring, turned
