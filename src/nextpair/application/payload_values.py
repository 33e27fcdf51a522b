"""Values as they stand in a jotting's payload, each refused in one line where it is of another
kind. Raises InvalidValueError."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from math import isfinite
from typing import Any
from uuid import UUID

from nextpair.domain.errors import InvalidValueError


def text_of(key: str, value: Any) -> str:
    """The text under a key."""
    if not isinstance(value, str):
        raise InvalidValueError(key, value, "a text")
    return value


def number_of(key: str, value: Any) -> float:
    """The number under a key; JSON knows whole ones that are too large to reckon with."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise InvalidValueError(key, value, "a number")
    try:
        number = float(value)
    except OverflowError:
        raise InvalidValueError(key, "a number beyond 1e308", "a number") from None
    if not isfinite(number):
        raise InvalidValueError(key, value, "a number that is not infinite")
    return number


def whole_of(key: str, value: Any) -> int:
    """The whole number under a key."""
    number = number_of(key, value)
    if not number.is_integer():
        raise InvalidValueError(key, value, "a whole number")
    return int(number)


def flag_of(key: str, value: Any) -> bool:
    """The answer to yes or no under a key."""
    if not isinstance(value, bool):
        raise InvalidValueError(key, value, "true or false")
    return value


def table_of(key: str, value: Any) -> Mapping[str, Any]:
    """The table under a key."""
    if not isinstance(value, Mapping):
        raise InvalidValueError(key, value, "a table")
    return value


def day_of(key: str, value: Any) -> date:
    """The day under a key."""
    try:
        return date.fromisoformat(text_of(key, value))
    except ValueError as wrong:
        raise InvalidValueError(key, value, "a day as 2026-06-13") from wrong


def id_of(key: str, value: Any) -> UUID:
    """The id under a key."""
    try:
        return UUID(text_of(key, value))
    except ValueError as wrong:
        raise InvalidValueError(key, value, "an id") from wrong
