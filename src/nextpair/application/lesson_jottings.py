"""Lessons as they are written down in a log, and read out of it again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, fields
from datetime import date
from typing import Any

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
    change = payload.get("change")
    if not isinstance(change, Mapping):
        raise InvalidValueError("change", change, "what is to be done otherwise")
    return Lesson(
        key=_text("key", payload.get("key")),
        words=_text("words", payload.get("words")),
        change=change_of(change),
        event=_text("event", payload.get("event")),
        date=_day(payload.get("date")),
        accepted=_flag("accepted", payload.get("accepted")),
        done=_flag("done", payload.get("done", False)),
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
    if key in NUMBERS or (key == GRIT and not isinstance(value, str)):
        return _number(key, value)
    if key in WHOLE:
        return int(_number(key, value))
    return _text(key, value)


def _number(key: str, value: Any) -> int | float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise InvalidValueError(key, value, "a number")
    return value


def _text(key: str, value: Any) -> str:
    if not isinstance(value, str):
        raise InvalidValueError(key, value, "a text")
    return value


def _flag(key: str, value: Any) -> bool:
    if not isinstance(value, bool):
        raise InvalidValueError(key, value, "true or false")
    return value


def _day(value: Any) -> date:
    try:
        return date.fromisoformat(_text("date", value))
    except ValueError as wrong:
        raise InvalidValueError("date", value, "a day as 2026-06-13") from wrong
