"""What a bowler keeps from event to event: houses, patterns, balls, squads, events.

A record's document has the keys and units of the contract's file of its kind
(docs/guide/files.md), with the id of another record where a file would name its neighbour.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from typing import Any
from uuid import UUID

from nextpair.domain.errors import require, require_text
from nextpair.domain.jotting import canonical_json

LONGEST_NAME = 200

Document = Mapping[str, Any]
"""JSON: objects, arrays, text, numbers, booleans and null."""


class Kind(StrEnum):
    """What a record is of."""

    HOUSE = "house"
    PATTERN = "pattern"
    BOWLER = "bowler"
    BALL = "ball"
    SQUAD = "squad"
    EVENT = "event"
    KIT = "kit"
    """What is packed for every event, and what of it is used up."""
    GOAL = "goal"
    """What a bowler wants to reach."""


@dataclass(frozen=True, slots=True)
class Draft:
    """A record about to be saved. `links` are the records it needs: none of them can be deleted
    while this one is kept."""

    id: UUID
    kind: Kind
    name: str
    document: Document = field(repr=False)
    links: frozenset[UUID] = frozenset()

    def __post_init__(self) -> None:
        require(bool(self.name.strip()), "name", self.name, "a name")
        require_text("name", self.name, 1, LONGEST_NAME)
        require(self.id not in self.links, "links", str(self.id), "other records")
        canonical_json(self.document)

    @property
    def digest(self) -> str:
        """SHA-256 of what it says: two versions of a record are the same if it is."""
        return _digest(self)


@dataclass(frozen=True, slots=True)
class Record:
    """One record as it is kept. `revision` counts its versions from 1, and earlier ones are kept
    too; to delete it and to take it back make a version each."""

    id: UUID
    kind: Kind
    name: str
    document: Document = field(repr=False)
    links: frozenset[UUID]
    revision: int
    saved_at: datetime
    deleted: bool = False

    @property
    def digest(self) -> str:
        """SHA-256 of what it says, as of a draft."""
        return _digest(self)


def _digest(one: Draft | Record) -> str:
    links = sorted(str(link) for link in one.links)
    content = [one.kind.value, one.name, one.document, links]
    return hashlib.sha256(canonical_json(content).encode()).hexdigest()
