"""The shape of a lane's surface, and how it pulls on a ball.

A lane is level to some hundredths of an inch. Where it is not, the weight pulls downhill, and as
the pull lasts for the whole of the roll, a few hundredths move the ball by boards.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.bowler import Hand
from nextpair.domain.house import LaneTrait
from nextpair.domain.lane import BOARD_M, BOARDS, CELL_M, CELLS, LANE_WIDTH_M
from nextpair.physics.constants import GRAVITY_MPS2

FloatArray = NDArray[np.float64]

_CELL_CENTRE_M = (np.arange(CELLS) + 0.5) * CELL_M


def slope_pull_mps2(trait: LaneTrait) -> FloatArray | None:
    """Pull [m/s2] of a lane's slopes to the right and down the lane, (2, 120, 39) at the film's
    cells; None for a lane that is level as far as anybody knows.

    A tilt pulls evenly to the lower edge; a map of heights pulls down its own slopes, by central
    differences, on top of that.

    Source: [model-sheet] section 9, item 8: a = -g grad h.
    """
    if trait.tilt_m == 0.0 and trait.heights is None:
        return None
    pull = np.zeros((2, CELLS, BOARDS))
    pull[0] = GRAVITY_MPS2 * trait.tilt_m / LANE_WIDTH_M
    if trait.heights is not None:
        heights_m = _at_cells(trait.heights.distance_m, trait.heights.height_m)
        down, leftward = np.gradient(heights_m, CELL_M, BOARD_M)
        pull[0] += GRAVITY_MPS2 * leftward
        pull[1] -= GRAVITY_MPS2 * down
    return pull


def own_pull(pull_mps2: FloatArray | None, hand: Hand) -> FloatArray | None:
    """A pull (2, 120, 39) as the bowler meets it: to the own side first, own edge first."""
    if pull_mps2 is None or hand is Hand.RIGHT:
        return pull_mps2
    turned = pull_mps2[..., ::-1].copy()
    turned[0] *= -1.0
    return turned


def _at_cells(
    distance_m: tuple[float, ...], height_m: tuple[tuple[float, ...], ...]
) -> FloatArray:
    """Heights (120, 39) at cell centres: straight between the rows of a map, level beyond."""
    rows = np.array(height_m)
    by_board = [np.interp(_CELL_CENTRE_M, distance_m, rows[:, b]) for b in range(BOARDS)]
    return np.stack(by_board, axis=1)
