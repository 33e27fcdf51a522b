"""An event at a glance: where it is bowled, by whom, and what is still wrong with it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from nextpair.application.journal import standing
from nextpair.domain.errors import Problem
from nextpair.domain.event import Event
from nextpair.domain.jotting import JottingKind, Kept


@dataclass(frozen=True, slots=True)
class PairOfGame:
    """Where one game is bowled."""

    game: int
    pair: str
    lanes: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Logged:
    """How far an event's log goes, and how many shots stand in it."""

    seq: int
    shots: int


@dataclass(frozen=True, slots=True)
class Summary:
    """What is known of an event without computing; empty where its documents do not make one."""

    pairs: tuple[PairOfGame, ...] = ()
    squad_size: int = 0
    bowler: str = ""
    hand: str = ""
    house: str = ""
    patterns: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    guessed: tuple[str, ...] = ()


def summary_of(event: Event) -> Summary:
    """The summary of an event that is in order."""
    pairs = (
        (game, event.pair_in_game(event.start_pair, game)) for game in range(1, event.games + 1)
    )
    patterns = dict.fromkeys((event.left_pattern.name, event.right_pattern.name))
    return Summary(
        pairs=tuple(PairOfGame(game, str(pair), pair.lanes) for game, pair in pairs),
        squad_size=len(event.squad),
        bowler=event.bowler.name,
        hand=event.bowler.hand.value,
        house=event.house.name,
        patterns=tuple(patterns),
        guessed=event.guessed,
    )


def tells_more(log: Sequence[Kept], seq: int) -> bool:
    """Whether shots or scores came in, were corrected or taken back after a place in a log."""
    return _counting(log) != _counting([kept for kept in log if kept.seq <= seq])


def _counting(log: Sequence[Kept]) -> list[UUID]:
    counts = (JottingKind.SHOT, JottingKind.SCORE)
    return [jotting.id for _, jotting in standing(log) if jotting.kind in counts]


def logged(log: Sequence[Kept], standing_kinds: Sequence[JottingKind]) -> Logged:
    """A log in two numbers, given the kinds of what stands in it."""
    shots = sum(kind is JottingKind.SHOT for kind in standing_kinds)
    return Logged(log[-1].seq if log else 0, shots)
