"""Reading the lane: an event and logged shots in, what they say and the next move out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from uuid import UUID

import numpy as np
from numpy.typing import NDArray

from nextpair.application.believed import belief_of
from nextpair.application.cautions import ESTIMATES, PAIN, RELEASE_CHANGES
from nextpair.application.findings import findings_of, ties_of, verdicts_of
from nextpair.application.for_files import values_for_files
from nextpair.application.lane_story import lane_story, last_of, next_game, shots_that_tell
from nextpair.application.model_version import model_version
from nextpair.application.next_shot import moves_of
from nextpair.application.ports import Progress, unwatched
from nextpair.application.sheets import typical_weight_kg
from nextpair.carry.table import CarryTable, load_table
from nextpair.domain.belief import LIKELY_PROBABILITY, LaneMoves, MoveKind, PutOn, Read
from nextpair.domain.errors import require
from nextpair.domain.event import Event
from nextpair.domain.shot_log import LoggedShot
from nextpair.planning.aim import PinValue, pin_value
from nextpair.planning.crowd import likely_films
from nextpair.planning.sheet import SPEED_KEPT
from nextpair.planning.spare_shots import spare_chances
from nextpair.planning.traffic import LaneFilms, starting_ball
from nextpair.reading.prior import usual_prior
from nextpair.reading.seen import seen_of
from nextpair.reading.update import Reading, update

FloatArray = NDArray[np.float64]

SURFACES = (
    "Where the log names no surface, the ball is taken as the locker's file has it: a surface put "
    "on since belongs into one of them."
)
TELLING = (
    "at least one shot at ten pins with its boards at the foul line and at the arrows, meant or "
    "seen"
)
FEW_SHOTS = 6
"""Below this many shots the read says how little it stands on."""


@dataclass(frozen=True, slots=True)
class Groundwork:
    """What an event's reads have in common: carry, own chances (leaves,) of the spares of its
    table, what an impact is worth, films by game."""

    table: CarryTable
    spares: FloatArray
    pins: PinValue
    films: LaneFilms


def read(
    event: Event, shots: Sequence[LoggedShot], seed: int, progress: Progress = unwatched
) -> Read:
    """What the shots say. The same event, shots and seed give the same read.

    Raises InvalidValueError for shots that the event cannot have, and where none tells anything.
    """
    telling = shots_that_tell(shots)
    last = last_of(telling)
    ground = groundwork(event, next_game(event, telling), seed)
    progress("reading the shots", 0, 1)
    reading = reading_of(event, telling, ground, seed)
    told = int(reading.used.sum())
    require(told > 0, "shots", len(telling), TELLING)
    draws = belief_of(reading)
    verdicts = verdicts_of(telling, reading)
    bad = {
        UUID(one.id)
        for one in verdicts
        if one.words and one.release_probability >= LIKELY_PROBABILITY
    }
    moves = moves_of(event, telling, ground.films, ground.pins, draws, bad, seed)
    progress("reading the shots", 1, 1)
    return Read(
        event=event.name,
        bowler=event.bowler.name,
        hand=event.bowler.hand.value,
        model_version=model_version(),
        seed=seed,
        shots=told,
        last_game=last.game,
        last_frame=last.frame,
        next_game=next_game(event, telling),
        surfaces=_surfaces(telling),
        findings=findings_of(event, reading),
        ties=ties_of(event, reading),
        verdicts=verdicts,
        moves=moves,
        cautions=_cautions(telling, told, moves),
        draws=draws,
        for_files=values_for_files(event, telling, reading),
    )


def reading_of(
    event: Event, shots: Sequence[LoggedShot], ground: Groundwork, seed: int
) -> Reading:
    """The belief after some shots at full racks."""
    games = range(1, next_game(event, shots) + 1)
    pairs = [event.pair_in_game(event.start_pair, game) for game in games]
    lanes = [lane for pair in pairs for lane in pair.lanes]
    story = lane_story(event, shots, ground.films, ground.table)
    return update(usual_prior(lanes), story, seen_of(shots, event.bowler.hand), seed)


def groundwork(event: Event, last_game: int, seed: int) -> Groundwork:
    """What reads up to some game need, kept for the next ones."""
    return _groundwork(replace(event, games=last_game), seed)


@lru_cache(maxsize=4)
def _groundwork(event: Event, seed: int) -> Groundwork:
    table = load_table(typical_weight_kg(event.locker), event.house.pinfall)
    spares = spare_chances(event, table.leaves, seed)
    pins = pin_value(table, spares, SPEED_KEPT * event.bowler.release.speed_mps)
    films = likely_films(event, starting_ball(event), pins, seed, unwatched)
    return Groundwork(table, spares, pins, films)


def _surfaces(shots: Sequence[LoggedShot]) -> tuple[PutOn, ...]:
    """The finish that was put on each ball, where the log says it: the last one told."""
    told = {shot.ball: shot.surface_grit for shot in shots if shot.surface_grit is not None}
    return tuple(PutOn(ball, grit) for ball, grit in told.items())


def _cautions(
    shots: Sequence[LoggedShot], told: int, moves: Sequence[LaneMoves]
) -> tuple[str, ...]:
    few = f"{told} shots are few: the next ones may say otherwise."
    asked = {option.kind for lane in moves for option in lane.options}
    return (
        ESTIMATES,
        *((few,) if told < FEW_SHOTS else ()),
        *((SURFACES,) if any(shot.surface_grit is None for shot in shots) else ()),
        *((RELEASE_CHANGES,) if asked & {MoveKind.SPEED, MoveKind.HAND} else ()),
        PAIN,
    )
