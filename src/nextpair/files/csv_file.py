"""Rows of a CSV file with known columns: read whole, or refused with the line that is wrong; and
written."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from nextpair.files.folder import Table
from nextpair.files.intake import NOTHING, Intake, Source, Words, did_you_mean, key_shown
from nextpair.files.spreadsheet import (
    SEPARATOR_WORDS,
    CommaCell,
    as_told,
    commas_are_decimal,
    never_computed,
    plain_spaces,
    separator_of,
)
from nextpair.files.text_file import read_table_text

FEW_COLUMNS = 20
"""Up to here all columns of a file are named in a refusal."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its place as a reader finds it, its number from 1 on, and each filled cell by
    column."""

    place: str
    number: int
    cells: Table

    @property
    def at(self) -> str:
        """What comes before a column where a problem is told."""
        return f"{self.place}: "


def read_rows(
    source: Source, columns: Sequence[str], intake: Intake, may_lack: Sequence[str] = ()
) -> Iterator[Row]:
    """The rows of a CSV file that has these columns and no others, in any order; parted by commas,
    semicolons or tabs, as its header is.

    `may_lack` names those of them that a file may leave out altogether.

    Rows that are short or long are refused and left out; blank rows are passed over. A file that
    is refused altogether has no rows.
    """
    rows = source.folder.rows(source.path)
    if rows is None:
        yield from _rows_of_text(source, columns, intake, may_lack)
        return
    if not rows:
        intake.refuse(source, "rows", NOTHING, "one row or more")
    for number, row in enumerate(rows, start=1):
        yield Row(f"row {number}", number, row)


def header_of(source: Source, intake: Intake) -> tuple[str, ...]:
    """The columns that a CSV file says it has, none where it cannot be read; of rows, those that
    any of them fills."""
    rows = source.folder.rows(source.path)
    if rows is not None:
        return tuple(dict.fromkeys(key for row in rows for key in row))
    text = read_table_text(source, intake)
    records = _records(text, source, intake) if text is not None else iter(())
    _, header = next(records, (1, []))
    return tuple(_without_empty_end(header))


def csv_text(columns: Sequence[str], rows: Iterable[Mapping[str, object]]) -> str:
    """The text of a CSV file with every column; what a row lacks is an empty cell. No text in it
    is a formula to a spreadsheet; spaces are ordinary ones, as they are read."""
    records = ([_cell(row.get(column)) for column in columns] for row in rows)
    return "".join(_record_text(record) for record in (columns, *records))


def _record_text(cells: Sequence[str]) -> str:
    """A record and its line end. The writer puts quotes around what holds one of its own line
    ends alone, so it writes those of RFC 4180, of which either part would end a record."""
    line = io.StringIO(newline="")
    csv.writer(line, lineterminator="\r\n").writerow(cells)
    return line.getvalue().removesuffix("\r\n") + "\n"


def _without_empty_end(cells: list[str]) -> list[str]:
    """Cells up to the last that is filled: a spreadsheet writes empty columns beside its own."""
    filled = [number for number, cell in enumerate(cells, start=1) if cell]
    return cells[: filled[-1] if filled else 0]


def _cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return never_computed(plain_spaces(value).strip()) if isinstance(value, str) else str(value)


def _rows_of_text(
    source: Source, columns: Sequence[str], intake: Intake, may_lack: Sequence[str]
) -> Iterator[Row]:
    text = read_table_text(source, intake)
    if text is None:
        return
    records = _records(text, source, intake)
    line, header = next(records, (1, []))
    header = _without_empty_end(header)
    if not _header_fits(header, columns, may_lack, line, source, intake):
        return
    number = 0
    for number, (line, row) in enumerate(records, start=1):
        cells = row[: len(header)] + _without_empty_end(row[len(header) :])
        if len(cells) == len(header):
            filled: Table = {name: cell for name, cell in zip(header, cells, strict=True) if cell}
            yield Row(f"line {line}", number, filled)
        else:
            _refuse_length(len(cells), len(header), line, source, intake)
    if not number and not intake.has_refused(source):
        intake.refuse(source, "file", Words("no rows below the header"), "one row or more")


def _records(text: str, source: Source, intake: Intake) -> Iterator[tuple[int, list[str]]]:
    """The line each record starts on, and its cells without the blanks around them; those of a
    table whose numbers have decimal commas as such."""
    separator, table = separator_of(text)
    line = first = 1 + (len(table) < len(text))
    page = io.StringIO(plain_spaces(table), newline="")
    reader = csv.reader(page, delimiter=separator, strict=True, skipinitialspace=True)
    found: list[tuple[int, list[str]]] = []
    broken = None
    try:
        for record in reader:
            cells = [as_told(cell.strip()) for cell in record]
            if any(cells):
                found.append((line, cells))
            line = first + reader.line_num
    except csv.Error as wrong:
        broken = wrong
    has_commas = commas_are_decimal([cell for _, cells in found for cell in cells], separator)
    for place, cells in found:
        yield place, [CommaCell(cell) for cell in cells] if has_commas else cells
    if broken is not None:
        allowed = (
            f"values separated by {SEPARATOR_WORDS[separator]}; "
            "one that holds one or a quote in double quotes"
        )
        intake.refuse(
            source, f"line {line}", Words(f"a broken row ({_csv_fault(broken)})"), allowed
        )


def _csv_fault(broken: csv.Error) -> str:
    """What the reader says, with the separator by its name."""
    told = str(broken)
    for separator, words in SEPARATOR_WORDS.items():
        told = told.replace(f"'{separator}' expected", f"{words.removesuffix('s')} expected")
    return told


def _header_fits(
    header: list[str],
    columns: Sequence[str],
    may_lack: Sequence[str],
    line: int,
    source: Source,
    intake: Intake,
) -> bool:
    unknown = [name for name in header if name not in columns]
    absent = [name for name in columns if name not in header]
    missing = [name for name in absent if name not in may_lack]
    twice = {name: header.count(name) for name in columns if header.count(name) > 1}
    allowed = f"the columns {_listed(columns)}"
    for name in unknown:
        place = f"line {line}: {key_shown(name)}" if name else f"line {line}: an empty column"
        intake.refuse(
            source, place, Words("an unknown column"), did_you_mean(name, absent) + allowed
        )
    if missing:
        found = Words(f"no column {_listed(missing)}")
        intake.refuse(source, f"line {line}", found, allowed)
    for name in twice:
        intake.refuse(source, f"line {line}: {name}", Words("the column more than once"), allowed)
    return not (unknown or missing or twice)


def _listed(columns: Sequence[str]) -> str:
    if len(columns) <= FEW_COLUMNS:
        return ", ".join(columns)
    return f"{', '.join(columns[:3])} and so on to {columns[-1]}"


def _refuse_length(found: int, allowed: int, line: int, source: Source, intake: Intake) -> None:
    hint = " (decimals with a point; a value that holds a comma in double quotes)"
    intake.refuse(
        source,
        f"line {line}",
        Words(f"{found} value{'s' * (found != 1)}"),
        f"{allowed} values, one for each column" + hint * (found > allowed),
    )
