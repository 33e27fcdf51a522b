"""What a bowler keeps from event to event: houses, patterns, balls, squads, events.

A record's document has the keys and units of the contract's file of its kind
(docs/guide/files.md), with the id of another record where a file would name its neighbour.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from typing import Any
from uuid import UUID

from nextpair.domain.errors import require

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
        require(self.id not in self.links, "links", str(self.id), "other records")


@dataclass(frozen=True, slots=True)
class Record:
    """One record as it is kept. `revision` counts its saves from 1; earlier ones are kept too."""

    id: UUID
    kind: Kind
    name: str
    document: Document = field(repr=False)
    links: frozenset[UUID]
    revision: int
    saved_at: datetime
    deleted: bool = False
