"""An event: games, rules, house, pattern, the squad, and the bowler with their locker."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from functools import cached_property

from nextpair.domain import typical
from nextpair.domain.ball import Ball, Cover, Role
from nextpair.domain.bowler import Bowler, Hand, Release, Style, require_deliverable
from nextpair.domain.errors import require, require_within
from nextpair.domain.format import SCORES_ALONE, Format
from nextpair.domain.house import House
from nextpair.domain.money import Money
from nextpair.domain.pattern import Pattern

Day = date
SPARE_BALLS = 1
"""Balls brought for spares alone, where nobody says otherwise. Common practice."""


class SurfaceChanges(StrEnum):
    """When the rules let a cover be sanded or polished."""

    BEFORE = "before"
    ANY = "any"
    NONE = "none"


@dataclass(frozen=True, slots=True, order=True)
class Pair:
    """Two neighbouring lanes, bowled on alternately: an odd lane and the next one up."""

    left_lane: int

    def __post_init__(self) -> None:
        require(
            self.left_lane >= 1 and self.left_lane % 2 == 1,
            "pair",
            f"{self.left_lane}-{self.left_lane + 1}",
            "an odd lane and the next even one, such as 13-14",
        )

    @property
    def lanes(self) -> tuple[int, int]:
        """Both lane numbers, left lane first."""
        return self.left_lane, self.left_lane + 1

    def __str__(self) -> str:
        return f"{self.left_lane}-{self.left_lane + 1}"


@dataclass(frozen=True, slots=True)
class Entrant:
    """One row of a squad sheet; None is what nobody wrote down."""

    pair: Pair
    name: str
    hand: Hand | None
    style: Style | None
    rev_rate_radps: float | None
    speed_mps: float | None
    cover: Cover | None

    def __post_init__(self) -> None:
        require(bool(self.name.strip()), "name", self.name, "a name")
        require_deliverable(self.speed_mps, self.rev_rate_radps)

    @property
    def likely_hand(self) -> Hand:
        """The hand, or else the usual one."""
        return self.hand or typical.HAND

    @property
    def likely_style(self) -> Style:
        """The style, or else the usual one."""
        return self.style or typical.STYLE

    @property
    def likely_cover(self) -> Cover:
        """The cover mostly used, or else the usual one."""
        return self.cover or typical.SQUAD_COVER

    @property
    def likely_release(self) -> Release:
        """A middle release of the style, with the speed and rev rate that are known."""
        usual = typical.release_of(self.likely_style)
        return replace(
            usual,
            speed_mps=usual.speed_mps if self.speed_mps is None else self.speed_mps,
            rev_rate_radps=(
                usual.rev_rate_radps if self.rev_rate_radps is None else self.rev_rate_radps
            ),
        )


@dataclass(frozen=True)
class Block:
    """Games that a squad bowls in one go: practice on everybody's first pair, then the games, with
    the same move over the squad's pairs after each."""

    entrants: tuple[Entrant, ...]
    games: int
    practice_s: float
    move_pairs: int

    def __post_init__(self) -> None:
        require_within("games", self.games, 1, 24, "games")
        require_within("practice_minutes", self.practice_s / 60, 0, 120, "minutes")
        require_within("move_pairs", self.move_pairs, -50, 50, "pairs")

    @cached_property
    def pairs(self) -> tuple[Pair, ...]:
        """Pairs that are used, lowest lane first."""
        return tuple(sorted({entrant.pair for entrant in self.entrants}))

    def pair_in_game(self, start: Pair, game: int) -> Pair:
        """Pair on which somebody who starts on `start` bowls game `game` (1 is the first)."""
        pairs = self.pairs
        return pairs[(pairs.index(start) + self.move_pairs * (game - 1)) % len(pairs)]

    def entrants_on(self, pair: Pair, game: int) -> tuple[Entrant, ...]:
        """Entrants on a pair in a game, in the squad's order; game 0 is practice.

        Raises InvalidValueError for a game that is not bowled.
        """
        require_within("game", game, 0, self.games, "(0 is practice)")
        if pair not in self.pairs:
            return ()
        return self._starting_on[self.pair_in_game(pair, 2 - max(game, 1))]

    @cached_property
    def _starting_on(self) -> dict[Pair, tuple[Entrant, ...]]:
        """Entrants by the pair on which they start, in the squad's order."""
        return {
            pair: tuple(entrant for entrant in self.entrants if entrant.pair == pair)
            for pair in self.pairs
        }


@dataclass(frozen=True, slots=True)
class DressedLane:
    """One lane of a house as dressed, before anybody bowls on it."""

    number: int
    house: House
    pattern: Pattern


@dataclass(frozen=True)
class Event:
    """Everything a sheet is computed from.

    `earlier` are the blocks that other squads bowled on the same dressing before this squad
    practises, first one first. `guessed` names values nobody gave.
    """

    name: str
    date: date
    games: int
    practice_s: float
    ball_limit: int | None
    surface_changes: SurfaceChanges
    house: House
    left_pattern: Pattern
    right_pattern: Pattern
    bowler: Bowler
    locker: tuple[Ball, ...]
    squad: tuple[Entrant, ...]
    bowler_name: str
    move_pairs: int
    money: Money
    spare_balls: int = SPARE_BALLS
    guessed: tuple[str, ...] = ()
    earlier: tuple[Block, ...] = ()
    format: Format = SCORES_ALONE
    entry_deadline: Day | None = None

    def __post_init__(self) -> None:
        require(bool(self.name.strip()), "name", self.name, "a name")
        used = {pair for block in (*self.earlier, self.block) for pair in block.pairs}
        if self.entry_deadline is not None:
            by = f"{self.date.isoformat()}, the event's own day, or earlier"
            require(self.entry_deadline <= self.date, "entry_deadline", self.entry_deadline, by)
        if self.ball_limit is not None:
            require_within("ball_limit", self.ball_limit, 1, 50, "balls")
        require_within("spare_balls", self.spare_balls, 0, 5, "balls")
        names = [ball.name for ball in self.locker]
        require(len(names) == len(set(names)), "locker", names, "each ball name once")
        require(
            any(ball.role is Role.STRIKE for ball in self.locker),
            "locker",
            names,
            "at least one ball with role strike",
        )
        require(
            sum(entrant.name == self.bowler_name for entrant in self.squad) == 1,
            "bowler_name",
            self.bowler_name,
            "the name of exactly one row of the squad",
        )
        if self.format.stages:
            cut, entrants = self.money.cut_to, self.format.stages[0].entrants
            as_cut = f"{cut}, as money.cut_to says"
            require(cut in (None, entrants), "stage 1: entrants", entrants, as_cut)
        for pair in sorted(used):
            require(
                pair.lanes[1] <= self.house.lanes,
                "pair",
                str(pair),
                f"lanes of the house, 1 to {self.house.lanes}",
            )

    @cached_property
    def block(self) -> Block:
        """The squad's own games."""
        return Block(self.squad, self.games, self.practice_s, self.move_pairs)

    @property
    def cut_to(self) -> int | None:
        """How many go on after the games that everybody bowls; None where nobody does."""
        stages = self.format.stages
        return stages[0].entrants if stages else self.money.cut_to

    @property
    def pairs(self) -> tuple[Pair, ...]:
        """Pairs the squad uses, lowest lane first."""
        return self.block.pairs

    @property
    def start_pair(self) -> Pair:
        """Where the bowler's first game is."""
        return next(e.pair for e in self.squad if e.name == self.bowler_name)

    def pair_in_game(self, start: Pair, game: int) -> Pair:
        """Pair on which somebody who starts on `start` bowls game `game` (1 is the first)."""
        return self.block.pair_in_game(start, game)

    def pattern_of(self, lane: int) -> Pattern:
        """Pattern on a lane: a pair's left lane and right lane may carry different ones."""
        return self.left_pattern if lane % 2 == 1 else self.right_pattern

    def lane(self, number: int) -> DressedLane:
        """One lane of the house as it is dressed for this event."""
        require_within("lane", number, 1, self.house.lanes, "(lanes of this house)")
        return DressedLane(number, self.house, self.pattern_of(number))
