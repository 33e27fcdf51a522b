"""The compiled loop: blocks of shots, step by step down the lane, two steps a film cell or more.

A block's state lies in one array, a row of BLOCK numbers for every quantity, so that each loop
over a block's shots becomes vector instructions. A batch never raises.
"""

from __future__ import annotations

import numpy as np
from numba import njit, prange

from nextpair.domain.lane import BOARDS, LANE_WIDTH_M
from nextpair.kernel._lanes import read_state, read_three, write_state
from nextpair.kernel.layout import CREEP, RADIUS, Column, Result, Trace
from nextpair.kernel.step import (
    HALF,
    INVERSE_TURN,
    ONE,
    SETTINGS,
    SLOWEST_MPS,
    TWO,
    ZERO,
    nudged,
    stepped,
    under_ball,
)
from nextpair.physics._jit import sqrt
from nextpair.physics.forces import STICKING_SHARE, landing_share
from nextpair.physics.friction import friction_coefficient, friction_share
from nextpair.physics.offset import offset_spin_momentum, offset_velocity
from nextpair.physics.rigid_body import contact_slip, to_body, to_lane

BLOCK = 128
"""Shots that advance together; a multiple of every vector width."""
VECTOR = 16
"""Shots of the widest vector instruction: an idle lane costs less than a loop over the rest."""
COLUMNS = len(Column)
EDGE_M = np.float32(LANE_WIDTH_M / 2)
TINY = np.float32(1e-12)
STICKING = np.float32(STICKING_SHARE)
ROW = np.int32(BOARDS)

(X, T, V_X, V_Y, Q_W, Q_X, Q_Y, Q_Z, J_X, J_Y, J_Z) = (c * BLOCK for c in list(Column)[:11])
INVERSE_LOW, INVERSE_HIGH, INVERSE_MIDDLE = (c * BLOCK for c in list(Column)[11:14])
FILM_GAIN, OIL_DECEL, DRY_DECEL, RING_SHARE = (c * BLOCK for c in list(Column)[14:18])
DRAG, ROLL_DECEL, LANDING_Y, FLIGHT_T = (c * BLOCK for c in list(Column)[18:22])
OFFSET_LOW, OFFSET_HIGH, OFFSET_MIDDLE = (c * BLOCK for c in list(Column)[22:25])
DECEL, RING, TURNS, BREAK_X, BREAK_Y, ARROWS_X, EXIT_X, GUTTER_Y = (
    (COLUMNS + row) * BLOCK for row in range(8)
)
STATE_ROWS = COLUMNS + 8
"""Rows of a block's state: the input columns, then what is carried along and watched."""


@njit(**SETTINGS)
def _advance(state, table, first, y, h, count, offset):
    """One step of length h from y for the first `count` shots of a block.

    Three film rows begin at `first` in `table`: at the step's start, middle and end. `offset` is
    None, or anything where a ball's centre of mass is off its centre: two compiled loops.
    """
    per_step = ONE / h
    for shot in range(count):
        q = (
            read_state(state, Q_W + shot),
            read_state(state, Q_X + shot),
            read_state(state, Q_Y + shot),
            read_state(state, Q_Z + shot),
        )
        J = (
            read_state(state, J_X + shot),
            read_state(state, J_Y + shot),
            read_state(state, J_Z + shot),
        )
        body = (
            read_state(state, INVERSE_LOW + shot),
            read_state(state, INVERSE_HIGH + shot),
            read_state(state, INVERSE_MIDDLE + shot),
            read_state(state, DRAG + shot),
            read_state(state, ROLL_DECEL + shot),
        )
        lane = (
            read_state(state, FILM_GAIN + shot),
            read_state(state, OIL_DECEL + shot),
            read_state(state, DRY_DECEL + shot),
            read_state(state, RING_SHARE + shot),
        )
        touch = min(max((y + h - read_state(state, LANDING_Y + shot)) * per_step, ZERO), ONE)
        x, t, v_x, v_y, q, J, decel, ring, turned = stepped(
            table, first + ROW, first + ROW + ROW, h, touch,
            read_state(state, X + shot), read_state(state, T + shot),
            read_state(state, V_X + shot), read_state(state, V_Y + shot), q, J,
            read_state(state, DECEL + shot), read_state(state, RING + shot), body, lane,
            read_three(state, OFFSET_LOW + shot, OFFSET_HIGH + shot, OFFSET_MIDDLE + shot, offset),
        )  # fmt: skip
        turned += read_state(state, TURNS + shot)
        write_state(state, X + shot, x)
        write_state(state, T + shot, t)
        write_state(state, V_X + shot, v_x)
        write_state(state, V_Y + shot, v_y)
        write_state(state, Q_W + shot, q[0])
        write_state(state, Q_X + shot, q[1])
        write_state(state, Q_Y + shot, q[2])
        write_state(state, Q_Z + shot, q[3])
        write_state(state, J_X + shot, J[0])
        write_state(state, J_Y + shot, J[1])
        write_state(state, J_Z + shot, J[2])
        write_state(state, DECEL + shot, decel)
        write_state(state, RING + shot, ring)
        write_state(state, TURNS + shot, turned)


@njit(**SETTINGS)
def _decel_at(state, table, row, x, shot):
    """Friction over mass at a place on a film row."""
    return friction_coefficient(
        under_ball(table, row, x),
        state[FILM_GAIN + shot],
        state[OIL_DECEL + shot],
        state[DRY_DECEL + shot],
    )


@njit(**SETTINGS)
def _meet_lane(state, table, first, count):
    """Friction where a step begins: at the foul line."""
    for shot in range(count):
        state[DECEL + shot] = _decel_at(state, table, first, state[X + shot], shot)


@njit(**SETTINGS)
def _spin(state, shot):
    """Spin in body axes, level part of the spin in lane axes, and slip."""
    v_x, v_y = state[V_X + shot], state[V_Y + shot]
    q_w, q_x = state[Q_W + shot], state[Q_X + shot]
    q_y, q_z = state[Q_Y + shot], state[Q_Z + shot]
    D_x, D_y, D_z = to_lane(
        q_w, q_x, q_y, q_z,
        state[OFFSET_LOW + shot], state[OFFSET_HIGH + shot], state[OFFSET_MIDDLE + shot],
    )  # fmt: skip
    L_x, L_y, L_z = offset_spin_momentum(
        state[J_X + shot], state[J_Y + shot], state[J_Z + shot], D_x, D_y, D_z, v_x, v_y, RADIUS
    )
    b_1, b_2, b_3 = to_body(q_w, q_x, q_y, q_z, L_x, L_y, L_z)
    b_1 *= state[INVERSE_LOW + shot]
    b_2 *= state[INVERSE_HIGH + shot]
    b_3 *= state[INVERSE_MIDDLE + shot]
    w_x, w_y, w_z = to_lane(q_w, q_x, q_y, q_z, b_1, b_2, b_3)
    W_x, W_y, _ = offset_velocity(w_x, w_y, w_z, D_x, D_y, D_z)
    u_x, u_y = contact_slip(v_x - W_x, v_y - W_y, w_x, w_y, RADIUS)
    return (b_1, b_2, b_3), (w_x, w_y), (u_x, u_y)


@njit(**SETTINGS)
def _turn_back(state, shot, before, early_s):
    """Undo what a spin that changed too early turns the ball too far."""
    after, _, _ = _spin(state, shot)
    q = (state[Q_W + shot], state[Q_X + shot], state[Q_Y + shot], state[Q_Z + shot])
    q = nudged(q, early_s, (before[0] - after[0], before[1] - after[1], before[2] - after[2]))
    state[Q_W + shot], state[Q_X + shot] = q[0], q[1]
    state[Q_Y + shot], state[Q_Z + shot] = q[2], q[3]


@njit(**SETTINGS)
def _land(state, table, first, y, h, count):
    """The blow with which balls come down inside a step.

    It acts as the step begins; place, time and turn are set back by what that is too early.
    """
    for shot in range(count):
        early = state[LANDING_Y + shot] - y
        if ZERO <= early < h and state[FLIGHT_T + shot] > ZERO:
            v_x, v_y = state[V_X + shot], state[V_Y + shot]
            before, _, (u_x, u_y) = _spin(state, shot)
            nearest = first + ROW * np.int32(early / h * TWO + HALF)
            x = state[X + shot] + early * v_x / v_y
            decel = _decel_at(state, table, nearest, x, shot)
            pull = decel * friction_share(u_x, u_y, CREEP)
            share = landing_share(pull, state[FLIGHT_T + shot], STICKING)
            after_x, after_y = v_x - share * u_x, v_y - share * u_y
            state[X + shot] += early * (v_x / v_y - after_x / after_y)
            state[T + shot] += early * (ONE / v_y - ONE / after_y)
            state[V_X + shot], state[V_Y + shot] = after_x, after_y
            _turn_back(state, shot, before, early / v_y)


@njit(**SETTINGS)
def _lean(state, pulls, h, y, count):
    """What the lane's slopes do over a step: pulls sideways and down the lane, as two rows.

    All of it acts as the step begins; the place is set back so that an even pull does no more.
    """
    for shot in range(count):
        if y >= state[LANDING_Y + shot]:
            x = state[X + shot]
            dt = h / max(state[V_Y + shot], SLOWEST_MPS)
            dv_x = under_ball(pulls, np.int32(0), x) * dt
            dv_y = under_ball(pulls, ROW, x) * dt
            state[X + shot] = x - HALF * dt * dv_x
            state[V_X + shot] += dv_x
            state[V_Y + shot] += dv_y
            state[J_X + shot] -= RADIUS * dv_y
            state[J_Y + shot] += RADIUS * dv_x


@njit(**SETTINGS)
def _watch(state, y, count):
    """Keep the place closest to the bowler's gutter, and where a gutter was first reached."""
    for shot in range(count):
        x = state[X + shot]
        if x > state[BREAK_X + shot]:
            state[BREAK_X + shot] = x
            state[BREAK_Y + shot] = y
        if state[GUTTER_Y + shot] == ZERO and abs(x) > EDGE_M:
            state[GUTTER_Y + shot] = y if x > ZERO else -y


@njit(**SETTINGS)
def _record(state, trace, node, start, count):
    """Write the trace of a block at one node."""
    for lane in range(count):
        (b_1, b_2, b_3), (w_x, w_y), (u_x, u_y) = _spin(state, lane)
        spin = max(sqrt(b_1 * b_1 + b_2 * b_2 + b_3 * b_3), TINY)
        shot = start + lane
        trace[Trace.X, node, shot] = state[X + lane]
        trace[Trace.V_X, node, shot] = state[V_X + lane]
        trace[Trace.V_Y, node, shot] = state[V_Y + lane]
        trace[Trace.SLIP, node, shot] = sqrt(u_x * u_x + u_y * u_y)
        trace[Trace.SURFACE_SPEED, node, shot] = RADIUS * sqrt(w_x * w_x + w_y * w_y)
        trace[Trace.AXIS_LOW, node, shot] = b_1 / spin
        trace[Trace.AXIS_HIGH, node, shot] = b_2 / spin
        trace[Trace.AXIS_MIDDLE, node, shot] = b_3 / spin


@njit(**SETTINGS)
def _keep(state, place, y_wanted, y, y_next, count):
    """Keep the sideways place at a wanted distance inside the interval that starts here."""
    if y <= y_wanted < y_next:
        for shot in range(count):
            slope = state[V_X + shot] / max(state[V_Y + shot], SLOWEST_MPS)
            state[place + shot] = state[X + shot] + slope * (y_wanted - y)


@njit(**SETTINGS)
def _blend_rows(films, film, node, steps, table):
    """Film rows at the half steps of the interval that ends at a node, into `table`."""
    for part in range(2 * steps + 1):
        share = np.float32(part) / np.float32(2 * steps)
        for board in range(BOARDS):
            near = films[film, node - 1, board]
            table[part * BOARDS + board] = near + share * (films[film, node, board] - near)


@njit(**SETTINGS)
def _blend_pulls(pulls, film, node, share, row):
    """Both pulls of the slopes at a share of the interval that ends at a node, into `row`."""
    for way in range(2):
        for board in range(BOARDS):
            near = pulls[film, way, node - 1, board]
            row[way * BOARDS + board] = near + share * (pulls[film, way, node, board] - near)


@njit(**SETTINGS)
def _cross(state, table, films, pulls, pull_row, film, node, y, gap, steps, count, offset):
    """All steps of the interval that ends at a node."""
    h = gap / np.float32(steps)
    sloped = pulls.shape[0] > 0
    whole = min((count + VECTOR - 1) // VECTOR * VECTOR, BLOCK)
    _blend_rows(films, film, node, steps, table)
    for step in range(steps):
        y_step = y + np.float32(step) * h
        first = np.int32(2 * step * BOARDS)
        _land(state, table, first, y_step, h, count)
        if sloped:
            share = (np.float32(step) + HALF) / np.float32(steps)
            _blend_pulls(pulls, film, node, share, pull_row)
            _lean(state, pull_row, h, y_step, count)
        _advance(state, table, first, y_step, h, whole, offset)


@njit(**SETTINGS)
def _roll_block(
    shots, films, pulls, film, exit_y, arrows_y, nodes, steps, start, count, offset, results, trace
):
    """All nodes for one block of shots on one film."""
    state = np.zeros(STATE_ROWS * BLOCK, np.float32)
    table = np.empty((2 * steps + 1) * BOARDS, np.float32)
    pull_row = np.empty(2 * BOARDS, np.float32)
    for column in range(COLUMNS):
        for shot in range(count):
            state[column * BLOCK + shot] = shots[column, start + shot]
    for shot in range(count):
        state[BREAK_X + shot] = state[X + shot]
    _blend_rows(films, film, 1, steps, table)
    _meet_lane(state, table, np.int32(0), count)
    recording = trace.shape[2] > 0
    _watch(state, nodes[0], count)
    if recording:
        _record(state, trace, 0, start, count)
    for node in range(1, len(nodes)):
        y, y_next = nodes[node - 1], nodes[node]
        _keep(state, ARROWS_X, arrows_y, y, y_next, count)
        _keep(state, EXIT_X, exit_y, y, y_next, count)
        _cross(
            state, table, films, pulls, pull_row, film, node, y, y_next - y, steps, count, offset
        )
        _watch(state, y_next, count)
        if recording:
            _record(state, trace, node, start, count)
    for shot in range(count):
        for row, place in (
            (Result.X, X), (Result.T, T), (Result.V_X, V_X), (Result.V_Y, V_Y),
            (Result.BREAK_X, BREAK_X), (Result.BREAK_Y, BREAK_Y), (Result.ARROWS_X, ARROWS_X),
            (Result.EXIT_X, EXIT_X), (Result.GUTTER_Y, GUTTER_Y),
        ):  # fmt: skip
            results[row, start + shot] = state[place + shot]
        results[Result.TURNS, start + shot] = state[TURNS + shot] * INVERSE_TURN


@njit(parallel=True, **SETTINGS)
def roll_blocks(
    shots, films, pulls, exit_y, arrows_y, nodes, steps, block_film, block_start, offset,
    results, trace,
):  # fmt: skip
    """Roll packed shots, sorted by film, block by block on all threads.

    shots (len(Column), n), films (f, 121, 39), pulls (f or 0, 2, 121, 39), exit_y (f,), nodes
    (121,), results (len(Result), n) and trace (len(Trace), 121, n or 0) are float32; `steps` of
    an interval between nodes; block b holds shots block_start[b] to block_start[b + 1] on film
    block_film[b], at most BLOCK of them; `offset` see _advance.
    """
    for block in prange(len(block_film)):
        start = block_start[block]
        film = block_film[block]
        _roll_block(
            shots, films, pulls, film, exit_y[film], arrows_y, nodes, steps, start,
            block_start[block + 1] - start, offset, results, trace,
        )  # fmt: skip
