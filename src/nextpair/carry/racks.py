"""Simulate the racks behind the shipped tables: `python -m nextpair.carry.racks`.

Every cell of the table is filled with racks whose impact is drawn evenly over the cell's own
width, so that reading between cells is unbiased, then smoothed with its neighbours.
"""

from __future__ import annotations

import ast
import hashlib
import json
from importlib.resources import files
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter1d

from nextpair.carry.deck import Bodies, FloatArray, spotted_racks
from nextpair.carry.discs import roll_into
from nextpair.carry.nodes import Nodes, Smoothed, write_table
from nextpair.carry.smoother import kept_leaves, stand_ins
from nextpair.domain.lane import BOARDS
from nextpair.domain.units import MPH_MPS, POUND_KG
from nextpair.scoring.leaves import FULL_RACK, mirrored_leave

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

SPARE_RACKS_A_PLACE = 40
SPARE_PLACES_BOARDS = np.arange(-20.0, 20.25, 0.5)
SPARE_ANGLES_DEG = np.array([-2.0, 0.0, 2.0])
"""The steepest a straight ball comes over 60 ft, from either edge. Source: [facts] section 5."""
SPARE_SPEED_MPS = 16.5 * MPH_MPS

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


def simulated_spares(racks_a_place: int, seed: int = SEED) -> FloatArray:
    """Chance that every pin of a leave falls: (1024, angles, places); row 0 stays 0.

    A leave and its mirror image share their racks.
    """
    angles, places = len(SPARE_ANGLES_DEG), len(SPARE_PLACES_BOARDS)
    chances = np.zeros((LEAVE_CODES, angles, places))
    for leave in range(1, LEAVE_CODES):
        image = mirrored_leave(leave)
        if image < leave:
            chances[leave] = chances[image, ::-1, ::-1]
        else:
            chances[leave] = _spare_chances(
                np.random.default_rng([seed, leave]), leave, racks_a_place
            )
    return chances


def _spare_chances(rng: np.random.Generator, leave: int, racks_a_place: int) -> FloatArray:
    """Chance (angles, places) that every pin of one leave falls; none does from the gutter."""
    angles, places = len(SPARE_ANGLES_DEG), len(SPARE_PLACES_BOARDS)
    angle, place = np.unravel_index(
        np.repeat(np.arange(angles * places), racks_a_place), (angles, places)
    )
    width_boards = SPARE_PLACES_BOARDS[1] - SPARE_PLACES_BOARDS[0]
    bodies = Bodies()
    offset_boards = SPARE_PLACES_BOARDS[place] + width_boards * (rng.random(place.size) - 0.5)
    result = roll_into(
        spotted_racks(rng, place.size, bodies),
        offset_boards,
        SPARE_ANGLES_DEG[angle],
        np.full(place.size, SPARE_SPEED_MPS),
        bodies,
        pins=leave,
    )
    on_lane = np.abs(offset_boards) < 0.5 * BOARDS
    made = (result.standing == 0) & on_lane
    mean: FloatArray = made.reshape(angles, places, racks_a_place).mean(axis=2)
    return mean


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


def write_spares(racks_a_place: int = SPARE_RACKS_A_PLACE) -> None:
    """Simulate and write data/spares.npz."""
    settings = {
        "seed": SEED,
        "racks_a_place": racks_a_place,
        "speed_mps": SPARE_SPEED_MPS,
        "bodies": Bodies()._asdict(),
        "model_hash": model_hash(),
    }
    np.savez_compressed(
        DATA / "spares.npz",
        offsets_boards=SPARE_PLACES_BOARDS,
        angles_deg=SPARE_ANGLES_DEG,
        chances=np.rint(simulated_spares(racks_a_place) * 255).astype(np.uint8),
        settings=np.array(json.dumps(settings)),
    )


if __name__ == "__main__":
    write_carry()
    write_spares()
