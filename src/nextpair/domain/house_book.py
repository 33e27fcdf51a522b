"""What a house taught, visit by visit: added to, never rewritten."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from uuid import UUID

from nextpair.domain.errors import require, require_text, require_within
from nextpair.domain.unknowns import unknown_of

LONGEST_NOTE = 600


@dataclass(frozen=True, slots=True)
class Learned:
    """What the shots of one event said of an unknown: believed before and after, in the unit of
    its name (`domain.unknowns`). What a lane has for itself has the lane's number in its name."""

    name: str
    before_mean: float
    before_sd: float
    mean: float
    sd: float

    def __post_init__(self) -> None:
        unknown_of(self.name)
        require(self.before_sd > 0, "before_sd", self.before_sd, "above 0")
        require(self.sd > 0, "sd", self.sd, "above 0")


@dataclass(frozen=True, slots=True)
class Visit:
    """One visit to a house.

    id : of what was written down first; a correction keeps it. event_id : of an event that is
    kept. pattern, length_ft, volume_ml : what lay on the lanes, where that is known.
    games, pins : bowled there and scored in them. played, changed : where and with what, and how
    that went on. lanes : notes on single lanes. learned : what the event's read said of the house,
    drawn about what its file had then (`friction` was the house's factor, `lane_friction` those
    that lanes had on top of it). private : not shared.
    """

    id: UUID
    date: date
    event: str = ""
    event_id: UUID | None = None
    pattern: str = ""
    length_ft: float | None = None
    volume_ml: float | None = None
    games: int = 0
    pins: int = 0
    played: str = ""
    changed: str = ""
    notes: str = ""
    lanes: tuple[tuple[int, str], ...] = ()
    learned: tuple[Learned, ...] = ()
    friction: float = 1.0
    private: bool = False
    lane_friction: tuple[tuple[int, float], ...] = ()

    def __post_init__(self) -> None:
        require_within("games", self.games, 0, 99, "games")
        require_within("pins", self.pins, 0, 300 * self.games, "pins")
        for name in ("event", "pattern", "played", "changed", "notes"):
            require_text(name, getattr(self, name), 0, LONGEST_NOTE)
        for lane, words in self.lanes:
            require_within("lane", lane, 1, 200, "lanes")
            require_text("lane notes", words, 1, LONGEST_NOTE)
        for _, friction in (*self.lane_friction, (0, self.friction)):
            require_within("friction", friction, 0.5, 1.5, "")

    def friction_of(self, lane: int | None) -> float:
        """Factor in the house's file then: of the house, or a lane's own on top of it."""
        return self.friction if lane is None else dict(self.lane_friction).get(lane, 1.0)


@dataclass(frozen=True, slots=True)
class FrictionSaid:
    """What one visit showed of a friction: its factor and the interval that holds it four times in
    five."""

    date: date
    event: str
    factor: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class LearnedFriction:
    """A factor on dry friction as the visits together have it, and the interval that holds it four
    times in five.

    lane : whose own factor it is, on top of the house's; None of the house. stands : what its file
    has. said : what each visit showed that told anything, oldest first.
    """

    lane: int | None
    stands: float
    factor: float
    low: float
    high: float
    said: tuple[FrictionSaid, ...]


@dataclass(frozen=True, slots=True)
class HouseFriction:
    """What visits taught of a house's friction, and of lanes that several of them told of."""

    house: LearnedFriction
    lanes: tuple[LearnedFriction, ...] = ()

    @property
    def is_learned(self) -> bool:
        """Whether any visit told anything."""
        return bool(self.house.said or self.lanes)
