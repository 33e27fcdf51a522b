"""How a lesson of an earlier event is said."""

from __future__ import annotations

from nextpair.domain.lesson import Lesson
from nextpair.domain.sheet import Sheet
from nextpair.reports.wording import date_words, sentence

HEADING = "What earlier events taught"


def lesson_words(lesson: Lesson) -> str:
    """'Take the Slate Weir to 2000. Harbour Open, 13 June 2026: it read too early.'"""
    taught = f"{lesson.event}, {date_words(lesson.date.isoformat())}"
    return f"{sentence(lesson.change.words)} {taught}: {sentence(lesson.words)}"


def lessons_told(sheet: Sheet) -> tuple[str, ...]:
    """What earlier events taught that applies to a sheet's, newest first."""
    return tuple(lesson_words(lesson) for lesson in sheet.lessons)
