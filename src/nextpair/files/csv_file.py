"""Rows of a CSV file with known columns: read whole, or refused with the line that is wrong."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nextpair.files.intake import Intake, Source, Words, did_you_mean, key_shown
from nextpair.files.text_file import Table, read_text

FEW_COLUMNS = 20
"""Up to here all columns of a file are named in a refusal."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row: the line it starts on, and the text of each filled cell by column."""

    line: int
    cells: Table


def read_rows(
    source: Source, columns: Sequence[str], intake: Intake, may_lack: Sequence[str] = ()
) -> Iterator[Row]:
    """The rows of a CSV file that has these columns and no others, in any order.

    `may_lack` names those of them that a file may leave out altogether.

    Rows that are short or long are refused and left out; blank rows are passed over. A file that
    is refused altogether has no rows.
    """
    text = read_text(source, intake)
    if text is None:
        return
    records = _records(text, source, intake)
    line, header = next(records, (1, []))
    if not _header_fits(header, columns, may_lack, line, source, intake):
        return
    has_rows = False
    for line, cells in records:
        has_rows = True
        if len(cells) == len(header):
            yield Row(line, {name: cell for name, cell in zip(header, cells, strict=True) if cell})
        else:
            _refuse_length(len(cells), len(header), line, source, intake)
    if not has_rows and not intake.has_refused(source):
        intake.refuse(source, "file", Words("no rows below the header"), "one row or more")


def _records(text: str, source: Source, intake: Intake) -> Iterator[tuple[int, list[str]]]:
    """The line each record starts on, and its cells without the blanks around them."""
    reader = csv.reader(io.StringIO(text, newline=""), strict=True, skipinitialspace=True)
    line = 1
    try:
        for record in reader:
            cells = [cell.strip() for cell in record]
            if any(cells):
                yield line, cells
            line = reader.line_num + 1
    except csv.Error as wrong:
        allowed = "values separated by commas; one that holds a comma or quote in double quotes"
        intake.refuse(source, f"line {line}", Words(f"a broken row ({wrong})"), allowed)


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
    if len(header) == 1 and (";" in header[0] or "\t" in header[0]):
        found = Words("columns separated by semicolons or tabs")
        intake.refuse(source, f"line {line}", found, "columns separated by commas")
        return False
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
