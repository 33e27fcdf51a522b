"""The calendar against the rules of RFC 5545, written here from its grammar, not from ours."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime
from uuid import UUID

import pytest

from nextpair.domain.errors import InvalidValueError
from nextpair.domain.season import Deadline, Due
from nextpair.reports.season_calendar import render_season_calendar

MADE_AT = datetime(2026, 11, 28, 17, 5, 9, tzinfo=UTC)
NAMES = ("Ebb Tide Open", "Ökofeld, Halle 3; \\ Süd\nzweite Zeile", "ß" * 120, "🎳" * 40)
CONTENT_LINE = re.compile(r"[A-Za-z0-9-]+(;[A-Za-z0-9-]+=[^:;,\"]+)*:.*", re.DOTALL)
ONCE = {"UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY", "TRANSP"}


def deadline(name, due=Due.PACKING, day=date(2026, 12, 31)):
    return Deadline(due, day, 33, name, f"key of {name}", f"Pack for {name}.")


@pytest.fixture(params=NAMES)
def name(request):
    return request.param


@pytest.fixture
def lines(name):
    return unfolded(render_season_calendar([deadline(name), deadline(name, Due.EVENT)], MADE_AT))


def unfolded(text):
    """Content lines: 3.1, a line break and a space are taken out."""
    assert text.endswith("\r\n")
    return text.replace("\r\n ", "").removesuffix("\r\n").split("\r\n")


def test_lines_end_and_are_folded_as_they_must(name):
    raw = render_season_calendar([deadline(name)], MADE_AT).encode()
    assert b"\n" not in raw.replace(b"\r\n", b"")
    assert b"\r" not in raw.replace(b"\r\n", b"")
    for line in raw.split(b"\r\n"):
        assert len(line) <= 75
        line.decode()


def test_every_line_is_a_content_line_without_control_letters(lines):
    for line in lines:
        assert CONTENT_LINE.fullmatch(line), line
        assert not re.search(r"[\x00-\x08\x0a-\x1f\x7f]", line)


def test_the_calendar_is_whole(lines):
    assert (lines[0], lines[-1]) == ("BEGIN:VCALENDAR", "END:VCALENDAR")
    begun = [line for line in lines if line.startswith("BEGIN:VEVENT")]
    assert len(begun) == lines.count("END:VEVENT") == 2
    assert lines.count("VERSION:2.0") == 1
    assert sum(line.startswith("PRODID:") for line in lines) == 1


def test_an_entry_has_what_it_must_and_once(lines):
    entry = lines[lines.index("BEGIN:VEVENT") + 1 : lines.index("END:VEVENT")]
    told = [re.split("[:;]", line, maxsplit=1)[0] for line in entry]
    assert set(told) >= ONCE
    assert all(told.count(one) == 1 for one in told)
    assert "DTSTAMP:20261128T170509Z" in entry
    assert "DTSTART;VALUE=DATE:20261231" in entry
    assert "DTEND;VALUE=DATE:20270101" in entry, "the end is the day after: it is not included"


def test_ids_differ_and_stay(name):
    def ids():
        told = render_season_calendar([deadline(name), deadline(name, Due.EVENT)], MADE_AT)
        return [UUID(line[4:]) for line in unfolded(told) if line.startswith("UID:")]

    assert ids() == ids()
    assert len(set(ids())) == 2


def test_text_reads_back_as_it_was(name, lines):
    summary = next(line for line in lines if line.startswith("SUMMARY:"))[8:]
    assert not re.search(r"(?<!\\)(\\\\)*[,;]", summary)
    plain = re.sub(r"\\(.)", lambda found: {"n": "\n"}.get(found[1], found[1]), summary)
    assert plain == f"Pack for {name}."


def test_a_calendar_of_nothing_is_refused():
    with pytest.raises(InvalidValueError, match="nothing that is due"):
        render_season_calendar([], MADE_AT)
