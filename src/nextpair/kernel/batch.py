"""The compiled loop over shots: distance-stepped RK4, two steps a film cell, float32.

Distance down the lane is the independent variable, so that all shots of a block share a film row
and no step straddles a kink of the film. Orientation is advanced by an integrating factor: the
turn at the step's first body rate exactly, Runge-Kutta for the slow rest. A batch never raises.

Source: [kernel-notes] points 1 to 3; the equations are those of physics.rigid_body and friction.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit, prange

from nextpair.domain.lane import BOARD_M, BOARDS, LANE_WIDTH_M
from nextpair.kernel._lanes import read_state, read_table, write_state
from nextpair.kernel.layout import CREEP, RADIUS, Column, Result, Trace
from nextpair.physics._jit import sqrt
from nextpair.physics.friction import friction_coefficient, friction_share
from nextpair.physics.rigid_body import (
    contact_slip,
    quaternion_product,
    spin_momentum,
    to_body,
    to_lane,
)

BLOCK = 64
"""Shots that advance together; a multiple of every vector width."""
COLUMNS = len(Column)
SLOWEST_MPS = np.float32(0.5)
"""Below this down-lane speed a ball counts as stopped; the loop goes on at this speed."""

ZERO, HALF, ONE = np.float32(0.0), np.float32(0.5), np.float32(1.0)
ONE_AND_HALF, QUARTER = np.float32(1.5), np.float32(0.25)
SIXTH, THIRD = np.float32(1 / 6), np.float32(1 / 3)
C24, C120, C720, C5040 = (np.float32(1 / n) for n in (24, 120, 720, 5040))
INVERSE_BOARD = np.float32(1 / BOARD_M)
RIGHT_EDGE = np.float32((BOARDS - 1) / 2)
FIRST_GAP, LAST_GAP = np.int32(0), np.int32(BOARDS - 2)
LAST_COLUMN = np.float32(BOARDS - 1)
EDGE_M = np.float32(LANE_WIDTH_M / 2)
TINY = np.float32(1e-12)
INVERSE_TURN = np.float32(0.5 / math.pi)

(X, T, V_X, V_Y, Q_W, Q_X, Q_Y, Q_Z, J_X, J_Y, L_Z) = (c * BLOCK for c in list(Column)[:11])
INVERSE_LOW, INVERSE_HIGH, INVERSE_MIDDLE = (c * BLOCK for c in list(Column)[11:14])
FILM_GAIN, OIL_DECEL, DRY_DECEL, CROSS = (c * BLOCK for c in list(Column)[14:18])
TURNS, BREAK_X, BREAK_Y, ARROWS_X, EXIT_X, GUTTER_Y = ((COLUMNS + row) * BLOCK for row in range(6))
STATE_ROWS = COLUMNS + 6
"""Rows of a block's state: the input columns, then what is watched on the way."""
ROW0, ROW1, ROW2, ROW3, ROW4 = (np.int32(part * BOARDS) for part in range(5))

SETTINGS = {"fastmath": True, "error_model": "numpy", "cache": True}
INLINE = {**SETTINGS, "forceinline": True, "cache": False}


@njit(**INLINE)
def _film_um(row, start, x):
    """Film under the ball: linear between the centres of two boards, level past the outermost."""
    place = min(max(RIGHT_EDGE - x * INVERSE_BOARD, ZERO), LAST_COLUMN)
    board = max(min(np.int32(place), LAST_GAP), FIRST_GAP)
    share = place - np.float32(board)
    right = read_table(row, start + board)
    left = read_table(row, start + board + np.int32(1))
    return right + share * (left - right)


@njit(**INLINE)
def _rates(row, start, x, t, v_x, v_y, q, fixed):
    """Rates per metre of lane: place, time, velocity, and body-frame turn."""
    (J_x, J_y, L_z, inv_1, inv_2, inv_3, gain, oil, dry, cross) = fixed
    L_x, L_y = spin_momentum(J_x, J_y + RADIUS * cross * t, v_x, v_y, RADIUS)
    b_1, b_2, b_3 = to_body(q[0], q[1], q[2], q[3], L_x, L_y, L_z)
    b_1, b_2, b_3 = b_1 * inv_1, b_2 * inv_2, b_3 * inv_3
    w_x, w_y, _ = to_lane(q[0], q[1], q[2], q[3], b_1, b_2, b_3)
    u_x, u_y = contact_slip(v_x, v_y, w_x, w_y, RADIUS)
    decel = friction_coefficient(_film_um(row, start, x), gain, oil, dry)
    pull = decel * friction_share(u_x, u_y, CREEP)
    slow = ONE / max(v_y, SLOWEST_MPS)
    return (
        v_x * slow,
        slow,
        (cross - pull * u_x) * slow,
        -pull * u_y * slow,
        b_1 * slow,
        b_2 * slow,
        b_3 * slow,
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
def _drift(p, turn, d_1, d_2, d_3):
    """Rate of the slow rest p of the orientation: half p times the turned excess rate."""
    r_1, r_2, r_3 = to_lane(turn[0], turn[1], turn[2], turn[3], d_1, d_2, d_3)
    return quaternion_product(p[0], p[1], p[2], p[3], ZERO, HALF * r_1, HALF * r_2, HALF * r_3)


@njit(**INLINE)
def _moved(q, step, d):
    return (q[0] + step * d[0], q[1] + step * d[1], q[2] + step * d[2], q[3] + step * d[3])


@njit(**INLINE)
def _turned(p, e):
    return quaternion_product(p[0], p[1], p[2], p[3], e[0], e[1], e[2], e[3])


@njit(**INLINE)
def _step(row, first, middle, last, h, x, t, v_x, v_y, q, fixed):
    """One Runge-Kutta step of length h; film rows at its start, middle and end."""
    k1 = _rates(row, first, x, t, v_x, v_y, q, fixed)
    half = _half_turn(k1[4], k1[5], k1[6], h)
    full = _turned(half, half)
    g = HALF * h

    k2 = _rates(
        row, middle, x + g * k1[0], t + g * k1[1], v_x + g * k1[2], v_y + g * k1[3],
        _turned(q, half), fixed,
    )  # fmt: skip
    d2 = _drift(q, half, k2[4] - k1[4], k2[5] - k1[5], k2[6] - k1[6])

    p3 = _moved(q, g, d2)
    k3 = _rates(
        row, middle, x + g * k2[0], t + g * k2[1], v_x + g * k2[2], v_y + g * k2[3],
        _turned(p3, half), fixed,
    )  # fmt: skip
    d3 = _drift(p3, half, k3[4] - k1[4], k3[5] - k1[5], k3[6] - k1[6])

    p4 = _moved(q, h, d3)
    k4 = _rates(
        row, last, x + h * k3[0], t + h * k3[1], v_x + h * k3[2], v_y + h * k3[3],
        _turned(p4, full), fixed,
    )  # fmt: skip
    d4 = _drift(p4, full, k4[4] - k1[4], k4[5] - k1[5], k4[6] - k1[6])

    s, m = h * SIXTH, h * THIRD
    p = _moved(_moved(_moved(q, m, d2), m, d3), s, d4)
    q = _turned(p, full)
    norm = ONE_AND_HALF - HALF * (q[0] * q[0] + q[1] * q[1] + q[2] * q[2] + q[3] * q[3])
    turned = h * sqrt(k1[4] * k1[4] + k1[5] * k1[5] + k1[6] * k1[6])
    return (
        x + s * (k1[0] + k4[0]) + m * (k2[0] + k3[0]),
        t + s * (k1[1] + k4[1]) + m * (k2[1] + k3[1]),
        v_x + s * (k1[2] + k4[2]) + m * (k2[2] + k3[2]),
        v_y + s * (k1[3] + k4[3]) + m * (k2[3] + k3[3]),
        (q[0] * norm, q[1] * norm, q[2] * norm, q[3] * norm),
        turned,
    )


@njit(**SETTINGS)
def _advance(state, table, gap, count):
    """Two steps over one film interval for the first `count` shots of a block.

    `table` holds five film rows: at the interval's quarters from start to end.
    """
    h = gap * HALF
    for lane in range(count):
        fixed = (
            read_state(state, J_X + lane),
            read_state(state, J_Y + lane),
            read_state(state, L_Z + lane),
            read_state(state, INVERSE_LOW + lane),
            read_state(state, INVERSE_HIGH + lane),
            read_state(state, INVERSE_MIDDLE + lane),
            read_state(state, FILM_GAIN + lane),
            read_state(state, OIL_DECEL + lane),
            read_state(state, DRY_DECEL + lane),
            read_state(state, CROSS + lane),
        )
        x = read_state(state, X + lane)
        t = read_state(state, T + lane)
        v_x = read_state(state, V_X + lane)
        v_y = read_state(state, V_Y + lane)
        q = (
            read_state(state, Q_W + lane),
            read_state(state, Q_X + lane),
            read_state(state, Q_Y + lane),
            read_state(state, Q_Z + lane),
        )
        turns = read_state(state, TURNS + lane)
        x, t, v_x, v_y, q, turned = _step(table, ROW0, ROW1, ROW2, h, x, t, v_x, v_y, q, fixed)
        turns += turned
        x, t, v_x, v_y, q, turned = _step(table, ROW2, ROW3, ROW4, h, x, t, v_x, v_y, q, fixed)
        write_state(state, X + lane, x)
        write_state(state, T + lane, t)
        write_state(state, V_X + lane, v_x)
        write_state(state, V_Y + lane, v_y)
        write_state(state, Q_W + lane, q[0])
        write_state(state, Q_X + lane, q[1])
        write_state(state, Q_Y + lane, q[2])
        write_state(state, Q_Z + lane, q[3])
        write_state(state, TURNS + lane, turns + turned)


@njit(**SETTINGS)
def _watch(state, y, count):
    """Keep the place closest to the bowler's gutter, and where a gutter was first reached."""
    for lane in range(count):
        x = state[X + lane]
        if x > state[BREAK_X + lane]:
            state[BREAK_X + lane] = x
            state[BREAK_Y + lane] = y
        if state[GUTTER_Y + lane] == ZERO and abs(x) > EDGE_M:
            state[GUTTER_Y + lane] = y if x > ZERO else -y


@njit(**SETTINGS)
def _record(state, trace, node, start, count):
    """Write the trace of a block at one node."""
    for lane in range(count):
        v_x, v_y = state[V_X + lane], state[V_Y + lane]
        q_w, q_x = state[Q_W + lane], state[Q_X + lane]
        q_y, q_z = state[Q_Y + lane], state[Q_Z + lane]
        J_y = state[J_Y + lane] + RADIUS * state[CROSS + lane] * state[T + lane]
        L_x, L_y = spin_momentum(state[J_X + lane], J_y, v_x, v_y, RADIUS)
        b_1, b_2, b_3 = to_body(q_w, q_x, q_y, q_z, L_x, L_y, state[L_Z + lane])
        b_1 *= state[INVERSE_LOW + lane]
        b_2 *= state[INVERSE_HIGH + lane]
        b_3 *= state[INVERSE_MIDDLE + lane]
        w_x, w_y, _ = to_lane(q_w, q_x, q_y, q_z, b_1, b_2, b_3)
        u_x, u_y = contact_slip(v_x, v_y, w_x, w_y, RADIUS)
        spin = max(sqrt(b_1 * b_1 + b_2 * b_2 + b_3 * b_3), TINY)
        shot = start + lane
        trace[Trace.X, node, shot] = state[X + lane]
        trace[Trace.V_X, node, shot] = v_x
        trace[Trace.V_Y, node, shot] = v_y
        trace[Trace.SLIP, node, shot] = sqrt(u_x * u_x + u_y * u_y)
        trace[Trace.SURFACE_SPEED, node, shot] = RADIUS * sqrt(w_x * w_x + w_y * w_y)
        trace[Trace.AXIS_LOW, node, shot] = b_1 / spin
        trace[Trace.AXIS_HIGH, node, shot] = b_2 / spin
        trace[Trace.AXIS_MIDDLE, node, shot] = b_3 / spin


@njit(**SETTINGS)
def _keep(state, place, kept, y_wanted, y, y_next, count):
    """Write the sideways place at a wanted distance inside the interval that starts here."""
    if y <= y_wanted < y_next:
        for lane in range(count):
            slope = state[V_X + lane] / max(state[V_Y + lane], SLOWEST_MPS)
            kept[place + lane] = state[X + lane] + slope * (y_wanted - y)


@njit(**SETTINGS)
def _blend_rows(films, film, node, table):
    """Film rows at the quarters of the interval that ends at a node, into `table`."""
    for part in range(5):
        share = np.float32(part) * QUARTER
        for board in range(BOARDS):
            near = films[film, node - 1, board]
            table[part * BOARDS + board] = near + share * (films[film, node, board] - near)


@njit(**SETTINGS)
def _roll_block(shots, films, film, exit_y, arrows_y, nodes, start, count, results, trace):
    """All nodes for one block of shots on one film."""
    state = np.zeros(STATE_ROWS * BLOCK, np.float32)
    table = np.empty(5 * BOARDS, np.float32)
    for column in range(COLUMNS):
        for lane in range(count):
            state[column * BLOCK + lane] = shots[column, start + lane]
    for lane in range(count):
        state[BREAK_X + lane] = state[X + lane]
    recording = trace.shape[2] > 0
    _watch(state, nodes[0], count)
    if recording:
        _record(state, trace, 0, start, count)
    for node in range(1, len(nodes)):
        y, y_next = nodes[node - 1], nodes[node]
        _keep(state, ARROWS_X, state, arrows_y, y, y_next, count)
        _keep(state, EXIT_X, state, exit_y, y, y_next, count)
        _blend_rows(films, film, node, table)
        _advance(state, table, y_next - y, count)
        _watch(state, y_next, count)
        if recording:
            _record(state, trace, node, start, count)
    for lane in range(count):
        shot = start + lane
        results[Result.X, shot] = state[X + lane]
        results[Result.T, shot] = state[T + lane]
        results[Result.V_X, shot] = state[V_X + lane]
        results[Result.V_Y, shot] = state[V_Y + lane]
        results[Result.BREAK_X, shot] = state[BREAK_X + lane]
        results[Result.BREAK_Y, shot] = state[BREAK_Y + lane]
        results[Result.ARROWS_X, shot] = state[ARROWS_X + lane]
        results[Result.EXIT_X, shot] = state[EXIT_X + lane]
        results[Result.GUTTER_Y, shot] = state[GUTTER_Y + lane]
        results[Result.TURNS, shot] = state[TURNS + lane] * INVERSE_TURN


@njit(parallel=True, **SETTINGS)
def roll_blocks(shots, films, exit_y, arrows_y, nodes, block_film, block_start, results, trace):
    """Roll packed shots, sorted by film, block by block on all threads.

    shots (len(Column), n), films (f, 121, 39), exit_y (f,), nodes (121,), results
    (len(Result), n) and trace (len(Trace), 121, n or 0) are float32; block b holds shots
    block_start[b] to block_start[b + 1] on film block_film[b], at most BLOCK of them.
    """
    for block in prange(len(block_film)):
        start = block_start[block]
        film = block_film[block]
        _roll_block(
            shots, films, film, exit_y[film], arrows_y, nodes, start,
            block_start[block + 1] - start, results, trace,
        )  # fmt: skip
