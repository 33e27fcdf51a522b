"""What to take to an event: a list of things, how many of each, and why."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nextpair.domain.errors import require, require_within


class PackGroup(StrEnum):
    """Where a thing belongs in the bag, and on the list."""

    BALLS = "balls"
    COVERS = "covers"
    GRIP = "grip"
    FEET = "feet"
    TABLE = "at the table"
    PAPERS = "papers"
    FOOD = "food"


@dataclass(frozen=True, slots=True)
class PackItem:
    """One thing on the list."""

    item: str
    many: int
    why: str
    group: PackGroup

    def __post_init__(self) -> None:
        require(bool(self.item.strip()), "item", self.item, "a name")
        require(bool(self.why.strip()), "why", self.why, "a reason")
        require_within("many", self.many, 1, 99, "")
