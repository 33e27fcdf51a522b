"""The proof: what following a plan is worth in simulated worlds, event by event.

Every contender bowls the same worlds with the same errors. What is counted are expected scores,
exact over the racks, so that differences are those of lines and balls and not of luck.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from nextpair.carry.table import CarryTable
from nextpair.domain.event import Event
from nextpair.planning.by_reading import Brought, ByReading, Eyes, Reader
from nextpair.planning.by_result import by_result
from nextpair.planning.contenders import (
    Contender,
    Prepared,
    bag_loss_pins,
    known_score,
    known_values,
    prepare,
    real_films,
    score_of,
)
from nextpair.planning.day import Day, Game, Lines, bowl_event, bowl_frames, day_of
from nextpair.planning.rotation import visits
from nextpair.planning.worlds import drawn_world
from nextpair.scoring.game_value import expected_score_of_frames, score_distribution_of_frames

MISREAD_SHARE = 0.1
"""Shots that are seen five boards wrong by who is misled."""


class PairKind(StrEnum):
    """Who bowled on a pair before, the bowler left out."""

    NOBODY = "nobody before"
    SAME = "same hand only"
    OTHER = "other hand only"
    MIXED = "both hands"


@dataclass(frozen=True, slots=True)
class GameRecord:
    """One game of one world.

    score : expected score by contender, as bowled.
    unmoved : the same on the planned lines, without any shot or move before or in the game.
    after_ten : on the lines for this game by what the first ten shots said; None but for the first
        game.
    interval_chance : of a score within the sheet's interval.
    bag_loss_pins : of the bag against the whole locker, by somebody who knows the lanes.
    """

    event: int
    world: int
    game: int
    kind: PairKind
    score: dict[Contender, float]
    unmoved: dict[Contender, float]
    after_ten: float | None
    interval_chance: float
    bag_loss_pins: float


ReaderOf = Callable[[Prepared, int], Reader]
"""Who reads the lanes of an event that is prepared for, with a seed."""


def prove_event(
    event: Event,
    number: int,
    table: CarryTable,
    worlds: Sequence[int],
    seed: int,
    reader_of: ReaderOf,
) -> list[GameRecord]:
    """Every game of an event in each of some worlds."""
    prepared = prepare(event, table, seed)
    kinds = pair_kinds(event)
    reader = reader_of(prepared, seed)
    found: list[GameRecord] = []
    for world in worlds:
        found.extend(_records(prepared, kinds, number, world, seed, reader))
    return found


def pair_kinds(event: Event) -> tuple[PairKind, ...]:
    """What kind of pair each game is on."""
    found = []
    for visit in visits(event):
        hands = {
            entrant.hand
            for session in visit.earlier
            for entrant in session.entrants
            if entrant.name != event.bowler_name
        }
        own = event.bowler.hand in hands
        if not hands:
            found.append(PairKind.NOBODY)
        elif own:
            found.append(PairKind.SAME if len(hands) == 1 else PairKind.MIXED)
        else:
            found.append(PairKind.OTHER)
    return tuple(found)


def _records(
    prepared: Prepared,
    kinds: tuple[PairKind, ...],
    event_number: int,
    number: int,
    seed: int,
    reader: Reader,
) -> list[GameRecord]:
    event = prepared.event
    world = drawn_world(event, prepared.people, number, seed)
    films = real_films(prepared, world, seed + number)
    brought = Brought(
        event,
        prepared.options,
        prepared.bag,
        prepared.films,
        prepared.pins,
        prepared.plans[Contender.PLANNER],
    )
    day = day_of(
        event, world, films, prepared.options, prepared.table, prepared.spare_chance,
        seed + 7919 * number,
    )  # fmt: skip
    bowled = {
        contender: bowl_event(day, by_result(day, plan))
        for contender, plan in prepared.plans.items()
    }
    reading = {
        contender: ByReading(brought, day, reader, Eyes(seed + number, misread))
        for contender, misread in ((Contender.READER, 0.0), (Contender.MISLED, MISREAD_SHARE))
    }
    bowled |= {contender: bowl_event(day, mover) for contender, mover in reading.items()}
    after_ten = reading[Contender.READER].after_ten
    found = []
    for game in range(1, event.games + 1):
        values = known_values(prepared, day, game)
        score = {contender: games[game - 1].score for contender, games in bowled.items()}
        unmoved = {
            contender: _unmoved(day, game, plan[game - 1])
            for contender, plan in prepared.plans.items()
        }
        score[Contender.KNOWS] = unmoved[Contender.KNOWS] = known_score(day, game, values)
        found.append(
            GameRecord(
                event=event_number,
                world=number,
                game=game,
                kind=kinds[game - 1],
                score=score,
                unmoved=unmoved,
                after_ten=score_of(day, 1, after_ten) if after_ten and game == 1 else None,
                interval_chance=_interval_chance(
                    bowled[Contender.PLANNER][game - 1], prepared.intervals[game - 1]
                ),
                bag_loss_pins=bag_loss_pins(values, prepared.bag),
            )
        )
    return found


def _unmoved(day: Day, game: int, lines: Lines) -> float:
    return expected_score_of_frames(bowl_frames(day, game, lambda frame: lines[frame % 2]))


def _interval_chance(game: Game, interval: tuple[int, int]) -> float:
    chances = score_distribution_of_frames(game.frames)
    return float(sum(chances[interval[0] : interval[1] + 1]))
