"""What to take to an event: a list of things, how many of each, and why."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from nextpair.domain.errors import require, require_within

MISSING_LAST_TIME = "missing last time"
"""The rule, and the heading, of what was not there when it was needed."""


class PackGroup(StrEnum):
    """Where a thing belongs in the bag, and on the list."""

    BALLS = "balls"
    COVERS = "covers"
    GRIP = "grip"
    BODY = "body"
    FEET = "feet"
    TABLE = "at the table"
    PAPERS = "papers"
    FOOD = "food"
    TRAVEL = "travel"


@dataclass(frozen=True, slots=True)
class PackItem:
    """One thing on the list.

    rule : which rule put it there, or "kit", "lesson" or "missing last time".
    private : of what the bowler takes care of: never on the phone, in an export or for others.
    """

    item: str
    many: int
    why: str
    group: PackGroup
    rule: str = ""
    private: bool = False

    def __post_init__(self) -> None:
        require(bool(self.item.strip()), "item", self.item, "a name")
        require(bool(self.why.strip()), "why", self.why, "a reason")
        require_within("many", self.many, 1, 99, "")


@dataclass(frozen=True, slots=True)
class Missed:
    """A thing that was not there when it was needed, and at which events."""

    item: str
    events: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Reorder:
    """A stock that runs low: what there is, what the event takes, what is left then."""

    item: str
    have: float
    takes: float
    left: float
    unit: str
    words: str


@dataclass(frozen=True, slots=True)
class CaseWeight:
    """A piece of luggage with balls: what it weighs against what is allowed."""

    balls: tuple[str, ...]
    weight_lb: float
    limit_lb: float

    @property
    def is_over(self) -> bool:
        """Whether it is too heavy."""
        return self.over_lb > 0

    @property
    def over_lb(self) -> float:
        """By how much it is too heavy; 0 where it is not."""
        return max(self.weight_lb - self.limit_lb, 0.0)


@dataclass(frozen=True, slots=True)
class PackingList:
    """The list of one event, what must be bought, and what the luggage weighs.

    hours : from practice to the last ball. missing : items that were missing at earlier events,
    most often first; they stand first on the list.
    """

    event: str
    hours: float
    items: tuple[PackItem, ...]
    missing: tuple[str, ...] = ()
    reorders: tuple[Reorder, ...] = ()
    cases: tuple[CaseWeight, ...] = ()
    cautions: tuple[str, ...] = ()

    @property
    def sections(self) -> tuple[tuple[str, tuple[PackItem, ...]], ...]:
        """The items under headings: what was missing, then group by group."""
        first = tuple(item for item in self.items if item.item in self.missing)
        rest = [item for item in self.items if item.item not in self.missing]
        told = [(MISSING_LAST_TIME, first)] if first else []
        for group in PackGroup:
            same = tuple(item for item in rest if item.group is group)
            told += [(group.value, same)] if same else []
        return tuple(told)

    @property
    def for_others(self) -> PackingList:
        """The list without what is private: what a phone carries and others may see."""
        items = tuple(item for item in self.items if not item.private)
        told = {item.item for item in items}
        missing = tuple(item for item in self.missing if item in told)
        return replace(self, items=items, missing=missing)
