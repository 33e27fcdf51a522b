"""Rolls: how each ball met its pins and what it left, as columns; kept in one file."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from nextpair.scoring.leaves import FULL_RACK, mirrored_leave

FloatArray = NDArray[np.float64]
MaskArray = NDArray[np.uint16]

MIRRORED_LEAVES = np.array([mirrored_leave(mask) for mask in range(FULL_RACK + 1)])
"""Every leave, by its mask, as a mirror shows it."""


class Rolls(NamedTuple):
    """n balls rolled at pins by a right-hander, every column (n,)."""

    offset_boards: FloatArray
    """Ball centre right of the head-pin spot when it touches a head pin there, whether one stands
    or not; level with the head-pin row when it would miss that pin."""
    angle_deg: FloatArray
    """Of the path, positive toward the left."""
    speed_mps: FloatArray
    ball_kg: FloatArray
    roll_share: FloatArray
    """Speed of the ball's surface round its rolling axis over its speed: 1 rolls, 0 slides."""
    side_rotation_radps: FloatArray
    """About the vertical, positive turns the ball's front to the left."""
    spotted: MaskArray
    """Pins that stood before, a leave's bit mask."""
    standing: MaskArray
    """Pins left standing, 0 for a strike or a made spare."""
    exit_x_m: FloatArray
    """Ball centre right of the lane's centre where it leaves the deck to the pit; NaN when it
    does not."""

    def taken(self, chosen: NDArray[Any]) -> Rolls:
        """Some of the rolls, by mask or by index."""
        return Rolls(*(column[chosen] for column in self))

    def mirrored(self) -> Rolls:
        """The same rolls seen in a mirror along the lane's centre line."""
        return self._replace(
            offset_boards=-self.offset_boards,
            angle_deg=-self.angle_deg,
            side_rotation_radps=-self.side_rotation_radps,
            spotted=MIRRORED_LEAVES[self.spotted].astype(np.uint16),
            standing=MIRRORED_LEAVES[self.standing].astype(np.uint16),
            exit_x_m=-self.exit_x_m,
        )


def joined(parts: list[Rolls]) -> Rolls:
    """Rolls of several runs, one after the other."""
    return Rolls(*(np.concatenate(columns) for columns in zip(*parts, strict=True)))


def save_rolls(path: Path, rolls: Rolls, settings: dict[str, Any]) -> None:
    """Write rolls and how they were made; single precision, which is far below the spotting."""
    columns = {
        name: column.astype(np.float32) if column.dtype.kind == "f" else column
        for name, column in rolls._asdict().items()
    }
    partial = path.with_suffix(".part")
    with partial.open("wb") as stream:
        np.savez_compressed(stream, settings=np.array(json.dumps(settings)), **columns)
    partial.replace(path)


def load_rolls(path: Path) -> tuple[Rolls, dict[str, Any]]:
    """Rolls and settings of a file that `save_rolls` wrote."""
    with np.load(path) as kept:
        columns = {
            name: kept[name].astype(np.float64) if kept[name].dtype.kind == "f" else kept[name]
            for name in Rolls._fields
        }
        return Rolls(**columns), json.loads(str(kept["settings"]))
