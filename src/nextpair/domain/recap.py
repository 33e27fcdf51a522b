"""What of an event may be shown to anybody: scores, lanes, bag, and what was learned.

There is no place here for what a bowler takes care of, for private notes, or for other people's
names; and none for money but the one that is filled where its owner asks for it.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from nextpair.domain.errors import require, require_within
from nextpair.domain.field_score import HIGHEST
from nextpair.domain.sheet import PatternCard

Day = date
FilmRows = tuple[tuple[float, ...], ...]


@dataclass(frozen=True, slots=True)
class RecapGame:
    """One game as it was bowled.

    field_pins : what everybody known averaged in it; None where too few are.
    ball : that most of its first balls were bowled with, empty where nobody wrote it down.
    target_board : the middle of where those crossed the arrows, from the right edge.
    """

    game: int
    pair: str
    score: int
    handicap: int = 0
    field_pins: float | None = None
    ball: str = ""
    target_board: float | None = None

    def __post_init__(self) -> None:
        require_within("score", self.score, 0, HIGHEST, "pins")
        require_within("handicap", self.handicap, 0, HIGHEST, "pins")


@dataclass(frozen=True, slots=True)
class RecapCounts:
    """Strikes of full racks, spares of those tried, frames left open, and the longest row of
    strikes, over the games whose frames are known."""

    games: int
    strikes: int
    racks: int
    spares: int
    spares_tried: int
    opens: int
    longest_string: int


@dataclass(frozen=True, slots=True)
class RecapBall:
    """A ball of the bag and what it was for.

    surface : "2000", "polished" or "1000 by hand". thrown : balls in each game of the recap.
    purpose : why the plan took it, empty where no plan says.
    """

    ball: str
    cover: str
    surface: str
    thrown: tuple[int, ...]
    first_balls: int = 0
    strikes: int = 0
    spares: int = 0
    spares_tried: int = 0
    purpose: str = ""


@dataclass(frozen=True, slots=True)
class RecapPattern:
    """What lay on the lanes before anybody bowled: `lanes` is "all", "left" or "right"."""

    lanes: str
    pattern: PatternCard
    film_units: FilmRows


@dataclass(frozen=True, slots=True)
class RecapMoney:
    """What the event cost and brought, shown where its owner asks for it; `won` and `result` are
    None until it is over."""

    currency: str
    cost: Decimal
    won: Decimal | None
    result: Decimal | None


@dataclass(frozen=True, slots=True)
class Recap:
    """One event to be shown to anybody.

    place, field : place by pins a game among so many who have bowled; None where nobody else is
        known.
    learned : what was learned, in the words of the lessons that may be shared.
    """

    event: str
    date: Day
    bowler: str
    hand: str
    house: str
    surface: str
    pinfall: str
    games_of_event: int
    games: tuple[RecapGame, ...]
    place: int | None
    field: int
    counts: RecapCounts | None
    bag: tuple[RecapBall, ...]
    patterns: tuple[RecapPattern, ...]
    learned: tuple[str, ...]
    money: RecapMoney | None = None

    def __post_init__(self) -> None:
        require(bool(self.games), "games", "none", f"a game that {self.bowler} has finished")

    @property
    def total_pins(self) -> int:
        """Pins of all games, as the board showed them."""
        return sum(game.score for game in self.games)

    @property
    def handicap_pins(self) -> int:
        """Pins that were added to them."""
        return sum(game.handicap for game in self.games)

    @property
    def average_pins(self) -> float:
        """Pins a game."""
        return self.total_pins / len(self.games)

    @property
    def high_game(self) -> RecapGame:
        """The highest game, the first of several."""
        return max(self.games, key=lambda game: game.score)
