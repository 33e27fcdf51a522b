"""film.csv: a film read from a lane, 39 boards at each distance, in units of oil."""

from __future__ import annotations

from typing import Any

from pydantic import Field, create_model

from nextpair.domain.errors import require_within
from nextpair.domain.lane import BOARDS, HEAD_PIN_M
from nextpair.domain.pattern import LARGEST_FILM_UM, MeasuredFilm
from nextpair.domain.units import FOOT_M, OIL_UNIT_UM
from nextpair.files.csv_file import read_rows
from nextpair.files.fields import CsvNumber
from nextpair.files.forms import Form, fill, make
from nextpair.files.intake import Intake, Source, Words

BOARD_COLUMNS = tuple(str(board) for board in range(1, BOARDS + 1))
COLUMNS = ("distance_ft", *BOARD_COLUMNS)
LARGEST_FILM_UNITS = LARGEST_FILM_UM / OIL_UNIT_UM


class DistanceForm(Form):
    """The column that is not a board."""

    distance_ft: CsvNumber = Field(description="distance from the foul line", examples=[0.0])


_FIELD_OF = {column: f"board {column}" for column in BOARD_COLUMNS}
_BOARD_FIELDS: dict[str, Any] = {
    field: (CsvNumber, Field(description="units of oil on this board", examples=[0.0]))
    for field in _FIELD_OF.values()
}
FilmRow = create_model("FilmRow", __base__=DistanceForm, **_BOARD_FIELDS)
"""One row: the distance, and a field for each board."""


def read_film(source: Source, intake: Intake) -> MeasuredFilm | None:
    """The measured film of a file; None when it is refused."""
    before_ft = -1.0
    distances_ft: list[float] = []
    films_units: list[tuple[float, ...]] = []
    for row in read_rows(source, COLUMNS, intake):
        at = f"line {row.line}: "
        cells = {_FIELD_OF.get(column, column): cell for column, cell in row.cells.items()}
        form = fill(FilmRow, cells, source, intake, at)
        distance_ft, film_units = make(_readings, form, source, intake, at)
        if distance_ft <= before_ft:
            allowed = f"more than the {before_ft:g} ft of the row before"
            intake.refuse(source, f"{at}distance_ft", distance_ft, allowed)
        distances_ft.append(distance_ft)
        films_units.append(film_units)
        before_ft = distance_ft
    if len(distances_ft) == 1 and not intake.has_refused(source):
        intake.refuse(source, "file", Words("one row"), "two rows or more")
    if not distances_ft or intake.has_refused(source):
        return None
    return MeasuredFilm(
        distance_m=tuple(distance_ft * FOOT_M for distance_ft in distances_ft),
        thickness_um=tuple(
            tuple(units * OIL_UNIT_UM for units in film_units) for film_units in films_units
        ),
    )


def _readings(form: DistanceForm) -> tuple[float, tuple[float, ...]]:
    """Distance [ft] and the 39 films [units] of a row."""
    distance_ft = form.distance_ft
    require_within("distance_ft", distance_ft, 0, HEAD_PIN_M / FOOT_M, "ft")
    film_units = tuple(float(getattr(form, field)) for field in _FIELD_OF.values())
    for field, units in zip(_FIELD_OF.values(), film_units, strict=True):
        require_within(field, units, 0, LARGEST_FILM_UNITS, "units of oil")
    return distance_ft, film_units
