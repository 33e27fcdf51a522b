"""A CSV file with a row of 39 boards at each distance down the lane."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import Any

from pydantic import Field, create_model

from nextpair.domain.errors import require_within
from nextpair.domain.lane import BOARDS, HEAD_PIN_M
from nextpair.domain.units import FOOT_M
from nextpair.files.csv_file import read_rows
from nextpair.files.fields import CsvNumber
from nextpair.files.forms import Form, fill, make
from nextpair.files.intake import Intake, Source, Words

BOARD_COLUMNS = tuple(str(board) for board in range(1, BOARDS + 1))
COLUMNS = ("distance_ft", *BOARD_COLUMNS)


class DistanceForm(Form):
    """The column that is not a board."""

    distance_ft: CsvNumber = Field(description="distance from the foul line", examples=[0.0])


_FIELD_OF = {column: f"board {column}" for column in BOARD_COLUMNS}


def board_row(name: str, description: str) -> type[DistanceForm]:
    """A form for one row: the distance, and a field for each board that is described so."""
    fields: dict[str, Any] = {
        field: (CsvNumber, Field(description=description, examples=[0.0]))
        for field in _FIELD_OF.values()
    }
    return create_model(name, __base__=DistanceForm, **fields)


@dataclass(frozen=True, slots=True)
class BoardTable:
    """Rows of 39 values, right to left, at distances that increase."""

    distance_ft: tuple[float, ...]
    values: tuple[tuple[float, ...], ...]

    @property
    def distance_m(self) -> tuple[float, ...]:
        """The distances from the foul line in metres."""
        return tuple(distance_ft * FOOT_M for distance_ft in self.distance_ft)


def read_boards(
    source: Source,
    intake: Intake,
    row_form: type[DistanceForm],
    lowest: float,
    highest: float,
    unit: str,
) -> BoardTable | None:
    """The table of a file whose values lie from `lowest` to `highest`; None when it is refused."""
    before_ft = -1.0
    distances_ft: list[float] = []
    values: list[tuple[float, ...]] = []
    for row in read_rows(source, COLUMNS, intake):
        at = row.at
        cells = {_FIELD_OF.get(column, column): cell for column, cell in row.cells.items()}
        form = fill(row_form, cells, source, intake, at)

        read = partial(_readings, lowest=lowest, highest=highest, unit=unit)
        distance_ft, readings = make(read, form, source, intake, at)
        if distance_ft <= before_ft:
            allowed = f"more than the {before_ft:g} ft of the row before"
            intake.refuse(source, f"{at}distance_ft", distance_ft, allowed)
        distances_ft.append(distance_ft)
        values.append(readings)
        before_ft = distance_ft
    if len(distances_ft) == 1 and not intake.has_refused(source):
        intake.refuse(source, "file", Words("one row"), "two rows or more")
    if not distances_ft or intake.has_refused(source):
        return None
    return BoardTable(tuple(distances_ft), tuple(values))


def _readings(
    form: DistanceForm, lowest: float, highest: float, unit: str
) -> tuple[float, tuple[float, ...]]:
    """Distance [ft] and the 39 values of a row."""
    require_within("distance_ft", form.distance_ft, 0, HEAD_PIN_M / FOOT_M, "ft")
    values = tuple(float(getattr(form, field)) for field in _FIELD_OF.values())
    for field, value in zip(_FIELD_OF.values(), values, strict=True):
        require_within(field, value, lowest, highest, unit)
    return form.distance_ft, values
