"""What is written down at the lanes: jottings, each made once and never changed.

A correction is a new jotting that supersedes an earlier one, and so is taking one back. A log is
the set of an event's jottings, so two copies of it merge by their union, in any order and however
often.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any
from uuid import UUID

from nextpair.domain.errors import InvalidValueError, require, require_text, require_within

NEWEST_SCHEMA = 1
"""Version of the payloads that this program writes; it reads every one up to it."""
LARGEST_PAYLOAD_BYTES = 4000
LONGEST_DEVICE = 64
LONGEST_TIME = 40


class JottingKind(StrEnum):
    """What a jotting says."""

    SHOT = "shot"
    """The columns of shots.csv but id and time; pins as lists of numbers, null where nobody
    looked."""
    VOID = "void"
    """Nothing any more: takes back what it supersedes."""
    SCORE = "score"
    """`name`, `game`, `score`, `handicap` of somebody in the field."""
    TICK = "tick"
    """`item` of a packing list, and whether it is `done`."""
    NOTE = "note"
    """`about` and `text`; a diary's has the `prompt` that it answers."""
    VISIT = "visit"
    """In the log of a house: what a visit showed, as `domain.house_book.Visit` has it."""
    LESSON = "lesson"
    """What a debrief found, and whether it was accepted, as `domain.lesson.Lesson` has it."""


@dataclass(frozen=True, slots=True)
class Jotting:
    """One thing written down, as the device that wrote it sent it.

    device, device_seq : who wrote it, and its own count from 1.
    supersedes : the jotting that it stands in for.
    client_time : ISO 8601 by the device's clock; told, never used to order anything.
    """

    id: UUID
    event: UUID
    device: str
    device_seq: int
    kind: JottingKind
    payload: Mapping[str, Any] = field(repr=False)
    supersedes: UUID | None = None
    schema_version: int = NEWEST_SCHEMA
    client_time: str = ""

    def __post_init__(self) -> None:
        require_text("device", self.device, 1, LONGEST_DEVICE)
        require_within("device_seq", self.device_seq, 1, 2**53, "(counted from 1)")
        require_within("schema_version", self.schema_version, 1, NEWEST_SCHEMA, "")
        require_text("client_time", self.client_time, 0, LONGEST_TIME)
        require(self.supersedes != self.id, "supersedes", str(self.id), "another jotting")
        require(
            self.kind is not JottingKind.VOID or self.supersedes is not None,
            "supersedes",
            None,
            "what is taken back",
        )
        size = len(canonical_json(self.payload).encode())
        require_within("payload", size, 2, LARGEST_PAYLOAD_BYTES, "bytes")

    @property
    def digest(self) -> str:
        """SHA-256 of everything in it: two jottings of one id are the same if it is."""
        content = {
            "id": str(self.id),
            "event": str(self.event),
            "device": self.device,
            "device_seq": self.device_seq,
            "kind": self.kind.value,
            "payload": self.payload,
            "supersedes": self.supersedes and str(self.supersedes),
            "schema_version": self.schema_version,
            "client_time": self.client_time,
        }
        return hashlib.sha256(canonical_json(content).encode()).hexdigest()


def canonical_json(value: Any) -> str:
    """JSON with sorted keys and no spaces; whole floats as integers, since JavaScript knows one
    kind of number. Raises InvalidValueError for what JSON cannot say."""
    try:
        text = json.dumps(
            _plain(value),
            sort_keys=True,
            separators=(",", ":"),
            ensure_ascii=False,
            allow_nan=False,
        )
        text.encode()
    except (TypeError, ValueError, RecursionError) as error:
        allowed = "objects, arrays, text, finite numbers, booleans and null"
        raise InvalidValueError("JSON", str(error), allowed) from error
    return text


def _plain(value: Any) -> Any:
    if isinstance(value, str | int | None):
        return value
    if isinstance(value, float):
        return int(value) if value.is_integer() else value
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    if isinstance(value, Mapping):
        return {str(key): _plain(item) for key, item in value.items()}
    return value


class Answer(StrEnum):
    """What became of a jotting that was sent."""

    STORED = "stored"
    DUPLICATE = "duplicate"
    """It was here already, the same."""
    CONFLICT = "conflict"
    """Another one of this id is here; that one stays."""
    REFUSED = "refused"
    """It is none; the device keeps it and shows it."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A jotting in the store. `seq` counts an event's jottings as they came in, without gaps."""

    seq: int
    jotting: Jotting


@dataclass(frozen=True, slots=True)
class Receipt:
    """The answer to one jotting: `seq` of the one kept under its id, `why` of a refusal."""

    id: UUID
    answer: Answer
    seq: int | None = None
    why: str = ""
