"""Who bowls on which pair when, and how many shots a pair has taken before the bowler comes.

Everybody of a squad moves the same number of pairs after every game, so each game's group on a
pair is the one that started so many pairs away. Practice is on the pair of the first game: on
every later pair the shots of practice are the shots of others. Squads that bowled before on the
same dressing come first, one after the other.

Shots are first balls, thrown at ten pins on both lanes of the pair; spares are left out. Games
count in full, fill balls not. Shots of the game itself count from its end.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from nextpair.domain.bowler import Hand
from nextpair.domain.errors import require_within
from nextpair.domain.event import Block, Entrant, Event, Pair

FRAMES_PER_LANE = 5
"""Frames each bowler has on each lane of a pair in a game. Source: [facts] section 7."""
LANES_PER_PAIR = 2
SECONDS_A_SHOT = 22.0
"""Time from one practice shot on a lane to the next. Source: assumption."""


@dataclass(frozen=True, slots=True)
class Session:
    """A group on a pair, in practice (game 0) or in a game, and the shots each of them has on the
    pair's left and right lane. `block` counts the blocks on this dressing, from 0."""

    block: int
    game: int
    entrants: tuple[Entrant, ...]
    shots_each: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Visit:
    """One game of the bowler: the pair, and who was on it before, in order."""

    game: int
    pair: Pair
    earlier: tuple[Session, ...]


@dataclass(frozen=True, slots=True)
class ShotsBefore:
    """Shots on a pair before a game: by people of the bowler's hand, of the other hand, and of a
    hand that nobody wrote down; and how many of them all squads before the bowler's threw."""

    own_side: int
    other_side: int
    unknown_side: int
    earlier_squads: int


def sessions_on(event: Event, pair: Pair, last_game: int) -> tuple[Session, ...]:
    """Everybody on a pair in order: the squads before the bowler's, then the bowler's own squad in
    practice and up to the end of a game."""
    blocks = (*event.earlier, event.block)
    return tuple(
        session
        for number, block in enumerate(blocks)
        for session in _sessions(number, block, pair, last_game if block is blocks[-1] else None)
    )


def _sessions(number: int, block: Block, pair: Pair, last_game: int | None) -> Iterator[Session]:
    for game in range(1 + (block.games if last_game is None else last_game)):
        group = block.entrants_on(pair, game)
        shots = FRAMES_PER_LANE, FRAMES_PER_LANE
        if game == 0:
            both = practice_shots_per_bowler(block, pair)
            shots = (both + 1) // 2, both // 2
        yield Session(number, game, group, shots)


def practice_shots_per_bowler(block: Block, pair: Pair) -> int:
    """Shots each bowler gets in practice, on both lanes of their first pair together.

    A lane takes one shot at a time, and nobody throws on both lanes at once.
    """
    bowlers = len(block.entrants_on(pair, 0))
    lanes_each = min(1.0, LANES_PER_PAIR / bowlers) if bowlers else 0.0
    return int(block.practice_s / SECONDS_A_SHOT * lanes_each)


def visits(event: Event) -> tuple[Visit, ...]:
    """The bowler's games in order, each with the sessions that came before it on its pair."""
    pairs = [event.pair_in_game(event.start_pair, game) for game in range(1, event.games + 1)]
    return tuple(
        Visit(game, pair, sessions_on(event, pair, game - 1))
        for game, pair in enumerate(pairs, start=1)
    )


def last_games(event: Event) -> dict[Pair, int]:
    """The bowler's pairs in the order in which they are met, each with the last game on it."""
    return {visit.pair: visit.game for visit in visits(event)}


def shots_before(event: Event, game: int) -> ShotsBefore:
    """Shots on the bowler's pair before a game begins; the bowler's own ones there count too."""
    require_within("game", game, 1, event.games, "games")
    visit = visits(event)[game - 1]
    thrown: Counter[Hand | None] = Counter()
    earlier_squads = 0
    for session in visit.earlier:
        shots = sum(session.shots_each)
        for entrant in session.entrants:
            thrown[entrant.hand] += shots
        if session.block < len(event.earlier):
            earlier_squads += shots * len(session.entrants)
    own, unknown = thrown[event.bowler.hand], thrown[None]
    return ShotsBefore(own, thrown.total() - own - unknown, unknown, earlier_squads)
