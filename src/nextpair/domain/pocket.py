"""The pocket: everything of one event that a phone carries to the lanes, where no network is.

Nothing of money and nothing of what a bowler watches on the own body is in it: no field here could
hold either.
"""

from __future__ import annotations

from dataclasses import dataclass
from dataclasses import field as column
from uuid import UUID

from nextpair.domain.ball import Grit
from nextpair.domain.bowler import Hand
from nextpair.domain.errors import require
from nextpair.domain.format import SCORES_ALONE, Format
from nextpair.domain.lane_tables import LaneTables
from nextpair.domain.packing import PackingList
from nextpair.domain.sheet import Sheet
from nextpair.domain.spare import SpareSheet


@dataclass(frozen=True, slots=True)
class PocketBall:
    """One ball of the locker: in the bag with the surface that the sheet puts on it, else as it
    is."""

    ball: str
    surface_grit: Grit
    role: str
    in_bag: bool


@dataclass(frozen=True, slots=True)
class PocketPair:
    """Where the bowler is in one game: left lane first."""

    game: int
    pair: str
    lanes: tuple[int, int]


@dataclass(frozen=True, slots=True)
class PocketEntrant:
    """Somebody of the squad, and the pair on which they start."""

    name: str
    pair: str
    hand: Hand | None


@dataclass(frozen=True, slots=True)
class PocketField:
    """What the phone must know to tell where the bowler stands.

    format : how the event is decided. cut_to : how many go on; None: nobody does.
    entries : of the whole event. places_paid : how many places win something, never how much.
    average : the bowler's, where it is known.
    """

    format: Format = SCORES_ALONE
    cut_to: int | None = None
    entries: int = 1
    places_paid: int = 0
    average: float | None = None
    squad: tuple[PocketEntrant, ...] = column(default=(), repr=False)


@dataclass(frozen=True)
class Pocket:
    """One event as the phone carries it.

    event_id : by which what is written down at the lanes finds its event again.
    made_at : ISO 8601.
    sheet, spares : as they were planned. alike : for leaves that nobody rolled at, the rolled one
        whose line is the next best answer.
    reading : tables by which the phone reads the lanes.
    """

    event_id: UUID
    made_at: str
    games: int
    practice_minutes: float
    surface_changes: str
    ball_limit: int | None
    pinfall: str
    pattern_names: tuple[str, ...]
    pairs: tuple[PocketPair, ...]
    balls: tuple[PocketBall, ...]
    sheet: Sheet
    spares: SpareSheet
    alike: tuple[tuple[str, str], ...] = column(repr=False)
    reading: LaneTables = column(repr=False)
    packing: PackingList
    field: PocketField = PocketField()

    def __post_init__(self) -> None:
        private = any(item.private for item in self.packing.items)
        require(not private, "packing", "a private line", "a list for others")
