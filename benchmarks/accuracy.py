"""How far the compiled kernel is from the slow oracle at the pins."""

from __future__ import annotations

import os
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from multiprocessing import get_context

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.lane import BOARD_M
from nextpair.domain.units import DEGREE_RAD
from nextpair.kernel.layout import Bodies, Lanes, Shots
from nextpair.kernel.roll import roll
from reference.random_shots import oracle_end, random_batch

SHOTS = 1000
RTOL, ATOL = 1e-10, 1e-12
SHOTS_A_TASK = 20


def largest_errors(count: int, processes: int | None = None) -> dict[str, float]:
    """Largest error of so many random shots, in boards and in degrees, at the end plane."""
    lanes, bodies, shots = random_batch(count)
    paths = roll(lanes, bodies, shots)
    ends = _oracle_ends(lanes, bodies, shots, processes or os.cpu_count() or 1)
    angle_left_rad = np.arctan2(-paths.v_x_mps, paths.v_y_mps)
    return {
        "kernel.error_board_max": float(np.abs(paths.x_m - ends[:, 0]).max() / BOARD_M),
        "kernel.error_deg_max": float(np.abs(angle_left_rad - ends[:, 1]).max() / DEGREE_RAD),
    }


def _oracle_ends(
    lanes: Lanes, bodies: Bodies, shots: Shots, processes: int
) -> NDArray[np.float64]:
    """Place [m] and angle [rad] (n, 2) of every shot by the oracle."""
    end = partial(_oracle_end, lanes, bodies, shots)
    each = range(len(shots))
    if processes == 1:
        return np.array([end(shot) for shot in each])
    # New processes, not copies of this one: it has the compiler's threads.
    with ProcessPoolExecutor(processes, get_context("spawn")) as pool:
        return np.array(list(pool.map(end, each, chunksize=SHOTS_A_TASK)))


def _oracle_end(lanes: Lanes, bodies: Bodies, shots: Shots, shot: int) -> tuple[float, float]:
    end = oracle_end(lanes, bodies, shots, shot, rtol=RTOL, atol=ATOL)
    return end.x_m, end.angle_left_rad
