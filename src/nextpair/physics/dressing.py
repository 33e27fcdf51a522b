"""The film that a lane machine lays down.

A film is a float64 array (CELLS, BOARDS) of micrometres: row = half-foot cell from the foul line,
column = board - 1, counted from the right edge.
"""

from __future__ import annotations

import numpy as np

from nextpair.domain.lane import BOARDS, CELL_M, CELLS
from nextpair.domain.pattern import MeasuredFilm, Pass, Pattern
from nextpair.physics.film import UM_PER_UL, Film

_CELL = np.arange(CELLS, dtype=np.float64)
_CELL_CENTRE_M = (_CELL + 0.5) * CELL_M


def film_of(pattern: Pattern) -> Film:
    """The fresh film [um], (CELLS, BOARDS), of a pattern.

    Passes keep their volume exactly: each spreads evenly from its start to its end, and a cell
    that it covers in part gets its share. A measured film runs straight between its rows, holds
    its first row back to the foul line and its last row on to the pattern's length, and is zero
    beyond that length.

    Source: [facts] section 4, load arithmetic: boards x loads x microlitres a board.
    """
    if pattern.film is not None:
        return _measured(pattern.film, pattern.length_m)
    film_um = np.zeros((CELLS, BOARDS))
    for a_pass in pattern.passes:
        _lay(film_um, a_pass)
    return film_um


def _lay(film_um: Film, a_pass: Pass) -> None:
    covered = _covered_share(a_pass.start_m, a_pass.end_m)
    board_ul = a_pass.loads * a_pass.oil_ul
    along_um = covered * (board_ul * UM_PER_UL / covered.sum())
    film_um[:, a_pass.from_board - 1 : a_pass.to_board] += along_um[:, None]


def _measured(film: MeasuredFilm, length_m: float) -> Film:
    rows_um = np.array(film.thickness_um)
    boards = [np.interp(_CELL_CENTRE_M, film.distance_m, rows_um[:, b]) for b in range(BOARDS)]
    return np.stack(boards, axis=1) * _covered_share(0.0, length_m)[:, None]


def _covered_share(start_m: float, end_m: float) -> Film:
    """Share of each cell that lies between two distances, (CELLS,)."""
    before_end: Film = np.clip(end_m / CELL_M - _CELL, 0.0, 1.0)
    return before_end - np.clip(start_m / CELL_M - _CELL, 0.0, 1.0)
