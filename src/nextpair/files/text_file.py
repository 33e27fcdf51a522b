"""Text and TOML from disk: read whole, or refused with the line that is wrong."""

from __future__ import annotations

import re
import tomllib
from decimal import Decimal, InvalidOperation
from pathlib import Path

from nextpair.files.intake import Intake, Source, Words, shown

LARGEST_FILE_BYTES = 4_000_000
_TOML_PLACE = re.compile(r"(.*) \(at (?:line (\d+), column (\d+)|end of document)\)", re.DOTALL)

Table = dict[str, object]


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
        intake.refuse(source, "file", Words("lists within lists"), "plain tables and lists")
    except ValueError as wrong:
        place, found = _toml_fault(str(wrong))
        allowed = "key = value, each key once, texts in quotes, decimals with a point"
        intake.refuse(source, place, found, allowed)
    return None


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
