"""Who bowls on which pair when, and how many shots a pair has taken before the bowler comes.

Everybody of a squad moves the same number of pairs after every game, so each game's group on a
pair is the one that started so many pairs away. Practice is on the pair of the first game: on
every later pair the shots of practice are the shots of others.

Shots are first balls, thrown at ten pins on both lanes of the pair; spares are left out. Games
count in full, fill balls not. Shots of the game itself count from its end.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from nextpair.domain.bowler import Hand
from nextpair.domain.errors import require, require_within
from nextpair.domain.event import Entrant, Event, Pair

FRAMES_PER_LANE = 5
"""Frames each bowler has on each lane of a pair in a game. Source: [facts] section 7."""
LANES_PER_PAIR = 2
SECONDS_A_SHOT = 22.0
"""Time from one practice shot on a lane to the next. Source: assumption."""


@dataclass(frozen=True, slots=True)
class Session:
    """A group on a pair: in practice (game 0) or in a game."""

    game: int
    entrants: tuple[Entrant, ...]


@dataclass(frozen=True, slots=True)
class Visit:
    """One game of the bowler: the pair, and who was on it before, practice first."""

    game: int
    pair: Pair
    earlier: tuple[Session, ...]


def entrants_on(event: Event, pair: Pair, game: int) -> tuple[Entrant, ...]:
    """Entrants on a pair in a game, in the squad's order; game 0 is practice.

    Raises InvalidValueError for a pair that the squad does not use or a game not played.
    """
    require(pair in event.pairs, "pair", str(pair), "a pair that the squad uses")
    require_within("game", game, 0, event.games, "(0 is practice)")
    played = max(game, 1)
    return tuple(
        entrant for entrant in event.squad if event.pair_in_game(entrant.pair, played) == pair
    )


def visits(event: Event) -> tuple[Visit, ...]:
    """The bowler's games in order, each with the sessions that came before it on its pair."""
    found = []
    for game in range(1, event.games + 1):
        pair = event.pair_in_game(event.start_pair, game)
        earlier = tuple(
            Session(before, entrants_on(event, pair, before)) for before in range(game)
        )
        found.append(Visit(game, pair, earlier))
    return tuple(found)


def last_games(event: Event) -> dict[Pair, int]:
    """The bowler's pairs in the order in which they are met, each with the last game on it."""
    return {event.pair_in_game(event.start_pair, game): game for game in range(1, event.games + 1)}


def practice_shots_per_bowler(event: Event, pair: Pair) -> int:
    """Shots each bowler gets in practice, on both lanes of their first pair together.

    A lane takes one shot at a time, and nobody throws on both lanes at once.
    """
    bowlers = len(entrants_on(event, pair, 0))
    lanes_each = min(1.0, LANES_PER_PAIR / bowlers) if bowlers else 0.0
    return int(event.practice_s / SECONDS_A_SHOT * lanes_each)


def shots_before(
    event: Event,
    game: int,
    frames_per_lane: int = FRAMES_PER_LANE,
    practice_shots: int | None = None,
) -> tuple[int, int]:
    """Shots on the bowler's pair before a game begins: from the bowler's side, from the other.

    Own side means thrown with the bowler's hand; the bowler's own shots there count too.
    `practice_shots` is what each bowler threw in practice, where it is known better than from
    the minutes.
    """
    require_within("game", game, 1, event.games, "games")
    visit = visits(event)[game - 1]
    if practice_shots is None:
        practice_shots = practice_shots_per_bowler(event, visit.pair)
    thrown: Counter[Hand] = Counter()
    for session in visit.earlier:
        shots = frames_per_lane * LANES_PER_PAIR if session.game else practice_shots
        for entrant in session.entrants:
            thrown[entrant.hand] += shots
    own = thrown[event.bowler.hand]
    return own, thrown.total() - own
