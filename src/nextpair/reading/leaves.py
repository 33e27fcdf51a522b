"""How likely what a shot left of a full rack is, wherever it came in."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nextpair.carry.smoother import stand_ins
from nextpair.carry.table import CarryTable
from nextpair.domain.lane import BOARDS, CENTRE_BOARD
from nextpair.kernel.outcome import offset_boards_at
from nextpair.reading.answers import Mark
from nextpair.reading.seen import NOT_SEEN

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

BOARD_STEP = 0.4
ANGLE_STEP_DEG = 1.0
PLACES: FloatArray = np.arange(0.0, BOARDS + 1 + BOARD_STEP, BOARD_STEP)
"""Own boards level with the head pin at which a leave's chance is reckoned."""
ANGLES_DEG: FloatArray = np.arange(-3.0, 3.0 + ANGLE_STEP_DEG, ANGLE_STEP_DEG)
"""Entry angles about the planned one at which it is."""
ACROSS: FloatArray = np.linspace(-2.5, 2.5, 15)
ACROSS_WEIGHTS: FloatArray = np.exp(-0.5 * ACROSS**2) / np.exp(-0.5 * ACROSS**2).sum()
"""What is not known of a shot's entry, in deviations."""
LEAST_CHANCE = 1e-4
"""Of any leave: rarer ones than the table holds happen."""


class Leaves:
    """Chances of what k of n shots left, over what stays unknown of how they came in.

    shots : (k,) their places among the n.
    usual : (k,) chances if they came in anywhere about the planned entry.
    """

    def __init__(
        self,
        table: CarryTable,
        leave: IntArray,
        planned: FloatArray,
        across: FloatArray,
        anywhere_boards: float,
    ) -> None:
        """Leaves (n,), planned marks (n, len(Mark)), one deviation of the entries (n, 3): own
        board, angle [deg], speed [m/s]; and one of the board of a shot that came in anywhere."""
        self.shots = np.flatnonzero(leave != NOT_SEEN)
        kept = stand_ins(np.array(table.leaves))[leave[self.shots]]
        self._first_deg = planned[self.shots, Mark.ANGLE] + ANGLES_DEG[0]
        self._chances = _chances(table, kept, planned[self.shots], across[self.shots])
        off = (PLACES - planned[self.shots, Mark.ENTRY, None]) / anywhere_boards
        weight = np.exp(-0.5 * off**2)
        usual = (weight * self._chances[:, :, len(ANGLES_DEG) // 2]).sum(axis=1)
        self.usual = usual / weight.sum(axis=1)

    def chance(self, entries: FloatArray) -> FloatArray:
        """Chances (m, k) of what the shots left if they come in so, entries (m, n, 3) as `across`;
        read linearly between PLACES and ANGLES_DEG."""
        own = entries[:, self.shots]
        place, right = _between(own[..., 0] / BOARD_STEP, len(PLACES))
        angle, up = _between((own[..., 1] - self._first_deg) / ANGLE_STEP_DEG, len(ANGLES_DEG))
        shot = np.arange(len(self.shots))
        held = self._chances
        low = (1 - up) * held[shot, place, angle] + up * held[shot, place, angle + 1]
        high = (1 - up) * held[shot, place + 1, angle] + up * held[shot, place + 1, angle + 1]
        return np.asarray((1 - right) * low + right * high)


def _between(steps: FloatArray, count: int) -> tuple[IntArray, FloatArray]:
    """Lower node of places on so many nodes, and the share of the next one."""
    inside = np.clip(steps, 0.0, count - 1.0)
    lower = np.minimum(inside.astype(np.int64), count - 2)
    return lower, inside - lower


def _chances(
    table: CarryTable, kept: IntArray, planned: FloatArray, across: FloatArray
) -> FloatArray:
    """Chances (k, len(PLACES), len(ANGLES_DEG)) of leaves, mean over what is unknown."""
    off = across[:, None, None, None, :] * ACROSS[:, None]
    place = PLACES[:, None, None] + off[..., 0]
    angle = planned[:, Mark.ANGLE, None, None, None] + ANGLES_DEG[:, None] + off[..., 1]
    speed = planned[:, Mark.SPEED, None, None, None] + off[..., 2]
    offset = offset_boards_at(CENTRE_BOARD - place, angle)
    chances = table.chance_of(kept[:, None, None, None], offset, angle, speed)
    return np.asarray(np.maximum(chances @ ACROSS_WEIGHTS, LEAST_CHANCE))
