"""Text and TOML: read whole, or refused with the line that is wrong."""

from __future__ import annotations

import re
import tomllib
from decimal import Decimal, InvalidOperation

from nextpair.application.nesting import ALLOWED, DEEPEST, is_shallow
from nextpair.files.folder import Table, UnreadableError
from nextpair.files.intake import Intake, Source, Words, shown
from nextpair.files.spreadsheet import UTF_16, encoding_of

UTF_8 = "text saved in the encoding UTF-8"
TABLE_UTF_8 = f"{UTF_8}, in a spreadsheet `CSV UTF-8`"
_KEY_PART = r"""(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')"""
_ENDLESS_KEY = re.compile(rf"(?<![\w-])(?:{_KEY_PART}[ \t]*+\.[ \t]*+){{{DEEPEST}}}", re.ASCII)
"""A key of so many parts that tables lie within each other deeper than anything does: the reader
of TOML takes the square of their number in time (a.b.c = 1 is {a = {b = {c = 1}}}: TOML 1.0,
dotted keys)."""
_TOML_PLACE = re.compile(r"(.*) \(at (?:line (\d+), column (\d+)|end of document)\)", re.DOTALL)


def read_text(source: Source, intake: Intake) -> str | None:
    """The text of a file in UTF-8; None when it is refused."""
    content = _content(source, intake)
    return None if content is None else _decoded(content, "utf-8-sig", UTF_8, source, intake)


def read_table_text(source: Source, intake: Intake) -> str | None:
    """The text of a table, in UTF-8 or, with its mark, in UTF-16 as spreadsheets write it; None
    when it is refused."""
    content = _content(source, intake)
    if content is None:
        return None
    return _decoded(content, encoding_of(content), TABLE_UTF_8, source, intake)


def _content(source: Source, intake: Intake) -> bytes | None:
    try:
        return source.folder.content(source.path)
    except UnreadableError as why_not:
        _refuse_unreadable(source, str(why_not), intake)
        return None


def _decoded(
    content: bytes, encoding: str, allowed: str, source: Source, intake: Intake
) -> str | None:
    if encoding != UTF_16 and content[:2].count(0) == 1 and content[2:4].count(0) == 1:
        intake.refuse(source, "file", Words("UTF-16 without its mark"), allowed)
        return None
    try:
        text = content.decode(encoding)
    except UnicodeDecodeError as wrong:
        line = content.count(b"\n", 0, wrong.start) + 1
        found = Words(f"byte 0x{content[wrong.start]:02x}")
        intake.refuse(source, f"line {line}", found, allowed)
        return None
    if not text.strip():
        intake.refuse(source, "file", Words("an empty file"), "a file with content")
        return None
    return text


def read_toml(source: Source, intake: Intake) -> Table | None:
    """The tables of a TOML file, with exact decimals; None when it is refused."""
    table = source.folder.table(source.path)
    if table is not None:
        return table
    text = read_text(source, intake)
    if text is None:
        return None
    try:
        tables = None if _ENDLESS_KEY.search(text) else tomllib.loads(text, parse_float=_exact)
        if tables is not None and is_shallow(tables):
            return tables
        intake.refuse(source, "file", Words("tables within tables without end"), ALLOWED)
    except RecursionError:
        intake.refuse(source, "file", Words("lists within lists without end"), ALLOWED)
    except ValueError as wrong:
        place, found = _toml_fault(str(wrong))
        allowed = "key = value, each key once, texts in quotes, decimals with a point"
        intake.refuse(source, place, found, allowed)
    return None


def _refuse_unreadable(source: Source, why: str, intake: Intake) -> None:
    if source.named_by is None:
        intake.refuse(source, "file", Words(why), "a text file that can be read")
    else:
        found = Words(f"{shown(source.name)} ({why})")
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
    return place, Words(f"something else than TOML ({what[:1].lower()}{what[1:]})")
