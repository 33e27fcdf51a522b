"""A game that somebody in the field bowled."""

from __future__ import annotations

from dataclasses import dataclass

from nextpair.domain.bowler import Hand
from nextpair.domain.errors import require, require_within

MOST_GAMES = 24
HIGHEST = 300
"""Of a game's score, and of what is added to it."""


@dataclass(frozen=True, slots=True)
class FieldScore:
    """The score of one game, and the handicap that is added to it.

    Further facts are empty, or None, where nobody wrote them down: `squad`, `hand`, the `pair`
    that the game was bowled on, the `average` that somebody entered with, and `balls`, the game
    as it stands on a score sheet.
    """

    name: str
    game: int
    score: int
    handicap: int = 0
    squad: str = ""
    hand: Hand | None = None
    pair: str = ""
    average: int | None = None
    balls: str = ""

    def __post_init__(self) -> None:
        require(bool(self.name.strip()), "name", self.name, "a name")
        require_within("game", self.game, 1, MOST_GAMES, "games")
        require_within("score", self.score, 0, HIGHEST, "pins")
        require_within("handicap", self.handicap, 0, HIGHEST, "pins")
        if self.average is not None:
            require_within("average", self.average, 0, HIGHEST, "pins")

    @property
    def total(self) -> int:
        """Score and handicap."""
        return self.score + self.handicap
