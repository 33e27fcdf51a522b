"""Deadlines as an iCalendar file: whole days, names of events, houses and balls, nothing else.

Source: [rfc-5545].
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, timedelta
from uuid import UUID, uuid5

from nextpair.domain.errors import require
from nextpair.domain.season import Deadline

NAMESPACE = UUID("5b0d9a37-4f7e-5c1a-8a55-2f0e6f1d9c83")
"""Of the ids of entries, so that a file that is read again changes entries and adds none."""
LINE_OCTETS = 75
"""Longest content line, its end not counted."""
ESCAPED = str.maketrans({"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n", "\r": None})
_CONTROL = re.compile("[^\t\n\u0020-\u007e\u0080-\ud7ff\ue000-\U0010ffff]")
"""What no value may hold: section 3.1, CONTROL; and halves of characters, which UTF-8 lacks."""


def render_season_calendar(deadlines: Sequence[Deadline], made_at: datetime) -> str:
    """The deadlines as a calendar that other programs read. Raises InvalidValueError without any:
    a calendar without an entry is none."""
    require(bool(deadlines), "calendar", "nothing that is due", "an event that is still to come")
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//nextpair//season//EN",
        "CALSCALE:GREGORIAN",
        "METHOD:PUBLISH",
        *(line for one in deadlines for line in _entry(one, made_at)),
        "END:VCALENDAR",
    ]
    return "".join(f"{folded}\r\n" for line in lines for folded in _folded(line))


def _entry(deadline: Deadline, made_at: datetime) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{uuid5(NAMESPACE, f'{deadline.key} {deadline.due.value}')}"
    yield f"DTSTAMP:{made_at.astimezone(UTC):%Y%m%dT%H%M%SZ}"
    yield f"DTSTART;VALUE=DATE:{deadline.day:%Y%m%d}"
    yield f"DTEND;VALUE=DATE:{deadline.day + timedelta(1):%Y%m%d}"
    yield f"SUMMARY:{_text(deadline.words)}"
    yield f"CATEGORIES:{_text(deadline.due.value)}"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def _text(text: str) -> str:
    return _CONTROL.sub("", text).translate(ESCAPED)


def _folded(line: str) -> Iterator[str]:
    """A content line in pieces of at most 75 octets; no letter is cut."""
    piece = ""
    for letter in line:
        if len((piece + letter).encode()) > LINE_OCTETS:
            yield piece
            piece = " "
        piece += letter
    yield piece
