"""A refusal as one line that any terminal and page can show, whatever was found."""

from __future__ import annotations

import re
import unicodedata

LONGEST_PART, LONGEST_LINE = 400, 1500
_UNSAFE = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})
"""Categories of characters that break a line, turn it around, or are half of one. Source: Unicode
15, table 4-4."""
_INK = re.compile("(\x1b\\[(?:0|1|2|1;36)m)")
"""What `reports.ink` writes, and what cannot do more than weigh and colour."""
_LAID_OUT = re.compile(r"[^\n]+")


def on_screen(text: str) -> str:
    """A page of text that does nothing to a terminal but show: of control characters, and of those
    that turn a line around, only line breaks and the page's own weights and colours stay; the
    others are told as Python, and JSON, write them."""
    if "\x1b" not in text and all(line.isprintable() for line in text.split("\n")):
        return text
    return "".join(
        part if _INK.fullmatch(part) else _LAID_OUT.sub(lambda line: _line(line.group()), part)
        for part in _INK.split(text)
    )


def _line(text: str) -> str:
    return text if text.isprintable() else "".join(_as_json(character) for character in text)


def _as_json(character: str) -> str:
    """A character of text that is no part of a terminal's; four digits, as JSON has them."""
    unsafe = unicodedata.category(character) in _UNSAFE
    return f"\\u{ord(character):04x}" if unsafe and ord(character) < 0x10000 else character


def one_line(text: str, longest: int = LONGEST_LINE) -> str:
    """A text without line breaks and control characters, which are told as Python writes them; its
    middle left out where it is longer."""
    if not text.isprintable():
        text = "".join(_told(character) for character in text)
    if len(text) <= longest:
        return text
    half = (longest - 1) // 2
    return f"{text[:half]}…{text[-half:]}"


def _told(character: str) -> str:
    unsafe = unicodedata.category(character) in _UNSAFE
    return character.encode("unicode_escape").decode("ascii") if unsafe else character
