"""film.csv: a film read from a lane, 39 boards at each distance, in units of oil."""

from __future__ import annotations

from nextpair.domain.pattern import LARGEST_FILM_UM, MeasuredFilm
from nextpair.domain.units import OIL_UNIT_UM
from nextpair.files.board_csv import BoardTable, board_row, read_boards
from nextpair.files.intake import Intake, Source

LARGEST_FILM_UNITS = LARGEST_FILM_UM / OIL_UNIT_UM
FilmRow = board_row("FilmRow", "units of oil on this board")


def read_film_table(source: Source, intake: Intake) -> BoardTable | None:
    """The units of oil of a file; None when it is refused."""
    return read_boards(source, intake, FilmRow, 0, LARGEST_FILM_UNITS, "units of oil")


def read_film(source: Source, intake: Intake) -> MeasuredFilm | None:
    """The measured film of a file; None when it is refused."""
    table = read_film_table(source, intake)
    if table is None:
        return None
    return MeasuredFilm(
        distance_m=table.distance_m,
        thickness_um=tuple(tuple(units * OIL_UNIT_UM for units in row) for row in table.values),
    )
