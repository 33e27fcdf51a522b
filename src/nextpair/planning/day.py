"""An event bowled in a world: frame after frame on the lanes as they really are.

Every contender meets the same lanes and throws with the same errors, and moves by what it sees,
each in its own way: how, is said elsewhere. The film of a game goes from
its start to its end as the squad's traffic takes it, whichever line the bowler plays: the
bowler's own few shots are those of the plan.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit, logit

from nextpair.carry.table import CarryTable
from nextpair.domain.ball import Ball
from nextpair.domain.bowler import Scatter
from nextpair.domain.event import Event, Pair
from nextpair.kernel.layout import Bodies, bodies_of, own_frame
from nextpair.kernel.roll import Paths, roll
from nextpair.kernel.throws import (
    NO_ERRORS,
    Errors,
    LaneKind,
    lane_kind,
    own_boards_of,
    release_errors,
)
from nextpair.planning.odds import odds_by_draw
from nextpair.planning.options import in_game
from nextpair.planning.rotation import FRAMES_PER_LANE, LANES_PER_PAIR, practice_shots_per_bowler
from nextpair.planning.traffic import LaneFilms
from nextpair.planning.trial import Line, line_shots
from nextpair.planning.worlds import World
from nextpair.scoring.game_value import FrameOdds, expected_score_of_frames

FloatArray = NDArray[np.float64]

FRAMES = FRAMES_PER_LANE * LANES_PER_PAIR
SHOTS = 24
"""Shots over which a frame's odds are taken; the first of them is the one that is thrown."""
SEEDS_APART = 500_000
"""Between the errors of a day and others of the same size."""
Lines = tuple[Line, Line]
"""A line for a pair's left lane and for its right one."""


@dataclass(frozen=True, slots=True)
class DayLane:
    """One lane during one game (0 is practice), in the bowler's frame: films (120, 39) [um]."""

    kind: LaneKind
    start: FloatArray
    end: FloatArray
    dry_factor: float
    bodies: Bodies

    def film(self, share: float) -> FloatArray:
        """Film when a share of the game is over."""
        return self.start + share * (self.end - self.start)


@dataclass(frozen=True, slots=True)
class Day:
    """Everything about a bowler's event that is hidden from the plan."""

    event: Event
    world: World
    table: CarryTable
    spare_chance: FloatArray
    lanes: dict[tuple[int, int], DayLane]
    """By game and by lane of the pair, 0 or 1."""
    errors: tuple[Errors, ...]
    """By game: SHOTS errors for each frame, frame after frame."""
    other_seed: int

    def with_other_luck(self) -> Day:
        """The same day with other release errors of the same size."""
        return replace(self, errors=_errors(self.world, self.event.games, self.other_seed))

    def pair(self, game: int) -> Pair:
        """Pair of a game; practice is on that of the first."""
        return self.event.pair_in_game(self.event.start_pair, max(game, 1))

    def throw(self, game: int, side: int, line: Line, share: float, errors: Errors) -> Paths:
        """Shots with some errors from a line."""
        lane = self.lanes[game, side]
        shots = line_shots(line, self.world.release, lane.kind, errors, dry_factor=lane.dry_factor)
        return roll(lane.kind.under(lane.film(share)), lane.bodies, shots)

    def meant_target(self, game: int, side: int, line: Line) -> float:
        """Own board at the arrows that a line means to cross."""
        paths = self.throw(game, side, line, 0.0, NO_ERRORS)
        return float(own_boards_of(paths.arrows_x_m[0]))

    def odds(self, paths: Paths) -> FrameOdds:
        """Odds of a frame whose first ball is any of some shots."""
        impact = paths.impact
        leaves = self.table.leave_probability(
            impact.offset_boards, impact.entry_angle_deg, impact.speed_mps
        ).mean(axis=0, keepdims=True)
        return odds_by_draw(leaves, self.table.leaves, self.spare_chance)[0]


@dataclass(frozen=True, slots=True)
class Seen:
    """One shot that a bowler has thrown: in which game (0 is practice), on which lane of the pair,
    in which frame from 0, from which line; `paths` and `errors` hold it as the first of theirs."""

    game: int
    side: int
    frame: int
    line: Line
    paths: Paths
    errors: Errors


class Mover(Protocol):
    """Somebody who bowls: where they stand, and what they make of what they see."""

    def comes_to(self, game: int) -> None:
        """Told before the first shot of every game, practice being 0."""

    def line(self, side: int, share: float) -> Line:
        """The line of the next shot on a lane of the pair, when a share of the game is over."""

    def saw(self, shot: Seen) -> None:
        """Told of every shot thrown."""


@dataclass(frozen=True, slots=True)
class Game:
    """A game as it was bowled."""

    frames: tuple[FrameOdds, ...]

    @property
    def score(self) -> float:
        """Expected score."""
        return expected_score_of_frames(self.frames)


def day_of(
    event: Event,
    world: World,
    films: LaneFilms,
    options: Sequence[Ball],
    table: CarryTable,
    spare_chance: FloatArray,
    seed: int,
) -> Day:
    """The day of a world; `films` are the ones it really makes of the lanes."""
    lanes = {}
    for game in range(event.games + 1):
        pair = event.pair_in_game(event.start_pair, max(game, 1))
        balls = [in_game(event, ball, max(game, 1)) for ball in options]
        bodies = bodies_of(balls, event.house, event.bowler.pap_m)
        for side, number in enumerate(pair.lanes):
            start, end = (
                np.ascontiguousarray(own_frame(films.at(number, stage), event.bowler.hand))
                for stage in (game, game + 1)
            )
            kind = lane_kind(event.lane(number), event.bowler.hand)
            lanes[game, side] = DayLane(kind, start, end, world.lane_dry_factor[number], bodies)
    made = expit(logit(np.clip(spare_chance, 1e-6, 1 - 1e-6)) + world.spare_log_odds)
    return Day(
        event=event,
        world=world,
        table=table,
        spare_chance=np.where(np.array(table.leaves) == 0, 1.0, made),
        lanes=lanes,
        errors=_errors(world, event.games, seed),
        other_seed=seed + SEEDS_APART,
    )


def _errors(world: World, games: int, seed: int) -> tuple[Errors, ...]:
    return tuple(errors_of_game(world.scatter, seed + game) for game in range(games + 1))


def errors_of_game(scatter: Scatter, seed: int) -> Errors:
    """SHOTS errors for each frame, spread evenly over it and in random order: every SHOTS-th of a
    low-discrepancy sequence comes from the same eighth of lay-downs and the same third of angles,
    and the first of each frame is thrown."""
    drawn = release_errors(scatter, FRAMES * SHOTS, seed)
    of_frame = np.arange(FRAMES * SHOTS).reshape(FRAMES, SHOTS)
    return _some(drawn, np.random.default_rng([seed, SHOTS]).permuted(of_frame, axis=1).ravel())


def bowl_frames(day: Day, game: int, line_of: Callable[[int], Line]) -> list[FrameOdds]:
    """Odds of the ten frames of a game whose lines are settled before it, by frame from 0."""
    return [day.odds(_frame(day, game, frame, line_of(frame))[0]) for frame in range(FRAMES)]


def bowl_event(day: Day, mover: Mover) -> list[Game]:
    """Bowl every game of an event after practice on its first pair."""
    _practise(day, mover)
    return [_bowl_game(day, game, mover) for game in range(1, day.event.games + 1)]


def _practise(day: Day, mover: Mover) -> None:
    """Practice, a lane after the other."""
    mover.comes_to(0)
    shots = practice_shots_per_bowler(day.event.block, day.event.start_pair)
    for shot in range(min(shots, FRAMES)):
        side, share = shot % LANES_PER_PAIR, (shot + 0.5) / shots
        line = mover.line(side, share)
        errors = _some(day.errors[0], slice(SHOTS * shot, SHOTS * shot + 1))
        paths = day.throw(0, side, line, share, errors)
        mover.saw(Seen(0, side, shot, line, paths, errors))


def _bowl_game(day: Day, game: int, mover: Mover) -> Game:
    mover.comes_to(game)
    frames = []
    for frame in range(FRAMES):
        side = frame % LANES_PER_PAIR
        line = mover.line(side, _share(frame))
        paths, errors = _frame(day, game, frame, line)
        frames.append(day.odds(paths))
        mover.saw(Seen(game, side, frame, line, paths, errors))
    return Game(tuple(frames))


def _frame(day: Day, game: int, frame: int, line: Line) -> tuple[Paths, Errors]:
    """Shots that may be a frame's first ball, and their errors."""
    errors = _some(day.errors[game], slice(SHOTS * frame, SHOTS * (frame + 1)))
    return day.throw(game, frame % LANES_PER_PAIR, line, _share(frame), errors), errors


def _share(frame: int) -> float:
    """Share of a game that is over at a frame on its lane."""
    return (frame // LANES_PER_PAIR + 0.5) / FRAMES_PER_LANE


def _some(errors: Errors, some: slice | NDArray[np.int64]) -> Errors:
    return Errors(
        errors.laydown_boards[some],
        errors.launch_angle_rad[some],
        errors.speed_mps[some],
        errors.rev_rate_radps[some],
        errors.axis_rotation_rad[some],
    )
