"""Who bowls against whom in a simulated world: a plan each, and somebody who knows the world.

Every plan is lines by game, a line for each lane of the pair. Plans made by looking at fewer facts
are made by the same planner, on the films that somebody with those facts would expect.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from nextpair.carry.table import CarryTable
from nextpair.domain.ball import Ball
from nextpair.domain.event import Event
from nextpair.kernel.layout import bodies_of, own_frame
from nextpair.kernel.throws import lane_kind, release_errors
from nextpair.planning.aim import PinValue, pin_value
from nextpair.planning.choice import GameChoice, bag_choice, game_choices
from nextpair.planning.crowd import likely_films
from nextpair.planning.day import FRAMES, Day, Lines, bowl_frames
from nextpair.planning.doubt import lane_doubt
from nextpair.planning.first_look import studied
from nextpair.planning.lines import LineValues, highest_cell, line_grid, line_values
from nextpair.planning.odds import game_numbers, odds_by_draw
from nextpair.planning.options import ball_options
from nextpair.planning.second_half import MIDDLES
from nextpair.planning.sheet import DRAWS, ERRORS, SPEED_KEPT
from nextpair.planning.spare_shots import spare_chances
from nextpair.planning.study import Study
from nextpair.planning.textbook import rule_line
from nextpair.planning.traffic import (
    LaneFilms,
    Thrower,
    lane_films,
    starting_ball,
    throwers,
)
from nextpair.planning.trial import Line, line_of, try_line
from nextpair.planning.worlds import World
from nextpair.scoring.game_value import expected_score_of_frames

FloatArray = NDArray[np.float64]

TRIED = 3
"""Balls that somebody who knows the world tries out to the frame."""


class Contender(StrEnum):
    """What somebody goes by."""

    TEXTBOOK = "rule of 31 and moves by result"
    FAVOURITE = "favourite ball, best line as dressed, moves by result"
    FRESH = "planner that takes every pair as dressed"
    HERE = "planner that takes the next pair to be like this one"
    PLANNER = "planner"
    READER = "planner that reads its shots"
    MISLED = "planner that reads its shots, one in ten seen five boards wrong"
    KNOWS = "knows the world"


STUDYING = (Contender.PLANNER, Contender.HERE, Contender.FRESH)
"""Those who study an event before it; what the others go by comes from these."""


def _unwatched(_label: str, _done: int, _total: int, /) -> None:
    """The progress of a job that nobody watches."""


@dataclass(frozen=True, slots=True)
class Prepared:
    """Everything that is decided before the event, with what it was decided from.

    films : what the lanes are planned to be. plans : lines by game of those who have a plan of
        their own; who reads starts from the planner's.
    intervals : the sheet's 80 % intervals of the score by game.
    """

    event: Event
    table: CarryTable
    options: tuple[Ball, ...]
    spare_chance: FloatArray
    pins: PinValue
    people: dict[str, Thrower]
    bag: tuple[int, ...]
    films: LaneFilms
    plans: dict[Contender, tuple[Lines, ...]]
    intervals: tuple[tuple[int, int], ...]


def prepare(
    event: Event, table: CarryTable, seed: int, studying: Collection[Contender] = STUDYING
) -> Prepared:
    """Make every contender's plan of an event; of those who study it, these, the planner among
    them."""
    spares = spare_chances(event, table.leaves, seed)
    pins = pin_value(table, spares, SPEED_KEPT * event.bowler.release.speed_mps)
    people = throwers(event, starting_ball(event))
    films = likely_films(event, starting_ball(event), pins, seed, _unwatched)
    options, doubt = ball_options(event), lane_doubt(DRAWS, seed)
    studies = {
        contender: studied(event, doubt, seen, pins, _unwatched)
        for contender, seen in (
            (Contender.PLANNER, films),
            (Contender.HERE, _as_here(event, films)),
            (Contender.FRESH, _as_dressed(films)),
        )
        if contender in studying
    }
    bags = {contender: bag_choice(study) for contender, study in studies.items()}
    choices = {
        contender: game_choices(study, bags[contender]) for contender, study in studies.items()
    }
    plans = {
        contender: tuple(
            _named(choice.lines, studies[contender].options, options) for choice in chosen
        )
        for contender, chosen in choices.items()
    }
    for contender, lines in _with_the_favourite(event, options, films, pins).items():
        plans[contender] = (lines,) * event.games
    return Prepared(
        event=event,
        table=table,
        options=options,
        spare_chance=spares,
        pins=pins,
        people=people,
        bag=tuple(
            options.index(studies[Contender.PLANNER].options[option])
            for option in bags[Contender.PLANNER].options
        ),
        films=films,
        plans=plans,
        intervals=_intervals(
            studies[Contender.PLANNER], choices[Contender.PLANNER], table, pins, spares, seed
        ),
    )


def _named(lines: Lines, studied_options: Sequence[Ball], options: Sequence[Ball]) -> Lines:
    """Lines whose balls are counted among all options, not among those that were studied."""
    left, right = (
        replace(line, option=options.index(studied_options[line.option])) for line in lines
    )
    return left, right


def _as_dressed(films: LaneFilms) -> LaneFilms:
    """Every pair as if nobody had bowled there."""
    return replace(
        films, stages={(lane, stage): films.fresh[lane][None] for lane, stage in films.stages}
    )


def _as_here(event: Event, films: LaneFilms) -> LaneFilms:
    """Every pair as if it were worn like the one that the bowler comes from."""
    stages = dict(films.stages)
    for game in range(2, event.games + 1):
        lanes, came_from = (
            event.pair_in_game(event.start_pair, g).lanes for g in (game, game - 1)
        )
        for lane, other in zip(lanes, came_from, strict=True):
            now, before = (films.stages[other, stage] for stage in (game, game - 1))
            stages[lane, game] = now
            stages[lane, game + 1] = np.maximum(now + (now - before), 0.0)
    return replace(films, stages=stages)


def _with_the_favourite(
    event: Event, options: tuple[Ball, ...], films: LaneFilms, pins: PinValue
) -> dict[Contender, Lines]:
    """Lines of the favourite ball, as it is, on each lane as dressed: by the rule of 31, and the
    best."""
    favourite = options.index(starting_ball(event))
    bowler = event.bowler
    ruled, best = [], []
    for number in event.start_pair.lanes:
        kind = lane_kind(event.lane(number), bowler.hand)
        values = line_values(
            np.ascontiguousarray(own_frame(films.fresh[number], bowler.hand))[None],
            np.ones(1),
            bowler.release,
            bowler.scatter,
            kind,
            bodies_of([options[favourite]], event.house, bowler.pap_m),
            pins,
            line_grid(bowler.reach, bowler.hand),
        )
        ruled.append(replace(rule_line(values, 0, kind.length_m), option=favourite))
        best.append(line_of(values.grid, favourite, highest_cell(values.mean_value[0])))
    return {
        Contender.TEXTBOOK: (ruled[0], ruled[1]),
        Contender.FAVOURITE: (best[0], best[1]),
    }


def _intervals(
    study: Study,
    choices: tuple[GameChoice, ...],
    table: CarryTable,
    pins: PinValue,
    spares: FloatArray,
    seed: int,
) -> tuple[tuple[int, int], ...]:
    bowler = study.event.bowler
    errors = release_errors(bowler.scatter, ERRORS, seed)
    found = []
    for choice in choices:
        odds = [
            odds_by_draw(
                try_line(line, lane, bowler, table, pins, errors).leaves_by_draw,
                table.leaves,
                spares,
            )
            for line, lane in zip(choice.lines, study.of_game(choice.game), strict=True)
        ]
        found.append(game_numbers(odds[0], odds[1])[1])
    return tuple(found)


def real_films(prepared: Prepared, world: World, seed: int) -> LaneFilms:
    """What the squad really makes of the lanes."""
    return lane_films(
        prepared.event, world.people, prepared.pins, seed, _unwatched, world.condition
    )


def known_values(prepared: Prepared, day: Day, game: int) -> tuple[LineValues, LineValues]:
    """Value of every line with every ball on both lanes of a game, as they really are: one draw
    for each half of the game."""
    event, world = prepared.event, day.world
    bowler = event.bowler
    found = []
    for side in range(2):
        lane = day.lanes[game, side]
        found.append(
            line_values(
                np.stack([lane.film(share) for share in MIDDLES]),
                np.full(len(MIDDLES), lane.dry_factor),
                world.release,
                world.scatter,
                lane.kind,
                lane.bodies,
                prepared.pins,
                line_grid(bowler.reach, bowler.hand),
            )
        )
    return found[0], found[1]


def known_score(day: Day, game: int, values: tuple[LineValues, LineValues]) -> float:
    """Expected score of somebody who knows the world, but not the luck of the day: of the balls
    that look best on these lanes the one that bowls best with other errors, from the best line of
    each half of the game on each lane."""
    worth = sum(lane.value.max(axis=(2, 3)).mean(axis=1) for lane in values)
    tried = [
        (_by_half(values[0], int(option)), _by_half(values[1], int(option)))
        for option in np.argsort(-np.asarray(worth))[:TRIED]
    ]
    rehearsal = day.with_other_luck()
    return score_of(day, game, max(tried, key=lambda lines: score_of(rehearsal, game, lines)))


def score_of(day: Day, game: int, by_half: tuple[Lines, Lines]) -> float:
    """Expected score of a game whose lines are settled before it: of each lane, one for each half
    of the game."""

    def line_of(frame: int) -> Line:
        return by_half[frame % 2][int(frame >= FRAMES / 2)]

    return expected_score_of_frames(bowl_frames(day, game, line_of))


def bag_loss_pins(values: tuple[LineValues, LineValues], bag: tuple[int, ...]) -> float:
    """What a game loses with a bag's balls alone, by somebody who knows the lanes."""
    worth = np.mean([lane.value.max(axis=(2, 3)).mean(axis=1) for lane in values], axis=0)
    return float(worth.max() - worth[list(bag)].max())


def _by_half(values: LineValues, option: int) -> Lines:
    """An option's best line in each half of the game on one lane."""
    first, second = (
        line_of(values.grid, option, highest_cell(values.value[option, half]))
        for half in range(len(MIDDLES))
    )
    return first, second
