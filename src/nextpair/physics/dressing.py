"""The film that a lane machine lays down.

A film is a float64 array (CELLS, BOARDS) of micrometres: row = half-foot cell from the foul line,
column = board - 1, counted from the right edge.
"""

from __future__ import annotations

import numpy as np

from nextpair.domain.lane import BOARDS, CELL_M, CELLS
from nextpair.domain.pattern import ROUNDING_M, Direction, MeasuredFilm, Pass, Pattern
from nextpair.physics.brush import brushed
from nextpair.physics.film import UM_PER_UL, Film

_CELL = np.arange(CELLS, dtype=np.float64)
_CELL_CENTRE_M = (_CELL + 0.5) * CELL_M


def film_of(pattern: Pattern) -> Film:
    """The fresh film [um], (CELLS, BOARDS), of a pattern.

    Passes keep their volume exactly: each spreads evenly from its start to its end, less the
    straight ramps of its tapers, and a cell that it covers in part gets its share. Without a brush
    the way the machine travels changes nothing: oil lies where the pass says, and the films of
    passes add up. The brush carries the oil of forward passes on toward the pattern's length; on
    the way back the machine lays oil over ground that is brushed already, so reverse passes stay
    as they are. A measured film runs straight between its rows, holds its first row back to the
    foul line and its last row on to the pattern's length, and is zero beyond that length.

    Source: [facts] section 4, load arithmetic: boards x loads x microlitres a board.
    """
    if pattern.film is not None:
        return _measured(pattern.film, pattern.length_m)
    film_um = np.zeros((CELLS, BOARDS))
    for a_pass in pattern.passes:
        along = _along(a_pass)
        if pattern.buff_m > ROUNDING_M and a_pass.direction is Direction.FORWARD:
            along = brushed(along, pattern.length_m, pattern.buff_m)
        board_ul = a_pass.loads * a_pass.oil_ul
        along_um = along * (board_ul * UM_PER_UL / along.sum())
        film_um[:, a_pass.from_board - 1 : a_pass.to_board] += along_um[:, None]
    return film_um


def _along(a_pass: Pass) -> Film:
    """How a pass lies along the lane, (CELLS,): 1 in a cell that it covers in full."""
    covered = _before(a_pass.end_m - a_pass.taper_end_m, a_pass.end_m) - _before(
        a_pass.start_m, a_pass.start_m + a_pass.taper_start_m
    )
    return np.maximum(covered, 0.0)


def _measured(film: MeasuredFilm, length_m: float) -> Film:
    rows_um = np.array(film.thickness_um)
    boards = [np.interp(_CELL_CENTRE_M, film.distance_m, rows_um[:, b]) for b in range(BOARDS)]
    return np.stack(boards, axis=1) * _before(length_m, length_m)[:, None]


def _before(full_m: float, empty_m: float) -> Film:
    """Mean over each cell, (CELLS,), of what is 1 up to one place and falls to 0 at another."""
    full = np.clip(full_m / CELL_M - _CELL, 0.0, 1.0)
    if empty_m <= full_m:
        return full
    ramp = (empty_m - full_m) / CELL_M
    near, far = (np.clip(empty_m / CELL_M - _CELL - side, 0.0, ramp) for side in (0.0, 1.0))
    return full + (near - far) * ((near + far) / (2.0 * ramp))
