"""Smooth chances on the nodes of a table, and the file that holds them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

from nextpair.carry.deck import FloatArray
from nextpair.carry.neighbours import IntArray

SHARE_UNIT = 65_535
"""Chances are kept in whole numbers of so many parts."""


class Nodes(NamedTuple):
    """Axes of a table, each ascending."""

    weights_lb: FloatArray
    offsets_boards: FloatArray
    angles_deg: FloatArray
    speeds_mps: FloatArray

    @property
    def shape(self) -> tuple[int, int, int, int]:
        """Nodes along each axis."""
        weights, offsets, angles, speeds = map(len, self)
        return weights, offsets, angles, speeds


class Smoothed(NamedTuple):
    """What a table holds."""

    nodes: Nodes
    leaves: IntArray
    """Masks of the kept leaves, ascending."""
    chances: FloatArray
    """(weights, offsets, angles, speeds, leaves), each node sums to 1."""
    rolls: FloatArray
    """(weights, offsets, angles, speeds) effective number of rolls behind each node; what is
    blurred counts as fewer."""


def write_table(path: Path, smoothed: Smoothed, settings: Mapping[str, Any]) -> None:
    """Write a table with the settings that made it, to be read by `read_table`."""
    np.savez_compressed(
        path,
        **smoothed.nodes._asdict(),
        leaves=smoothed.leaves.astype(np.uint16),
        # Leave by leave: most nodes have none of it, and long runs of nothing pack well.
        chances=np.moveaxis(np.rint(smoothed.chances * SHARE_UNIT).astype(np.uint16), -1, 0),
        rolls=smoothed.rolls.astype(np.float32),
        settings=np.array(json.dumps(dict(settings))),
    )


def read_table(path: Path) -> tuple[Smoothed, dict[str, Any]]:
    """A table and its settings, as `write_table` wrote them."""
    with np.load(path) as kept:
        parts = np.ascontiguousarray(np.moveaxis(kept["chances"], 0, -1))
        # Whole numbers add up the same in any order, so mirrored nodes stay mirrored.
        chances = parts / parts.sum(axis=-1, keepdims=True, dtype=np.int64)
        nodes = Nodes(*(kept[name] for name in Nodes._fields))
        leaves, rolls = kept["leaves"].astype(np.int64), kept["rolls"].astype(np.float64)
        return Smoothed(nodes, leaves, chances, rolls), json.loads(str(kept["settings"]))
