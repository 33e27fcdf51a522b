"""What an event that was bowled shows of the pattern it was bowled on.

Documents for people and programs outside, as docs/guide/json.md lists them. Boards count from the
right edge for both hands.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from uuid import UUID

from nextpair.domain.bowler import Hand
from nextpair.domain.house import LaneSurface
from nextpair.domain.statistics import Share

Day = date


@dataclass(frozen=True, slots=True)
class BallThrown:
    """A ball at full racks, and how many of them it struck."""

    ball: str
    strikes: Share


@dataclass(frozen=True, slots=True)
class LinePlayed:
    """A ball on a line, the middle of its lay-downs and targets, and how many racks it struck."""

    ball: str
    laydown_board: float
    target_board: float
    strikes: Share


@dataclass(frozen=True, slots=True)
class Outing:
    """One bowler at one event, or one visit to a house.

    event_id : None of a visit without a kept event. is_own : whether the account's own bowler it
    was. patterns : keys of what lay on the lanes, one, or those of left and right lanes.
    length_ft, volume_ml : of what lay there, a mean of two. field_pins : how much more a game than
    the mean of others in the same game, and by how many `others`; None where too few were known.
    balls, lines : most thrown first; none where no shot was logged.
    """

    event: str
    event_id: UUID | None
    date: Day
    bowler: str
    hand: Hand
    is_own: bool
    house: str
    surface: LaneSurface
    patterns: tuple[str, ...]
    length_ft: float
    volume_ml: float
    games: int
    mean_pins: float | None
    field_pins: float | None
    others: int
    balls: tuple[BallThrown, ...] = ()
    lines: tuple[LinePlayed, ...] = ()
