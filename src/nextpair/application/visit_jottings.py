"""Visits as they are written down in a house's log, and read out of it again.

Numbers by lane stand under the lane's number; of each unknown that was learned the four numbers of
`domain.house_book.Learned`, rounded: a jotting is small.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields
from typing import Any
from uuid import UUID

from nextpair.application.names import lane_of
from nextpair.application.payload_values import (
    day_of,
    flag_of,
    id_of,
    number_of,
    table_of,
    text_of,
    whole_of,
)
from nextpair.domain.errors import InvalidValueError, require, require_within
from nextpair.domain.house_book import Learned, Visit
from nextpair.domain.jotting import LARGEST_PAYLOAD_BYTES, canonical_json

TEXTS = frozenset({"event", "pattern", "played", "changed", "notes"})
WHOLE = frozenset({"games", "pins"})
OF_A_PATTERN = {"length_ft": (20.0, 60.0, "ft"), "volume_ml": (0.0, 100.0, "mL")}
BY_LANE = frozenset({"lanes", "lane_friction"})
KEYS = tuple(one.name for one in fields(Visit) if one.name != "id")
DIGITS = 5
"""Kept of a learned number: finer than anything that shots can tell."""
LANE_DIGITS = 3
ROOM = f"{LARGEST_PAYLOAD_BYTES} bytes together with what was played and the lanes' notes"
ORDINARY = {one.name: one.default for one in fields(Visit)}


def payload_of(visit: Visit) -> dict[str, Any]:
    """What is written down of a visit; what nobody said is left out. Raises InvalidValueError for
    more than a jotting holds."""
    told = {key: getattr(visit, key) for key in KEYS}
    payload = {key: _told(key, value) for key, value in told.items() if value != ORDINARY[key]}
    size = len(canonical_json(payload).encode())
    require(size <= LARGEST_PAYLOAD_BYTES, "notes", f"{size} bytes of visit", ROOM)
    return payload


def visit_of(id: UUID, payload: Mapping[str, Any]) -> Visit:
    """The visit of a payload. Raises InvalidValueError."""
    unknown = sorted(set(payload) - set(KEYS))
    if unknown:
        raise InvalidValueError(unknown[0], "an unknown key", ", ".join(KEYS))
    if payload.get("date") is None:
        raise InvalidValueError("date", None, "the day of the visit")
    given = {key: _value(key, value) for key, value in payload.items() if value is not None}
    return Visit(id=id, **given)


def require_lanes(visit: Visit, lanes: int) -> None:
    """Refuse a visit that names a lane which a house of so many has not. Raises
    InvalidValueError."""
    allowed = f"lanes of the house, 1 to {lanes}"
    for key in sorted(BY_LANE):
        for lane, _ in getattr(visit, key):
            require(1 <= lane <= lanes, key, lane, allowed)
    for one in visit.learned:
        lane = lane_of(one.name)
        require(lane is None or 1 <= lane <= lanes, "learned", one.name, allowed)


def _told(key: str, value: Any) -> Any:
    if key == "date":
        return value.isoformat()
    if key == "event_id":
        return str(value)
    if key in BY_LANE:
        return {str(lane): said for lane, said in value}
    if key == "learned":
        return {one.name: [round(number, DIGITS) for number in _numbers_of(one)] for one in value}
    return value


def _numbers_of(learned: Learned) -> tuple[float, float, float, float]:
    return learned.before_mean, learned.before_sd, learned.mean, learned.sd


def _value(key: str, value: Any) -> Any:
    if key in TEXTS:
        return text_of(key, value).strip()
    if key in WHOLE:
        return whole_of(key, value)
    if key == "friction":
        return number_of(key, value)
    if key in OF_A_PATTERN:
        number = number_of(key, value)
        require_within(key, number, *OF_A_PATTERN[key])
        return number
    if key == "date":
        return day_of(key, value)
    if key == "event_id":
        return id_of(key, value)
    if key == "private":
        return flag_of(key, value)
    table = table_of(key, value)
    if key == "learned":
        return tuple(_learned(name, numbers) for name, numbers in table.items())
    return tuple(
        (_lane(key, lane), text_of(key, told).strip() if key == "lanes" else number_of(key, told))
        for lane, told in table.items()
    )


def _learned(name: str, numbers: Any) -> Learned:
    if not isinstance(numbers, Sequence) or len(numbers) != 4:
        raise InvalidValueError("learned", name, "four numbers: mean and sd before, mean and sd")
    return Learned(name, *(number_of("learned", number) for number in numbers))


def _lane(key: str, told: str) -> int:
    if not (told.isdecimal() and len(told) <= LANE_DIGITS):
        raise InvalidValueError(key, told, "the number of a lane")
    return int(told)
