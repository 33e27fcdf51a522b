"""Documents laid out as the contract's files, each under its name, without a text being written.

What a document holds within itself, and a file leaves to a neighbour, is laid beside it: a
measured film, a lane's heights, the rows of a squad.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import PurePosixPath
from typing import Annotated

import tomli_w
from pydantic import Field, TypeAdapter, ValidationError

from nextpair.application.bundle import EventBundle
from nextpair.domain.lane import BOARDS
from nextpair.domain.record import Document
from nextpair.files import board_csv, locker_file, squad_file
from nextpair.files.csv_file import csv_text
from nextpair.files.fields import IsoDay, Number
from nextpair.files.folder import Memory, Table
from nextpair.files.forms import Form, fill
from nextpair.files.intake import Intake, Source, Words

EVENT, HOUSE, BOWLER = "event.toml", "house.toml", "bowler.toml"
PATTERN, LEFT_PATTERN, RIGHT_PATTERN = "pattern.toml", "left-pattern.toml", "right-pattern.toml"
LOCKER, SQUAD = "locker.csv", "squad.csv"
_ENDS_FT = (0.0, 1.0)
_LEVEL = ((0.0,) * BOARDS,) * 2
Distances = Annotated[tuple[Number, ...], Field(description="distances", examples=[_ENDS_FT])]
Boards = Annotated[
    tuple[tuple[Number, ...], ...], Field(description="39 boards at each", examples=[_LEVEL])
]


class FilmTable(Form):
    """A measured film within a pattern's document, in units of oil."""

    distance_ft: Distances
    units: Boards


class HeightsTable(Form):
    """The shape of a lane's surface within a house's document."""

    distance_ft: Distances
    height_in: Boards


@dataclass(slots=True)
class Layout:
    """Files as they are laid out, and what was wrong on the way. `columns` are those of each file
    of rows."""

    intake: Intake = field(default_factory=Intake)
    tables: dict[str, Document] = field(default_factory=dict)
    lists: dict[str, Sequence[Document]] = field(default_factory=dict)
    columns: dict[str, tuple[str, ...]] = field(default_factory=dict)

    def source(self, file: str) -> Source:
        """One file of these."""
        return Source.first(PurePosixPath(file), Memory(tables=self.tables, lists=self.lists))

    def texts(self) -> dict[str, str]:
        """The text of each file, by its name."""
        folder = self.source(EVENT).folder
        lists = {file: folder.rows(PurePosixPath(file)) or () for file in self.lists}
        tables = {file: folder.table(PurePosixPath(file)) or {} for file in self.tables}
        return {
            **{file: tomli_w.dumps(table) for file, table in tables.items()},
            **{file: csv_text(self.columns[file], rows) for file, rows in lists.items()},
        }

    def house(self, document: Document) -> Source:
        """Lay out a house, with a file for each lane whose shape is known."""
        table = dict(document)
        lanes = table.get("lane")
        if isinstance(lanes, list | tuple):
            table["lane"] = [self._lane(lane, place) for place, lane in enumerate(lanes, start=1)]
        self.tables[HOUSE] = table
        return self.source(HOUSE)

    def pattern(self, document: Document, file: str = PATTERN) -> Source:
        """Lay out a pattern, with its film beside it if one was measured."""
        table = dict(document)
        film = table.get("film")
        if isinstance(film, Mapping):
            csv = file.replace("pattern.toml", "film.csv")
            form = fill(FilmTable, dict(film), self.source(file), self.intake, "film.")
            self._boards(csv, form.distance_ft, form.units, self.source(file), "film.units")
            table["film"] = {"csv": csv}
        self.tables[file] = table
        return self.source(file)

    def bowler(self, document: Document) -> Source:
        """Lay out a bowler."""
        self.tables[BOWLER] = document
        return self.source(BOWLER)

    def rows(self, rows: object, file: str, columns: tuple[str, ...]) -> Source:
        """Lay out a list of rows."""
        if not isinstance(rows, list | tuple) or not all(isinstance(row, Mapping) for row in rows):
            self.intake.refuse(self.source(file), "rows", rows, "a list of tables")
            rows = ()
        self.lists[file], self.columns[file] = rows, columns
        return self.source(file)

    def event(self, bundle: EventBundle) -> Source:
        """Lay out an event with everything it needs."""
        table = with_day(bundle.event)
        self.house(bundle.house)
        self.bowler(bundle.bowler)
        self.rows(bundle.locker, LOCKER, locker_file.COLUMNS)
        self.rows(bundle.squad, SQUAD, squad_file.COLUMNS)
        table |= {"house": HOUSE, "bowler": BOWLER, "locker": LOCKER, "squad": SQUAD}
        table |= self._patterns(bundle)
        if bundle.earlier:
            table["earlier_squad"] = list(self._earlier(bundle))
        self.tables[EVENT] = table
        return self.source(EVENT)

    def _patterns(self, bundle: EventBundle) -> Iterator[tuple[str, str]]:
        """The keys of an event's patterns, each with the file or the name of its pattern."""
        given = {"pattern": (bundle.left_pattern, PATTERN)}
        if bundle.right_pattern is not None:
            given = {
                "left_pattern": (bundle.left_pattern, LEFT_PATTERN),
                "right_pattern": (bundle.right_pattern, RIGHT_PATTERN),
            }
        for key, (pattern, file) in given.items():
            if isinstance(pattern, str):
                yield key, pattern
            else:
                self.pattern(pattern, file)
                yield key, file

    def _earlier(self, bundle: EventBundle) -> Iterator[Table]:
        """The table of each earlier squad; the same people again have the same file."""
        files = [(bundle.squad_name, bundle.squad, SQUAD)]
        for number, squad in enumerate(bundle.earlier, start=1):
            same = (file for name, rows, file in files if (name, rows) == (squad.name, squad.rows))
            file = next(same, f"earlier-squad-{number}.csv")
            files.append((squad.name, squad.rows, file))
            self.rows(squad.rows, file, squad_file.COLUMNS)
            yield {"squad": file, **squad.terms}

    def _lane(self, lane: object, place: int) -> object:
        if not isinstance(lane, Mapping) or lane.get("heights") is None:
            return lane
        table = dict(lane)
        heights, at = table.pop("heights"), f"lane table {place}: heights"
        source = self.source(HOUSE)
        if not isinstance(heights, Mapping):
            self.intake.refuse(source, at, heights, "a table of distance_ft and height_in")
            return table
        form = fill(HeightsTable, dict(heights), source, self.intake, f"{at}.")
        csv = f"heights-{place}.csv"
        self._boards(csv, form.distance_ft, form.height_in, source, f"{at}.height_in")
        return table | {"heights": csv}

    def _boards(
        self,
        file: str,
        distances_ft: tuple[float, ...],
        values: tuple[tuple[float, ...], ...],
        source: Source,
        place: str,
    ) -> None:
        """Lay out a file with a row of 39 boards at each distance."""
        if len(values) != len(distances_ft) or any(len(row) != BOARDS for row in values):
            found = Words(f"{len(values)} lists, of {_lengths(values)} values")
            allowed = f"{len(distances_ft)} lists, one for each distance, of {BOARDS} values"
            self.intake.refuse(source, place, found, allowed)
            distances_ft, values = _ENDS_FT, _LEVEL
        rows = [
            {"distance_ft": distance_ft, **dict(zip(board_csv.BOARD_COLUMNS, row, strict=True))}
            for distance_ft, row in zip(distances_ft, values, strict=True)
        ]
        self.rows(rows, file, board_csv.COLUMNS)


def with_day(document: Document) -> Table:
    """The document of an event with its days as a TOML file has them, where they are some."""
    table = dict(document)
    for key in ("date", "entry_deadline"):
        with suppress(ValidationError):
            if table.get(key) is not None:
                table[key] = TypeAdapter(IsoDay).validate_python(table[key])
    return table


def _lengths(values: tuple[tuple[float, ...], ...]) -> str:
    return " and ".join(str(length) for length in sorted({len(row) for row in values})) or "no"
