"""A season: how figures went over events, by condition and by ball, what a cover has behind it,
what is due, and how far goals are.

Documents for people and programs outside, as docs/guide/json.md lists them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from nextpair.domain.ball import Cover, Grit
from nextpair.domain.goal import Goal
from nextpair.domain.standing import Interval

TREND_DAYS = 30
"""Over which the change of a trend is told."""


class Figure(StrEnum):
    """What is followed from event to event."""

    STRIKES = "strikes"
    SPARES = "spares"
    FIELD_RELATIVE = "field-relative"


@dataclass(frozen=True, slots=True)
class Point:
    """One event's value of a figure: a share, or standard deviations of the field. `weight` is how
    many tries or games it comes from, `luck` the variance that one of them has by itself."""

    date: date
    value: float
    weight: float
    luck: float
    event: str = ""


@dataclass(frozen=True, slots=True)
class Estimate:
    """A figure over some events; no interval where they are too few to have one. `by_luck_alone`
    says that events could not be told apart: the interval knows the luck of single balls only."""

    events: int
    mean: float
    interval_80: Interval | None
    by_luck_alone: bool = False


@dataclass(frozen=True, slots=True)
class Trend:
    """A figure over time. `change` is by how much it changes in 30 days; None, with what `words`
    say instead, where events are too few to tell. `line` is the straight line's value at the first
    and the last event."""

    figure: Figure
    points: tuple[Point, ...]
    all: Estimate | None
    change: float | None
    change_interval_80: Interval | None
    line: tuple[float, float] | None
    words: str


@dataclass(frozen=True, slots=True)
class SeasonGroup:
    """Events, or the racks of a ball, that have one thing in common: `kind` is "length",
    "surface", "house" or "ball". A figure is None where nothing is known of it."""

    kind: str
    name: str
    events: int
    games: float
    strikes: Estimate | None
    spares: Estimate | None
    field_relative: Estimate | None


class Advice(StrEnum):
    """What a cover asks for."""

    CLEAN = "clean it, no more"
    SOON = "resurface before the next event"
    RESURFACE = "resurface"
    RETIRE = "ask whether to retire it"


@dataclass(frozen=True, slots=True)
class Finish:
    """A finish that was put on, and games thrown on it; `on` is None where nobody wrote the day
    down."""

    surface_grit: Grit
    on: date | None
    games: float
    strikes: Estimate | None


@dataclass(frozen=True, slots=True)
class BallUse:
    """What a ball has behind it. The last of `finishes` is on it now. `limit_games` is after how
    many games on a finish it is to be made anew, None where that is not done; `by_own_records`
    says that the ball's own strikes told it, else it is common practice."""

    ball: str
    cover: Cover
    games: float
    finishes: tuple[Finish, ...]
    limit_games: float | None
    by_own_records: bool
    last_used: date | None
    advice: Advice
    words: tuple[str, ...]

    @property
    def games_on_cover(self) -> float:
        """Games on the finish that is on it now."""
        return self.finishes[-1].games


class Due(StrEnum):
    """What is due on a day, in the order in which it is done on one."""

    ENTRY = "entry"
    RESURFACING = "resurfacing"
    PACKING = "packing"
    EVENT = "event"


@dataclass(frozen=True, slots=True)
class Deadline:
    """Something that is due: `days_left` is below 0 once its day is past, as long as its event is
    still to come. `key` says which event."""

    due: Due
    day: date
    days_left: int
    event: str
    key: str
    words: str


@dataclass(frozen=True, slots=True)
class GoalProgress:
    """How far a goal is. `value` is as it stands; a share is told in percent, as its goal is.
    `chance` is that of reaching it by its last day with the events that are kept; None where that
    cannot be told."""

    goal: Goal
    events: int
    events_to_come: int
    value: float | None
    interval_80: Interval | None
    chance: float | None
    is_over: bool
    words: str


@dataclass(frozen=True, slots=True)
class Season:
    """Everything that kept events say together, on a day."""

    today: date
    events: int
    games: int
    trends: tuple[Trend, ...]
    groups: tuple[SeasonGroup, ...]
    balls: tuple[BallUse, ...]
    deadlines: tuple[Deadline, ...]
    goals: tuple[GoalProgress, ...]
    notes: tuple[str, ...]
    left_out: tuple[str, ...]
