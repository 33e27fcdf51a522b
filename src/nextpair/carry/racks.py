"""Simulate the racks behind the shipped tables: `python -m nextpair.carry.racks`.

Every cell of the table is filled with racks whose impact is drawn evenly over the cell's own
width, so that reading between cells is unbiased, then smoothed with its neighbours.
"""

from __future__ import annotations

import ast
import hashlib
from importlib.resources import files
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter1d
from scipy.stats import qmc

from nextpair.carry.deck import PIN_X_M, PIN_Y_M, Bodies, FloatArray, spotted_racks
from nextpair.carry.discs import roll_into
from nextpair.carry.leave_paths import offset_at
from nextpair.carry.nodes import Nodes, Smoothed, write_table
from nextpair.carry.rolls import Rolls, joined
from nextpair.carry.smoother import kept_leaves, stand_ins
from nextpair.carry.spares import write_spares
from nextpair.carry.table import load_table
from nextpair.domain.lane import BOARD_M
from nextpair.domain.units import DEGREE_RAD, MPH_MPS, POUND_KG
from nextpair.kernel.roll import CONTACT_M
from nextpair.scoring.leaves import (
    FULL_RACK,
    mirrored_leave,
    parse_leave,
    pin_count,
    standing_pins,
)

SEED = 20_260_501
RACKS_A_CELL = 320
WEIGHTS_LB = np.array([12.0, 14.0, 16.0])
OFFSETS_BOARDS = np.concatenate(
    [np.arange(-20.0, -9.0), np.arange(-9.0, 9.01, 0.25), np.arange(10.0, 20.5)]
)
ANGLES_DEG = np.arange(-2.0, 9.5)
SPEEDS_MPS = np.array([13.0, 16.5, 20.0]) * MPH_MPS
SMOOTHING_NODES = (0.5, 0.5)
"""Standard deviation of the smoothing over offset and angle, in cells: the best of thirty-six on
held-out racks, docs/adr/0005."""

ROLLS_A_LEAVE = 512
SPARE_ANGLES_DEG = (-3.0, 8.0)
"""From a straight ball across the lane to a hooking strike ball."""
FEW_PINS = 3
"""Every leave of so few pins is rolled at, whether the table keeps it or not."""
NAMED_LEAVES = (
    "2-4-5-8", "2-4-7-8", "1-2-4-7", "1-2-4-10", "1-2-8-10", "1-2-4-8", "1-2-4-7-8", "2-4-5-7-8",
    "3-4-6-7", "4-6-7-10", "4-6-7-9-10", "3-4-6-7-10", "3-4-6-7-9-10", "4-7-9-10", "4-6-7-8-10",
    "4-7-8-10", "2-4-6-10", "1-2-4-6-10", "1-2-6-10",
)  # fmt: skip
"""Leaves of more pins that have a name or are talked about. Common practice, from memory."""

LEAVE_CODES = FULL_RACK + 1
DATA = Path(str(files("nextpair.carry"))) / "data"


def simulated_counts(racks_a_cell: int, seed: int = SEED) -> NDArray[np.uint16]:
    """Racks by leave: (weights, offsets, angles, speeds, 1024)."""
    shape = (len(OFFSETS_BOARDS), len(ANGLES_DEG), len(SPEEDS_MPS))
    counts = np.zeros((len(WEIGHTS_LB), *shape, LEAVE_CODES), np.uint16)
    for weight, weight_lb in enumerate(WEIGHTS_LB):
        bodies = Bodies(ball_kg=weight_lb * POUND_KG)
        for node in range(len(OFFSETS_BOARDS)):
            rng = np.random.default_rng([seed, weight, node])
            counts[weight, node] = _counts_at(rng, bodies, node, racks_a_cell)
    return counts


def _counts_at(
    rng: np.random.Generator, bodies: Bodies, node: int, racks_a_cell: int
) -> NDArray[np.uint16]:
    """Racks by leave of all angles and speeds at one offset."""
    cells = len(ANGLES_DEG) * len(SPEEDS_MPS)
    count = cells * racks_a_cell
    cell = np.repeat(np.arange(cells), racks_a_cell)
    angle, speed = np.unravel_index(cell, (len(ANGLES_DEG), len(SPEEDS_MPS)))
    width_boards = np.gradient(OFFSETS_BOARDS)[node]
    result = roll_into(
        spotted_racks(rng, count, bodies),
        OFFSETS_BOARDS[node] + width_boards * (rng.random(count) - 0.5),
        ANGLES_DEG[angle] + np.gradient(ANGLES_DEG)[angle] * (rng.random(count) - 0.5),
        SPEEDS_MPS[speed],
        bodies,
    )
    codes = np.bincount(cell * LEAVE_CODES + result.standing, minlength=cells * LEAVE_CODES)
    return codes.reshape(len(ANGLES_DEG), len(SPEEDS_MPS), LEAVE_CODES).astype(np.uint16)


def smoothed(counts: FloatArray) -> FloatArray:
    """Chances (weights, offsets, angles, speeds, leaves) from counts; each cell sums to 1.

    Source: [disc-carry] Gaussian kernel, its width chosen on held-out racks.
    """
    spread = counts
    for axis, deviation in zip((1, 2), SMOOTHING_NODES, strict=True):
        spread = gaussian_filter1d(spread, deviation, axis=axis, mode="nearest")
    chances: FloatArray = spread / spread.sum(axis=-1, keepdims=True)
    return chances


def simulated_spares(rolls_a_leave: int, seed: int = SEED) -> Rolls:
    """Rolls at leaves of two pins or more, with those pins only; of a leave and its mirror image
    at one. Four times as many at the full rack."""
    several = [leave for leave in range(1, FULL_RACK) if pin_count(leave) > 1]
    kept = {leave for leave in several if pin_count(leave) <= FEW_PINS}
    kept |= {leave for leave in load_table().leaves if pin_count(leave) > FEW_PINS}
    kept |= {parse_leave(leave) for leave in NAMED_LEAVES}
    once = sorted({min(leave, mirrored_leave(leave)) for leave in kept} | {FULL_RACK})
    return joined(
        [
            _rolls_at(leave, (4 if leave == FULL_RACK else 1) * rolls_a_leave, seed)
            for leave in once
        ]
    )


def _rolls_at(leave: int, count: int, seed: int) -> Rolls:
    """Rolls spread evenly over all paths that touch a pin of one leave."""
    rng = np.random.default_rng([seed, leave])
    spread, turn, pace = qmc.Sobol(3, scramble=True, rng=rng).random(count).T
    lowest_deg, highest_deg = SPARE_ANGLES_DEG
    angle_deg = lowest_deg + (highest_deg - lowest_deg) * turn
    angle = angle_deg * DEGREE_RAD
    pins = [pin - 1 for pin in standing_pins(leave)]
    level_m = np.stack([PIN_X_M[pin] + PIN_Y_M[pin] * np.tan(angle) for pin in pins])
    reach_m = CONTACT_M / np.cos(angle)
    first_m, last_m = level_m.min(axis=0) - reach_m, level_m.max(axis=0) + reach_m
    offset = offset_at((first_m + (last_m - first_m) * spread) / BOARD_M, angle_deg)
    slowest_mps, fastest_mps = SPEEDS_MPS[0], SPEEDS_MPS[-1]
    speed_mps = slowest_mps + (fastest_mps - slowest_mps) * pace
    bodies = Bodies()
    result = roll_into(
        spotted_racks(rng, count, bodies), offset, angle_deg, speed_mps, bodies, pins=leave
    )
    return Rolls(
        offset_boards=offset,
        angle_deg=angle_deg,
        speed_mps=speed_mps,
        ball_kg=np.full(count, bodies.ball_kg),
        roll_share=np.ones(count),
        side_rotation_radps=np.zeros(count),
        spotted=np.full(count, leave, np.uint16),
        standing=result.standing.astype(np.uint16),
        exit_x_m=result.exit_x_m,
    )


def model_hash() -> str:
    """Names the model that made a table: changes with any line of deck or discs but comments."""
    digest = hashlib.sha256()
    for module in ("deck.py", "discs.py"):
        tree = ast.parse((files("nextpair.carry") / module).read_text("utf-8"))
        for node in ast.walk(tree):
            if hasattr(node, "body") and isinstance(node.body, list):
                node.body = [line for line in node.body if not _is_text(line)] or [ast.Pass()]
        digest.update(ast.unparse(tree).encode())
    return digest.hexdigest()[:16]


def _is_text(line: ast.stmt) -> bool:
    return (
        isinstance(line, ast.Expr)
        and isinstance(line.value, ast.Constant)
        and isinstance(line.value.value, str)
    )


def write_carry(racks_a_cell: int = RACKS_A_CELL) -> None:
    """Simulate and write data/carry.npz."""
    counts = simulated_counts(racks_a_cell)
    by_leave = counts.sum(axis=tuple(range(counts.ndim - 1)), dtype=np.int64)
    leaves = kept_leaves(np.repeat(np.arange(LEAVE_CODES), by_leave))
    rare = 1.0 - by_leave[leaves].sum() / by_leave.sum()
    settings = {
        "seed": SEED,
        "racks_a_cell": racks_a_cell,
        "smoothing_nodes": SMOOTHING_NODES,
        "pooled_share": round(float(rare), 6),
        "bodies": Bodies()._asdict(),
        "model_hash": model_hash(),
    }
    nodes = Nodes(WEIGHTS_LB, OFFSETS_BOARDS, ANGLES_DEG, SPEEDS_MPS)
    chances = smoothed(counts @ np.eye(len(leaves))[stand_ins(leaves)])
    rolls = np.full(nodes.shape, effective_racks(racks_a_cell))
    write_table(DATA / "carry.npz", Smoothed(nodes, leaves, chances, rolls), settings)


def effective_racks(racks_a_cell: int) -> float:
    """How many racks stand behind a smoothed cell away from the edges.

    Source: closed form, one over the sum of the kernel's squared weights.
    """
    lone = np.zeros(9)
    lone[4] = 1.0
    squares = [np.sum(gaussian_filter1d(lone, width) ** 2) for width in SMOOTHING_NODES]
    return float(racks_a_cell / np.prod(squares))


def write_spare_rolls(rolls_a_leave: int = ROLLS_A_LEAVE) -> None:
    """Simulate and write data/spares.npz."""
    settings = {
        "stand_in": "plane model, until rolls in three dimensions are there",
        "seed": SEED,
        "rolls_a_leave": rolls_a_leave,
        "bodies": Bodies()._asdict(),
        "model_hash": model_hash(),
    }
    write_spares(DATA / "spares.npz", simulated_spares(rolls_a_leave), settings)


if __name__ == "__main__":
    write_carry()
    write_spare_rolls()
