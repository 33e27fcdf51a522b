"""Names as people write them: two are one name where only case and blanks differ, or how a
keyboard puts a letter together. And names of what is not known of one lane."""

from __future__ import annotations

import re
from unicodedata import normalize

_OF_A_LANE = re.compile(r"lane_(\d+)_", re.ASCII)


def plain_name(name: str) -> str:
    """A name without what may be written otherwise. Source: UAX #15, form C."""
    return " ".join(normalize("NFC", name.casefold()).split())


def lane_of(name: str) -> int | None:
    """Number of the lane that has an unknown for itself; None of one that all share."""
    found = _OF_A_LANE.match(name)
    return int(found[1]) if found else None
