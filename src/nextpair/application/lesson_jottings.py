"""Lessons as they are written down in a log, and read out of it again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, fields
from typing import Any

from nextpair.application.payload_values import (
    day_of,
    flag_of,
    number_of,
    table_of,
    text_of,
    whole_of,
)
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.lesson import Change, ChangeKind, Lesson

OF_A_CHANGE = tuple(one.name for one in fields(Change))
WHOLE = frozenset({"lane", "many"})
NUMBERS = frozenset({"length_ft"})
GRIT = "surface_grit"


def payload_of(lesson: Lesson) -> dict[str, Any]:
    """What is written down of a lesson; what nobody said is left out."""
    change = {key: value for key, value in asdict(lesson.change).items() if value is not None}
    return asdict(lesson) | {
        "change": change | {"kind": lesson.change.kind.value},
        "date": lesson.date.isoformat(),
    }


def lesson_of(payload: Mapping[str, Any]) -> Lesson:
    """The lesson of a payload. Raises InvalidValueError."""
    return Lesson(
        key=text_of("key", payload.get("key")),
        words=text_of("words", payload.get("words")),
        change=change_of(table_of("change", payload.get("change"))),
        event=text_of("event", payload.get("event")),
        date=day_of("date", payload.get("date")),
        accepted=flag_of("accepted", payload.get("accepted")),
        done=flag_of("done", payload.get("done", False)),
    )


def change_of(told: Mapping[str, Any]) -> Change:
    """The change of a payload. Raises InvalidValueError."""
    unknown = sorted(set(told) - set(OF_A_CHANGE))
    if unknown:
        raise InvalidValueError("change", unknown[0], ", ".join(OF_A_CHANGE))
    kind = told.get("kind")
    if kind not in list(ChangeKind):
        raise InvalidValueError("kind", kind, ", ".join(ChangeKind))
    given = {key: told[key] for key in told if key != "kind" and told[key] is not None}
    return Change(kind=ChangeKind(kind), **{key: _value(key, given[key]) for key in given})


def _value(key: str, value: Any) -> Any:
    if key in NUMBERS:
        return number_of(key, value)
    if key in WHOLE or (key == GRIT and not isinstance(value, str)):
        return whole_of(key, value)
    return text_of(key, value)
