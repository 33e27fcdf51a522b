"""The brush of a lane machine, which carries oil on in the direction of travel."""

from __future__ import annotations

import math

import numpy as np

from nextpair.domain.lane import CELL_M, CELLS
from nextpair.physics.film import Film


def brushed(along: Film, length_m: float, buff_m: float) -> Film:
    """Oil along the lane, (CELLS,), after the brush went over it toward the pins.

    All oil goes through the brush, which lays it down again over the lane ahead: what it still
    holds falls to 1/e every `buff_m`, and all of it is down at `length_m`, where the brush lifts.
    So what was laid at s lies at y from s to the length L as

        exp(-(y - s) / buff) / (buff (1 - exp(-(L - s) / buff)))

    Each column of `share` below holds how the oil of one cell lies in all cells, the mean over the
    places in that cell where it was laid, made 1 in all as the formula is. So the sum of `along`
    stays as it is. Oil beyond `length_m` is not touched.

    Source: [brush-transfer] exponential kernel, truncated at the length.
    """
    cell = np.arange(CELLS)
    cells_per_buff = buff_m / CELL_M
    held = math.exp(-1.0 / cells_per_buff)
    laid = -math.expm1(-1.0 / cells_per_buff)
    cells_between = np.maximum(cell[:, None] - cell - 1, 0)
    share = np.tril(cells_per_buff * laid**2 * held**cells_between, -1)
    np.fill_diagonal(share, 1.0 - cells_per_buff * laid)
    oiled = np.clip(length_m / CELL_M - cell, 0.0, 1.0)
    share *= (-np.expm1(-oiled / cells_per_buff) / laid)[:, None]
    total = share.sum(axis=0)
    reached = total > 0.0
    carried: Film = share[:, reached] @ (along[reached] / total[reached])
    carried[~reached] += along[~reached]
    return carried
