"""Smooth chances of every leave over offset, angle, speed and weight of ball, from rolled racks.

A chance at a node is the share of the rolls near it, nearer ones counting more, that left the
same; see neighbours.py for near. A few pseudo-rolls that fall as the wider surroundings do fill in
where hardly any roll lies near. How near is near, and how many pseudo-rolls, is what tells best of
rolls that were left out: held_out.py.

Every roll counts twice, once as its mirror image, so the chance of a leave is that of its image at
the mirrored impact, to the last bit. How far the ball is from full roll and what it turns about
the vertical is in the mix of the rolls, not in the nodes.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from nextpair.carry.deck import STRIKE, FloatArray
from nextpair.carry.held_out import Trial, blur_rolls, trials_of, used_trial
from nextpair.carry.neighbours import Bandwidths, IntArray, near_and_wide, neighbours_of
from nextpair.carry.nodes import Nodes, Smoothed
from nextpair.carry.rolls import MIRRORED_LEAVES, Rolls
from nextpair.domain.errors import require
from nextpair.domain.units import MPH_MPS, POUND_KG
from nextpair.scoring.leaves import FULL_RACK

LEAVES_KEPT = 160
LEAST_ROLLS = 100


def _both_sides(right: FloatArray) -> FloatArray:
    return np.concatenate([-right[:0:-1], right])


NODES = Nodes(
    weights_lb=np.array([12.0, 14.0, 16.0]),
    offsets_boards=_both_sides(
        np.concatenate([np.arange(0.0, 9.0, 0.125), np.arange(9.0, 20.1, 0.25)])
    ),
    angles_deg=np.arange(-2.0, 9.5),
    speeds_mps=np.array([13.0, 16.5, 20.0]) * MPH_MPS,
)
"""Of the shipped table: offsets half the usual bandwidth apart where the head pin is hit."""


class Fit(NamedTuple):
    """Smoothed chances and how they came about."""

    smoothed: Smoothed
    used: Trial
    """The bandwidths that were used."""
    trials: tuple[Trial, ...]
    """All that were tried, the best first."""
    blur_rolls: float
    """Rolls that err by luck as much as smoothing does by blur. No node counts as more than so
    many, so that errors told from them hold."""
    pooled_share: float
    """Share of the rolls whose own leave was too rare to be kept."""

    def settings(self) -> dict[str, Any]:
        """How the table was smoothed, to be written with it."""
        return {
            "bandwidths": self.used.bandwidths._asdict(),
            "pseudo_rolls": self.used.pseudo_rolls,
            "held_out_nats_a_roll": round(self.used.nats_a_roll, 5),
            "blur_rolls": round(self.blur_rolls, 1) if np.isfinite(self.blur_rolls) else None,
            "pooled_share": round(self.pooled_share, 6),
        }


def fitted(
    rolls: Rolls,
    bandwidths: Bandwidths | None = None,
    *,
    nodes: Nodes = NODES,
    leaves_kept: int = LEAVES_KEPT,
) -> Fit:
    """Smooth the rolls at full racks; others are passed over.

    `bandwidths` left out are chosen on held-out rolls. Raises InvalidValueError for fewer than
    LEAST_ROLLS rolls, an impact that is no number, or nodes whose offsets are not mirrored
    about 0 or whose angles below 0 have not their like above.
    """
    full = rolls.taken(rolls.spotted == FULL_RACK)
    require(len(full.standing) >= LEAST_ROLLS, "rolls", len(full.standing), f"{LEAST_ROLLS} up")
    for name in ("offset_boards", "angle_deg", "speed_mps", "ball_kg"):
        require(bool(np.isfinite(getattr(full, name)).all()), name, "NaN", "finite numbers")
    require(_are_mirrored(nodes), "nodes", nodes.offsets_boards, "axes like their mirror image")
    leaves = kept_leaves(full.standing, leaves_kept)
    leave = stand_ins(leaves)[full.standing]
    image = np.searchsorted(leaves, MIRRORED_LEAVES[leaves])
    trials = trials_of(full, leave, image, bandwidths)
    used = used_trial(trials)
    blur = blur_rolls(full, leave, image, used)
    chances, effective = _at_nodes(full, leave, image, used, nodes)
    return Fit(
        Smoothed(nodes, leaves, chances, effective / (1.0 + effective / blur)),
        used,
        trials,
        blur,
        float(np.mean(leaves[leave] != full.standing)),
    )


def kept_leaves(standing: ArrayLike, kept: int = LEAVES_KEPT) -> IntArray:
    """Masks of the commonest leaves, ascending, each with its mirror image.

    Strike and full rack are always among them, and the commonest leave of every number of pins:
    so they are a few more than `kept` where that is small. A leave and its image count together.
    """
    counts = np.bincount(np.asarray(standing, np.int64), minlength=FULL_RACK + 1)
    counts = counts + counts[MIRRORED_LEAVES]
    counts[[STRIKE, FULL_RACK]] = counts.sum() + 1
    order = np.lexsort((np.minimum(np.arange(len(counts)), MIRRORED_LEAVES), -counts))
    order = order[counts[order] > 0]
    sizes = np.array([int(leave).bit_count() for leave in order])
    _, commonest_of_size = np.unique(sizes, return_index=True)
    chosen = np.union1d(order[:kept], order[commonest_of_size])
    return np.union1d(chosen, MIRRORED_LEAVES[chosen])


def stand_ins(leaves: IntArray) -> IntArray:
    """For every mask (1024,) the index of the kept leave that it counts as.

    A leave that is not kept counts as the one of as many pins that shares most of them with it, so
    mean pinfall does not change; where none of its size is kept, as one of the nearest size.
    """
    masks = np.arange(FULL_RACK + 1)
    pins = np.bitwise_count(masks).astype(np.int64)
    differing = np.bitwise_count(masks[:, np.newaxis] ^ leaves).astype(np.int64)
    unlike = differing + 20 * np.abs(pins[:, np.newaxis] - pins[leaves])
    return np.argmin(unlike, axis=1)


def _are_mirrored(nodes: Nodes) -> bool:
    offsets, angles = nodes.offsets_boards, nodes.angles_deg
    return np.array_equal(offsets, -offsets[::-1]) and bool(
        np.isin(-angles[angles < 0.0], angles).all()
    )


def _at_nodes(
    rolls: Rolls, leave: IntArray, image: IntArray, trial: Trial, nodes: Nodes
) -> tuple[FloatArray, FloatArray]:
    """Chances and effective rolls at every node: one half by the rolls, one half mirrored."""
    near = neighbours_of(rolls, leave, image, trial.bandwidths)
    chances = np.zeros((*nodes.shape, len(image)))
    effective = np.zeros(nodes.shape)
    offset, angle = np.meshgrid(nodes.offsets_boards, nodes.angles_deg, indexing="ij")
    own = (angle > 0.0) | ((angle == 0.0) & (offset >= 0.0))
    for weight, weight_lb in enumerate(nodes.weights_lb):
        for speed, speed_mps in enumerate(nodes.speeds_mps):
            places = trial.bandwidths.scaled(
                offset[own],
                angle[own],
                np.full(own.sum(), speed_mps),
                np.full(own.sum(), weight_lb * POUND_KG),
            )
            sums, rolls_near, wide = near_and_wide(
                near, places, np.full(len(places), -1), len(image)
            )
            chances[weight, :, :, speed][own] = trial.chances(sums, wide)
            effective[weight, :, :, speed][own] = rolls_near
    for here, there in _mirrored_pairs(nodes):
        chances[:, *here] = chances[:, *there][..., image]
        effective[:, *here] = effective[:, *there]
    if 0.0 in nodes.angles_deg and 0.0 in nodes.offsets_boards:
        centre = (slice(None), len(nodes.offsets_boards) // 2, _index(nodes.angles_deg, 0.0))
        chances[centre] = 0.5 * (chances[centre] + chances[centre][..., image])
    return chances, effective


def _mirrored_pairs(nodes: Nodes) -> list[tuple[tuple[int, int], tuple[int, int]]]:
    """Nodes (offset, angle) that are not worked out, each with the one whose image it is."""
    last = len(nodes.offsets_boards) - 1
    return [
        ((offset, angle), (last - offset, _index(nodes.angles_deg, -angle_deg)))
        for angle, angle_deg in enumerate(nodes.angles_deg)
        for offset in range(last + 1)
        if angle_deg < 0.0 or (angle_deg == 0.0 and offset < last / 2)
    ]


def _index(axis: FloatArray, value: float) -> int:
    return int(np.flatnonzero(axis == value)[0])
