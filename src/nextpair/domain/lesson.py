"""What an event taught, and what is to be done otherwise next time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from nextpair.domain.ball import Grit
from nextpair.domain.errors import require, require_text, require_within

Day = date
LONGEST_WORDS = 400


class ChangeKind(StrEnum):
    """What a lesson changes."""

    DRILL = "drill"
    SURFACE = "surface"
    BALL = "ball"
    RELEASE = "release"
    MOVES = "moves"
    PRACTICE = "practice"
    HOUSE_NOTE = "house note"
    PATTERN_NOTE = "pattern note"
    PACKING = "packing"


@dataclass(frozen=True, slots=True)
class Change:
    """One thing to do otherwise.

    ball, surface_grit : of a ball or its surface. house, lane : whom a note is about, by name and
    number. pattern, length_ft : the pattern's name and length. item, many : what is to be packed.
    """

    kind: ChangeKind
    words: str
    ball: str | None = None
    surface_grit: Grit | None = None
    house: str | None = None
    lane: int | None = None
    pattern: str | None = None
    item: str | None = None
    many: int = 1
    length_ft: float | None = None

    def __post_init__(self) -> None:
        require_text("words", self.words, 1, LONGEST_WORDS)
        require_within("many", self.many, 1, 99, "")
        packs = self.kind is ChangeKind.PACKING
        require(packs == (self.item is not None), "item", self.item, "a thing, of packing alone")


@dataclass(frozen=True, slots=True)
class Lesson:
    """A finding of a debrief that its bowler accepted or dropped.

    key : the same for the same finding of the same event. event, date : which one taught it.
    done : put to rest, so that no sheet shows it any more.
    """

    key: str
    words: str
    change: Change
    event: str
    date: Day
    accepted: bool
    done: bool = False

    def __post_init__(self) -> None:
        require(bool(self.key.strip()), "key", self.key, "a name of the finding")
        require_text("words", self.words, 1, LONGEST_WORDS)
        require(bool(self.event.strip()), "event", self.event, "a name")
