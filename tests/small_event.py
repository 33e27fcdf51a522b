"""A small event that is planned in seconds: the bundled bowler and pattern on three pairs.

The bowler starts on 13-14 among right-handers and moves to 17-18, where only left-handers
started. Everything planned of it is computed once for all tests.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from event_folder import DEMO
from nextpair.application.sheets import plan, typical_weight_kg
from nextpair.carry.table import CarryTable, load_table
from nextpair.domain.bowler import Hand
from nextpair.domain.event import Event, Pair
from nextpair.domain.lane import mirrored_board
from nextpair.domain.pattern import Pattern
from nextpair.domain.sheet import Sheet
from nextpair.files import load_event
from nextpair.planning.aim import PinValue, pin_value
from nextpair.planning.bag import BagChoice
from nextpair.planning.choice import GameChoice, bag_choice, game_choices
from nextpair.planning.condition import AS_PLANNED, Condition
from nextpair.planning.crowd import likely_films
from nextpair.planning.doubt import lane_doubt
from nextpair.planning.options import ball_options
from nextpair.planning.sheet import DRAWS, SPEED_KEPT
from nextpair.planning.spare_shots import spare_chances
from nextpair.planning.study import Study, lane_study
from nextpair.planning.traffic import LaneFilms, lane_films, starting_ball, throwers

SEED = 7
PAIRS = (Pair(13), Pair(15), Pair(17))
LOCKER = ("Slate Weir", "Dunlin Flock", "Wet Sailcloth", "Plain Thimble")
SPARE_BALL = "Plain Thimble"


def unheard(_label: str, _done: int, _total: int) -> None:
    """The progress of a test."""


@cache
def small_event() -> Event:
    """Two games, eleven people on three pairs, three strike balls and a spare ball."""
    event = load_event(DEMO / "event.toml")
    return replace(
        event,
        games=2,
        ball_limit=3,
        squad=tuple(entrant for entrant in event.squad if entrant.pair in PAIRS),
        locker=tuple(ball for ball in event.locker if ball.name in LOCKER),
    )


@cache
def small_sheet(hand: Hand = Hand.RIGHT, seed: int = SEED) -> Sheet:
    """The sheet of the small event, or of its mirror image."""
    event = small_event()
    return plan(event if hand is Hand.RIGHT else mirror_image(event), seed)


def mirror_image(event: Event) -> Event:
    """The same event in a mirror: every hand, board and tilt on the other side."""
    low, high = event.bowler.reach.laydown_boards
    reach = replace(event.bowler.reach, laydown_boards=(mirrored_board(high), mirrored_board(low)))
    return replace(
        event,
        bowler=replace(event.bowler, hand=_other(event.bowler.hand), reach=reach),
        squad=tuple(replace(entrant, hand=_other(entrant.hand)) for entrant in event.squad),
        left_pattern=_mirrored_pattern(event.left_pattern),
        right_pattern=_mirrored_pattern(event.right_pattern),
        house=replace(
            event.house,
            traits=tuple(replace(t, tilt_m=-t.tilt_m) for t in event.house.traits),
        ),
    )


def _other(hand: Hand) -> Hand:
    return Hand.LEFT if hand is Hand.RIGHT else Hand.RIGHT


def _mirrored_pattern(pattern: Pattern) -> Pattern:
    return replace(
        pattern,
        passes=tuple(
            replace(
                a_pass,
                from_board=round(mirrored_board(a_pass.to_board)),
                to_board=round(mirrored_board(a_pass.from_board)),
            )
            for a_pass in pattern.passes
        ),
        film=pattern.film
        and replace(
            pattern.film, thickness_um=tuple(row[::-1] for row in pattern.film.thickness_um)
        ),
    )


@dataclass(frozen=True)
class Workings:
    """What stands behind the sheet of the small event."""

    event: Event
    table: CarryTable
    spares: np.ndarray
    pins: PinValue
    films: LaneFilms
    study: Study
    bag: BagChoice
    choices: tuple[GameChoice, ...]


@cache
def small_workings() -> Workings:
    """The workings of the small event."""
    return workings_of(small_event())


def workings_of(
    event: Event,
    seed: int = SEED,
    films_of: Callable[[Event, PinValue], LaneFilms] | None = None,
) -> Workings:
    """Everything up to the choices, as the sheet is planned."""
    table, spares, pins = values_of(event, seed)
    films = (
        films_of(event, pins)
        if films_of
        else likely_films(event, starting_ball(event), pins, seed, unheard)
    )
    study = lane_study(event, ball_options(event), lane_doubt(DRAWS, seed), films, pins, unheard)
    bag = bag_choice(study)
    return Workings(event, table, spares, pins, films, study, bag, game_choices(study, bag))


def values_of(event: Event, seed: int = SEED) -> tuple[CarryTable, np.ndarray, PinValue]:
    """Carry, spare chances and the value of an impact for an event's bowler."""
    bowler = event.bowler
    table = load_table(typical_weight_kg(event.locker), event.house.pinfall)
    spares = spare_chances(event, table.leaves, seed)
    return table, spares, pin_value(table, spares, SPEED_KEPT * bowler.release.speed_mps)


def traffic_of(
    event: Event, pins: PinValue, seed: int = SEED, condition: Condition = AS_PLANNED
) -> LaneFilms:
    """Films of the lanes that the bowler of an event meets, worn by its squad as it is listed."""
    people = throwers(event, starting_ball(event))
    return lane_films(event, people, pins, seed, unheard, condition)
