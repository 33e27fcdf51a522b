"""How an event is decided: what a game counts, what is added to it, and who goes on to what."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nextpair.domain.errors import require, require_within
from nextpair.domain.field_score import HIGHEST, MOST_GAMES

MOST_ENTRANTS = 1024
MOST_IN_ROUND_ROBIN = 64
"""Of whom everybody meets everybody: 63 matches."""


class Counting(StrEnum):
    """How pins become a score."""

    TRADITIONAL = "traditional"
    CURRENT_FRAME = "current-frame"


class Rounding(StrEnum):
    """What becomes of the fraction of a handicap."""

    DOWN = "down"
    HALF_UP = "half-up"


@dataclass(frozen=True, slots=True)
class HandicapRule:
    """A share of what an average lacks to a base, a game; capped at `most` pins, if it is."""

    base: int
    percent: int
    rounding: Rounding = Rounding.DOWN
    most: int | None = None

    def __post_init__(self) -> None:
        require_within("base", self.base, 0, HIGHEST, "pins")
        require_within("percent", self.percent, 0, 200, "%")
        if self.most is not None:
            require_within("most", self.most, 0, HIGHEST, "pins")


class StageKind(StrEnum):
    """What those who made the cut bowl."""

    BLOCK = "block"
    ROUND_ROBIN = "round-robin"
    SINGLE_ELIMINATION = "single-elimination"
    DOUBLE_ELIMINATION = "double-elimination"
    STEP_LADDER = "step-ladder"


class PinsTaken(StrEnum):
    """What becomes of the pins bowled before a stage."""

    CARRIED = "carried"
    RESET = "reset"


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage after the games that everybody bowls.

    entrants : how many go in, the best of the stage before.
    games : of a block; otherwise of each match, whose pins are added up.
    win_bonus_pins, tie_bonus_pins : of a round robin's match.
    """

    kind: StageKind
    entrants: int
    games: int = 1
    pins: PinsTaken = PinsTaken.RESET
    win_bonus_pins: int = 30
    tie_bonus_pins: int = 15

    def __post_init__(self) -> None:
        most = MOST_IN_ROUND_ROBIN if self.kind is StageKind.ROUND_ROBIN else MOST_ENTRANTS
        require_within("entrants", self.entrants, 2, most, "entrants")
        require_within("games", self.games, 1, MOST_GAMES, "games")
        for name in ("win_bonus_pins", "tie_bonus_pins"):
            require_within(name, getattr(self, name), 0, HIGHEST, "pins")


@dataclass(frozen=True, slots=True)
class Format:
    """How an event is decided. Without stages it ends with the games that everybody bowls."""

    counting: Counting = Counting.TRADITIONAL
    handicap: HandicapRule | None = None
    stages: tuple[Stage, ...] = ()

    def __post_init__(self) -> None:
        sizes = [stage.entrants for stage in self.stages]
        require(
            sizes == sorted(sizes, reverse=True),
            "stage.entrants",
            sizes,
            "no more in a stage than in the one before",
        )


SCORES_ALONE = Format()
"""All pins of the games that everybody bowls, and nothing after them."""
