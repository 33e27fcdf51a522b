"""A refusal as one line that any terminal and page can show, whatever was found."""

from __future__ import annotations

import unicodedata

LONGEST_PART, LONGEST_LINE = 400, 1500
_UNSAFE = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})
"""Categories of characters that break a line, turn it around, or are half of one. Source: Unicode
15, table 4-4."""


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
