"""Text, TOML and CSV from disk: read whole, or refused with the line that is wrong."""

from __future__ import annotations

import csv
import io
import re
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from difflib import get_close_matches
from pathlib import Path

from nextpair.files.intake import Intake, Source, Words, key_shown

LARGEST_FILE_BYTES = 4_000_000
_TOML_PLACE = re.compile(r"(.*) \(at (?:line (\d+), column (\d+)|end of document)\)", re.DOTALL)

Table = dict[str, object]


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a CSV file: its line, and the text of each filled cell by column."""

    line: int
    cells: Table


def read_text(source: Source, intake: Intake) -> str | None:
    """The text of a file in UTF-8; None when it is refused."""
    content, why_not = _content(source.path)
    if why_not:
        _refuse_unreadable(source, why_not, intake)
        return None
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as wrong:
        line = content.count(b"\n", 0, wrong.start) + 1
        found = Words(f"byte 0x{content[wrong.start]:02x}")
        intake.refuse(source, f"line {line}", found, "text saved in the encoding UTF-8")
        return None
    if not text.strip():
        intake.refuse(source, "file", Words("an empty file"), "a file with content")
        return None
    return text


def read_toml(source: Source, intake: Intake) -> Table | None:
    """The tables of a TOML file, with exact decimals; None when it is refused."""
    text = read_text(source, intake)
    if text is None:
        return None
    try:
        return tomllib.loads(text, parse_float=_exact)
    except RecursionError:
        intake.refuse(
            source, "file", Words("lists in lists without end"), "plain tables and lists"
        )
    except ValueError as wrong:
        place, found = _toml_fault(str(wrong))
        intake.refuse(
            source, place, found, "TOML: key = value, texts in quotes, decimals with a point"
        )
    return None


def read_rows(source: Source, columns: Sequence[str], intake: Intake) -> list[Row] | None:
    """The rows of a CSV file that has exactly these columns, in any order; None when refused.

    Rows that are short or long are refused and left out; blank rows are passed over.
    """
    text = read_text(source, intake)
    if text is None:
        return None
    reader = csv.reader(io.StringIO(text, newline=""), strict=True, skipinitialspace=True)
    rows: list[Row] = []
    header: list[str] | None = None
    try:
        for record in reader:
            cells = [cell.strip() for cell in record]
            if not any(cells):
                continue
            if header is None:
                header = cells
                if not _header_fits(source, header, columns, intake):
                    return None
            elif len(cells) != len(header):
                _refuse_length(source, reader.line_num, len(cells), len(header), intake)
            else:
                filled = {name: cell for name, cell in zip(header, cells, strict=True) if cell}
                rows.append(Row(reader.line_num, dict(filled)))
    except csv.Error as wrong:
        allowed = "values separated by commas; one that holds a comma or quote in double quotes"
        intake.refuse(source, f"line {reader.line_num}", Words(str(wrong)), allowed)
        return rows
    if not rows and not intake.has_refused(source):
        intake.refuse(source, "file", Words("no rows below the header"), "one row or more")
    return rows


def did_you_mean(word: str, known: Sequence[str]) -> str:
    """'did you mean "x"? ' when a known word is close, else nothing."""
    close = get_close_matches(word, known, n=1)
    return f'did you mean "{close[0]}"? ' if close else ""


def _content(path: Path) -> tuple[bytes, str]:
    """What a file holds, or why it cannot be had."""
    try:
        if path.is_dir():
            return b"", "a folder"
        if path.exists() and not path.is_file():
            return b"", "not an ordinary file"
        with path.open("rb") as file:
            content = file.read(LARGEST_FILE_BYTES + 1)
    except FileNotFoundError:
        return b"", "no such file"
    except OSError as failed:
        return b"", (failed.strerror or "cannot be read").lower()
    except ValueError:
        return b"", "not the name of a file"
    if len(content) > LARGEST_FILE_BYTES:
        return b"", f"more than {LARGEST_FILE_BYTES // 1_000_000} MB"
    return content, ""


def _refuse_unreadable(source: Source, why: str, intake: Intake) -> None:
    if source.named_by is None:
        intake.refuse(source, "file", Words(why), "a text file that can be read")
    else:
        found = Words(f"{source.name!r} ({why})")
        where = f"a text file that can be read, seen from the folder of {source.named_by.name}"
        intake.refuse(source.named_by, source.key, found, where)


def _exact(text: str) -> Decimal:
    try:
        return Decimal(text)
    except InvalidOperation:  # an exponent beyond any number that is checked later
        return Decimal("Infinity")


def _toml_fault(message: str) -> tuple[str, Words]:
    match = _TOML_PLACE.fullmatch(message)
    if match is None:
        return "file", Words("a value too large to read")
    what, line, column = match.groups()
    place = f"line {line}, column {column}" if line else "end of file"
    return place, Words(what[:1].lower() + what[1:])


def _header_fits(
    source: Source, header: list[str], columns: Sequence[str], intake: Intake
) -> bool:
    unknown = [name for name in header if name not in columns]
    missing = [name for name in columns if name not in header]
    twice = sorted({name for name in header if header.count(name) > 1})
    if not (unknown or missing or twice):
        return True
    if len(header) == 1 and len(columns) > 1 and (";" in header[0] or "\t" in header[0]):
        found = Words("columns separated by semicolons or tabs")
        intake.refuse(source, "line 1", found, "columns separated by commas")
        return False
    expected = f"the columns {', '.join(columns)}" if len(columns) < 20 else _span(columns)
    for name in unknown:
        hint = did_you_mean(name, missing)
        place = f"line 1: {key_shown(name)}" if name else "line 1: a column without a name"
        intake.refuse(source, place, Words("an unknown column"), hint + expected)
    for name in missing:
        intake.refuse(source, f"line 1: {name}", Words("no such column"), expected)
    for name in twice:
        intake.refuse(source, f"line 1: {name}", Words("the column more than once"), expected)
    return False


def _span(columns: Sequence[str]) -> str:
    return f"the columns {', '.join(columns[:3])} and so on to {columns[-1]}"


def _refuse_length(source: Source, line: int, found: int, allowed: int, intake: Intake) -> None:
    hint = " (decimals with a point; a value that holds a comma in double quotes)"
    intake.refuse(
        source,
        f"line {line}",
        Words(f"{found} value{'s' * (found != 1)}"),
        f"{allowed} values, one for each column" + hint * (found > allowed),
    )
