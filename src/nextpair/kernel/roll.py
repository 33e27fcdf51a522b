"""Roll a batch of shots: arrays in, arrays out, one status a shot."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import pairwise

import numba
import numpy as np
from numba import njit
from numpy.typing import NDArray

from nextpair.domain.ball import BALL_RADIUS_M, CONTACT_M
from nextpair.domain.lane import ARROWS_M, BOARD_M, BOARDS, END_PLANE_M, HEAD_PIN_M
from nextpair.domain.units import DEGREE_RAD
from nextpair.kernel import batch
from nextpair.kernel.layout import (
    NODE_M,
    NODES,
    Bodies,
    Column,
    FloatArray,
    Lanes,
    Result,
    Shots,
    Trace,
    at_nodes,
)
from nextpair.kernel.outcome import Impact, Status
from nextpair.physics.constants import GRAVITY_MPS2
from nextpair.physics.forces import flight_s
from nextpair.physics.release import launch_spin_radps, launch_velocity_mps
from nextpair.physics.rigid_body import quaternion_product, to_body, to_lane

LAST_EXIT_M = np.nextafter(np.float32(END_PLANE_M), np.float32(0.0))
"""Where exits are read on oil that goes beyond the end plane."""
STOPPED_MPS = 1.0
STEPS = 2
"""Steps from one node of the path to the next: two a film cell."""
BLOCKS_A_THREAD = 8


@dataclass(frozen=True, slots=True)
class Paths:
    """What became of n shots, in the bowler's frame (x positive to the bowler's side).

    All arrays (n,): `status` holds outcome.Status codes; x, velocity and time are at the end
    plane; the break is where the path came closest to the bowler's gutter; `gutter_m` is where a
    gutter was reached, NaN if none was; the path itself goes on as if the lane had no edge, so
    that results stay smooth functions of the release. `trace` is (8, 121, n) when recorded, else
    None.
    """

    status: NDArray[np.int8]
    x_m: FloatArray
    time_s: FloatArray
    v_x_mps: FloatArray
    v_y_mps: FloatArray
    break_x_m: FloatArray
    break_m: FloatArray
    arrows_x_m: FloatArray
    exit_x_m: FloatArray
    gutter_m: FloatArray
    turns: FloatArray
    trace: NDArray[np.float32] | None

    @property
    def lane_impact(self) -> Impact:
        """How every shot would meet the head pin if the lane had no gutters."""
        slope = self.v_x_mps / self.v_y_mps
        x0 = self.x_m + slope * (HEAD_PIN_M - END_PLANE_M)
        closest = x0 / np.sqrt(1 + slope * slope)
        before = np.sqrt(np.maximum(CONTACT_M**2 - closest**2, 0.0)) / np.sqrt(1 + slope**2)
        y = np.where(np.abs(closest) < CONTACT_M, -x0 * slope / (1 + slope**2) - before, 0.0)
        return Impact(
            offset_boards=(x0 + slope * y) / BOARD_M,
            entry_angle_deg=-np.arctan(slope) / DEGREE_RAD,
            speed_mps=np.hypot(self.v_x_mps, self.v_y_mps),
        )

    @property
    def impact(self) -> Impact:
        """How each shot meets the pins; NaN where it did not reach them."""
        lane = self.lane_impact
        reached = self.status == Status.PINS
        return Impact(
            *(
                np.where(reached, values, np.nan)
                for values in (lane.offset_boards, lane.entry_angle_deg, lane.speed_mps)
            )
        )


def roll(
    lanes: Lanes, bodies: Bodies, shots: Shots, *, record: bool = False, steps: int = STEPS
) -> Paths:
    """Roll n shots down f lanes.

    lanes, bodies and shots see kernel.layout; exits are read at the end plane where the oil goes
    beyond it. With `record` the state at all 121 nodes is kept. `steps` is the number of steps
    from one node to the next.

    Source: [model-sheet] section 2; [kernel-notes].
    """
    order = np.argsort(shots.film, kind="stable")
    packed = _packed(lanes, bodies, shots, order)
    bad = ~np.isfinite(packed).all(axis=0) | (packed[Column.V_Y] <= STOPPED_MPS)
    packed[:, bad] = _harmless()
    block_film, block_start = _blocks(shots.film[order])
    results = np.zeros((len(Result), len(shots)), np.float32)
    trace = np.zeros((len(Trace), NODES, len(shots) if record else 0), np.float32)
    with _threads_for(len(block_film)):
        batch.roll_blocks(
            packed,
            at_nodes(lanes.film_um),
            _pulls(lanes),
            np.minimum(np.asarray(lanes.length_m, np.float32), LAST_EXIT_M),
            np.float32(ARROWS_M),
            NODE_M.astype(np.float32),
            steps,
            block_film,
            block_start,
            True if bodies.offset_m.any() else None,
            results,
            trace,
        )
    back = np.empty_like(order)
    back[order] = np.arange(len(order))
    return _paths(
        results[:, back].astype(np.float64), bad[back], trace[..., back] if record else None
    )


def _pulls(lanes: Lanes) -> NDArray[np.float32]:
    """Pulls of the slopes at the kernel's nodes (f, 2, 121, 39), or (0, 2, 121, 39) if level."""
    if lanes.pull_mps2 is None:
        return np.zeros((0, 2, NODES, BOARDS), np.float32)
    return at_nodes(lanes.pull_mps2)


def _paths(
    results: FloatArray, bad: NDArray[np.bool_], trace: NDArray[np.float32] | None
) -> Paths:
    lost = bad | ~np.isfinite(results).all(axis=0)
    gutter = results[Result.GUTTER_Y]
    status = np.where(gutter > 0, Status.GUTTER_OWN_SIDE, Status.PINS)
    status = np.where(gutter < 0, Status.GUTTER_FAR_SIDE, status)
    status = np.where(results[Result.V_Y] < STOPPED_MPS, Status.STOPPED, status)
    return Paths(
        status=np.where(lost, Status.BAD_INPUT, status).astype(np.int8),
        x_m=results[Result.X],
        time_s=results[Result.T],
        v_x_mps=results[Result.V_X],
        v_y_mps=np.maximum(results[Result.V_Y], 1e-3),
        break_x_m=results[Result.BREAK_X],
        break_m=results[Result.BREAK_Y],
        arrows_x_m=results[Result.ARROWS_X],
        exit_x_m=results[Result.EXIT_X],
        gutter_m=np.where(gutter == 0, np.nan, np.abs(gutter)),
        turns=results[Result.TURNS],
        trace=trace,
    )


@contextmanager
def _threads_for(blocks: int) -> Iterator[None]:
    """Wake no more threads than are worth it: a small batch is done before a second one starts."""
    most = numba.get_num_threads()
    numba.set_num_threads(max(min(blocks // BLOCKS_A_THREAD, most), 1))
    try:
        yield
    finally:
        numba.set_num_threads(most)


def _blocks(film: NDArray[np.int64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Cut sorted shots into blocks of one film each: film of each block, and block borders."""
    changes = np.flatnonzero(np.diff(film)) + 1
    borders = np.concatenate(([0], changes, [len(film)]))
    starts = np.concatenate([np.arange(a, b, batch.BLOCK) for a, b in pairwise(borders)])
    return film[starts], np.append(starts, len(film))


def _packed(
    lanes: Lanes, bodies: Bodies, shots: Shots, order: NDArray[np.int64]
) -> NDArray[np.float32]:
    """Input columns (len(Column), n) float32 in the given order."""
    packed = np.empty((len(Column), len(shots)), np.float32)
    _launch(
        packed,
        order,
        shots.x_m,
        shots.launch_angle_rad,
        shots.speed_mps,
        shots.rev_rate_radps,
        shots.axis_rotation_rad,
        shots.axis_tilt_rad,
        shots.loft_m,
        shots.body,
        bodies.k2_m2,
        bodies.core,
        bodies.offset_m,
    )
    body, film = shots.body[order], shots.film[order]
    oil_decel = lanes.oil_friction[film] * GRAVITY_MPS2
    dry_decel = bodies.dry_friction[body] * shots.dry_factor[order] * GRAVITY_MPS2
    packed[Column.INVERSE_LOW : Column.INVERSE_MIDDLE + 1] = (1.0 / bodies.k2_m2[body]).T
    packed[Column.FILM_GAIN] = bodies.film_gain_per_um[body] * shots.film_factor[order]
    packed[Column.OIL_DECEL] = oil_decel
    packed[Column.DRY_DECEL] = np.maximum(dry_decel - oil_decel, 0.0)
    packed[Column.RING_SHARE] = bodies.ring_share[body]
    packed[Column.DRAG] = bodies.drag_per_m[body]
    packed[Column.ROLL_DECEL] = bodies.rolling_resistance[body] * GRAVITY_MPS2
    packed[Column.OFFSET_LOW : Column.OFFSET_MIDDLE + 1] = bodies.offset_m[body].T
    return packed


def _harmless() -> NDArray[np.float32]:
    """A column (len(Column), 1) that rolls straight, put in place of a bad one."""
    column = np.zeros((len(Column), 1), np.float32)
    column[Column.V_Y] = 8.0
    column[Column.Q_W] = 1.0
    column[Column.INVERSE_LOW : Column.INVERSE_MIDDLE + 1] = 1.0
    return column


@njit(cache=True, error_model="numpy")
def _launch(  # type: ignore[no-untyped-def]
    packed, order, x_m, angle, speed, revs, rotation, tilt, loft, body, k2, core, offset
):
    """Place, velocity, orientation and angular momentum about the contact of every shot.

    Source: [model-sheet] sections 6.1 and 2; the spin axis turns upright by the shortest way.
    """
    for column in range(len(order)):
        shot = order[column]
        v_x, v_y = launch_velocity_mps(speed[shot], angle[shot])
        w_x, w_y, w_z = launch_spin_radps(revs[shot], rotation[shot], tilt[shot])
        spin = max(np.sqrt(w_x * w_x + w_y * w_y + w_z * w_z), 1e-9)
        a_x, a_y, a_z = w_x / spin, w_y / spin, w_z / spin
        if w_x == 0.0 and w_y == 0.0 and w_z == 0.0:
            a_z = 1.0
        norm = np.sqrt(2.0 * (1.0 + a_z))
        c = core[body[shot]]
        q = quaternion_product(norm / 2.0, -a_y / norm, a_x / norm, 0.0, c[0], c[1], c[2], c[3])
        b_1, b_2, b_3 = to_body(q[0], q[1], q[2], q[3], w_x, w_y, w_z)
        k = k2[body[shot]]
        L_x, L_y, L_z = to_lane(q[0], q[1], q[2], q[3], k[0] * b_1, k[1] * b_2, k[2] * b_3)
        packed[Column.X, column] = x_m[shot]
        packed[Column.T, column] = 0.0
        packed[Column.V_X, column] = v_x
        packed[Column.V_Y, column] = v_y
        packed[Column.Q_W, column] = q[0]
        packed[Column.Q_X, column] = q[1]
        packed[Column.Q_Y, column] = q[2]
        packed[Column.Q_Z, column] = q[3]
        d = offset[body[shot]]
        D_x, D_y, D_z = to_lane(q[0], q[1], q[2], q[3], d[0], d[1], d[2])
        height = BALL_RADIUS_M + D_z
        packed[Column.J_X, column] = L_x - height * v_y
        packed[Column.J_Y, column] = L_y + height * v_x
        packed[Column.J_Z, column] = L_z + D_x * v_y - D_y * v_x
        flight_time = flight_s(loft[shot])
        packed[Column.FLIGHT_T, column] = flight_time
        packed[Column.LANDING_Y, column] = v_y * flight_time
