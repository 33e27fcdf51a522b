"""How spreadsheets write tables as text: their encodings, separators, spaces and decimal commas.

Source: RFC 4180 for records and quotes; the rest is what programs do that do not keep to it.
"""

from __future__ import annotations

import codecs
import csv
import io
import re

SEPARATORS = (",", ";", "\t")
"""Of a file, by how much they are to be expected."""
SEPARATOR_WORDS = {",": "commas", ";": "semicolons", "\t": "tabs"}
ODD_SPACES: dict[int, str | None] = {0xA0: " ", 0x2007: " ", 0x202F: " ", 0xFEFF: None}
"""Spaces that do not break, as ordinary ones; the mark of an encoding in the middle of a text,
where files were joined, is left out. Source: Unicode 15, sections 6.2 and 23.8."""
UTF_16 = "utf-16"
UTF_16_MARKS = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
DECIMAL_COMMA = re.compile(r"[+-]?\d+,\d+", re.ASCII)
_MAY_BE_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}", re.ASCII)
_BEFORE_FORMULA = re.compile(
    r"""(?:^|(?<=[;\t\r\n]))([ "']*)(?=[=+\-@\t\r\uff1d\uff0b\uff0d\uff20])"""
)
"""Before what a spreadsheet would compute: where a cell begins, or would begin where a country's
spreadsheets part cells otherwise. Source: OWASP, CSV Injection, from memory."""
_MARKED_FORMULA = re.compile(_BEFORE_FORMULA.pattern.replace("(?=", "'(?="))
_PLAIN_NUMBER = re.compile(r"[+-]?\d+(?:[.,]\d+)?(?:e[+-]?\d+)?", re.ASCII)
_SEPARATOR_LINE = re.compile(r"sep=([,;\t])(?:\r\n|\r|\n)", re.IGNORECASE)


class CommaCell(str):
    """A cell of a table whose numbers have decimal commas, as it is written."""

    __slots__ = ()

    @property
    def with_point(self) -> str:
        """The cell with a decimal point, where it is a number with a comma."""
        return self.replace(",", ".") if DECIMAL_COMMA.fullmatch(self) else str(self)


def never_computed(cell: str) -> str:
    """A cell of text that no spreadsheet takes for a formula: an apostrophe before what would
    begin one. A number stays one."""
    return cell if _PLAIN_NUMBER.fullmatch(cell) else _BEFORE_FORMULA.sub(r"\1'", cell)


def as_told(cell: str) -> str:
    """A cell without the apostrophes of `never_computed`."""
    return _MARKED_FORMULA.sub(r"\1", cell) if "'" in cell else cell


def plain_spaces(text: str) -> str:
    """Text with ordinary spaces in place of those that only look so."""
    return text.translate(ODD_SPACES)


def encoding_of(content: bytes) -> str:
    """The encoding that a file's first bytes tell: UTF-16 by its mark, else UTF-8. Source: Unicode
    15, section 23.8."""
    return UTF_16 if content.startswith(UTF_16_MARKS) else "utf-8-sig"


def separator_of(text: str) -> tuple[str, str]:
    """What parts the values of a table, by its first line that says anything, and the text without
    a line `sep=;` that says only so."""
    told = _SEPARATOR_LINE.match(text)
    if told:
        return told.group(1), text[told.end() :]
    values = {separator: _values(text, separator) for separator in SEPARATORS}
    return max(SEPARATORS, key=values.__getitem__), text


def commas_are_decimal(cells: list[str], separator: str) -> bool:
    """Whether numbers of a table have decimal commas. Beside semicolons they do; beside tabs where
    one has that cannot part thousands, and none has a point; beside commas never."""
    if separator != "\t":
        return separator == ";"
    commas = [cell for cell in cells if DECIMAL_COMMA.fullmatch(cell)]
    has_points = any(re.fullmatch(r"[+-]?\d*\.\d+", cell, re.ASCII) for cell in cells)
    return not has_points and any(not _MAY_BE_THOUSANDS.fullmatch(cell) for cell in commas)


def _values(text: str, separator: str) -> int:
    """How many values the first record has that has any, parted so."""
    try:
        for record in csv.reader(io.StringIO(text, newline=""), delimiter=separator):
            if any(cell.strip() for cell in record):
                return len(record)
    except csv.Error:
        pass
    return 0
