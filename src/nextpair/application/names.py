"""Names as people write them: two are one name where only case and blanks differ, or how a
keyboard puts a letter together."""

from __future__ import annotations

from unicodedata import normalize


def plain_name(name: str) -> str:
    """A name without what may be written otherwise. Source: UAX #15, form C."""
    return " ".join(normalize("NFC", name.casefold()).split())
