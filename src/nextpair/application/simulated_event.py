"""An event bowled in a world, shot by shot, and logged as its bowler saw it.

What was really so is known, so what the program makes of such a log can be held against it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, replace
from datetime import datetime, time, timedelta
from typing import Any
from uuid import UUID, uuid5

import numpy as np

from nextpair.application.reader import reader_of
from nextpair.application.shot_jottings import NotedShot
from nextpair.domain.ball import Ball, Grit, Surface
from nextpair.domain.bowler import Hand
from nextpair.domain.event import Event
from nextpair.domain.shot_log import FRAMES, PRACTICE, LoggedShot
from nextpair.domain.sight import SPEED_ERROR_MPH
from nextpair.domain.units import MPH_MPS
from nextpair.kernel.roll import Paths
from nextpair.kernel.throws import Errors
from nextpair.planning.by_reading import Brought, ByReading, Eyes
from nextpair.planning.contenders import Contender, Prepared, real_films
from nextpair.planning.day import Day, Lines, Mover, Seen, bowl_event, day_of
from nextpair.planning.options import packed_spares
from nextpair.planning.trial import Line
from nextpair.planning.worlds import World, drawn_world
from nextpair.scoring.leaves import mirrored_leave, pin_bit

NAMESPACE = UUID("0c4d5f0e-58c1-5b52-9d0b-5f6c1a2f7e31")
"""Of the ids that simulated shots have by event, world and place."""
FIRST_SHOT = time(9, 30)
BETWEEN_SHOTS = timedelta(minutes=2)
SEEN_SHARE = {"laydown_board": 0.9, "breakpoint_board": 0.85, "entry_board": 0.9}
"""How often a bowler writes down what; the board at the arrows and the pins always."""
SPEED_SHOWN_SHARE = 0.6
STAYS_CHANCE = 0.5
"""Of each pin that a missed spare may leave."""
EYES_APART = 1_000_003
BOARDS_TOLD = (
    "laydown_board", "target_board", "breakpoint_board", "entry_board", "meant_laydown_board",
    "meant_target_board",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Planted:
    """What goes wrong on purpose.

    surface_grit : every strike ball is thrown with this finish, a grit number or "polished", in
        place of the planned one.
    spares_log_odds : added to the log odds of every spare.
    late_shots : so many shots on a lane after it was seen a move is made, and every game begins as
        planned.
    slower_mph : the day's speed at the release.
    """

    surface_grit: Grit | None = None
    spares_log_odds: float = 0.0
    late_shots: int = 0
    slower_mph: float = 0.0


NOTHING = Planted()


@dataclass(frozen=True, slots=True)
class SimulatedEvent:
    """The log, and what was true. `bag` are the balls, as finished, that were thrown;
    `expected_scores` of the games, the luck of the pins left out."""

    event: Event
    world: World
    planted: Planted
    bag: tuple[Ball, ...]
    shots: tuple[NotedShot, ...]
    expected_scores: tuple[float, ...]


def simulate_event(
    prepared: Prepared, number: int, seed: int, planted: Planted = NOTHING
) -> SimulatedEvent:
    """World `number` of a seed, bowled by somebody who reads the lanes from the planner's lines.

    The same arguments give the same shots.
    """
    event = prepared.event
    world = _world(prepared, number, seed, planted)
    bag, plan = prepared.bag, prepared.plans[Contender.PLANNER]
    if planted.surface_grit is not None:
        prepared, other = _with_surface(prepared, planted.surface_grit)
        bag = tuple(other[option] for option in bag)
        plan = tuple(_with_balls(lines, other) for lines in plan)
    day = day_of(
        event,
        world,
        real_films(prepared, world, seed + number),
        prepared.options,
        prepared.table,
        prepared.spare_chance,
        seed + 7919 * number,
    )
    brought = Brought(event, prepared.options, bag, prepared.films, prepared.pins, plan)
    eyes = Eyes(seed + number)
    reading = ByReading(brought, day, reader_of(prepared, seed), eyes)
    mover = _Watched(_Late(reading, plan, planted.late_shots))
    games = bowl_event(day, mover)
    log = _Log(day, prepared.options, eyes, np.random.default_rng([seed, number, 2]))
    shots = (shot for seen in mover.thrown for shot in log.of(seen))
    return SimulatedEvent(
        event=event,
        world=world,
        planted=planted,
        bag=tuple(prepared.options[option] for option in bag),
        shots=tuple(_written(event, number, seed, shots)),
        expected_scores=tuple(game.score for game in games),
    )


def _world(prepared: Prepared, number: int, seed: int, planted: Planted) -> World:
    world = drawn_world(prepared.event, prepared.people, number, seed)
    slower = world.release.speed_mps - planted.slower_mph * MPH_MPS
    return replace(
        world,
        release=replace(world.release, speed_mps=slower),
        spare_log_odds=world.spare_log_odds + planted.spares_log_odds,
    )


def _with_surface(prepared: Prepared, grit: Grit) -> tuple[Prepared, dict[int, int]]:
    """The balls of the bag finished otherwise, as further options, and which one each became."""
    surface = Surface.put_on(grit)
    other = {option: len(prepared.options) + row for row, option in enumerate(prepared.bag)}
    further = (replace(prepared.options[option], surface=surface) for option in prepared.bag)
    return replace(prepared, options=(*prepared.options, *further)), other


def _with_balls(lines: Lines, other: dict[int, int]) -> Lines:
    left, right = (replace(line, option=other.get(line.option, line.option)) for line in lines)
    return left, right


class _Late:
    """A bowler who begins every game as planned, and makes each move some shots on its lane after
    another would."""

    def __init__(self, mover: Mover, plan: Sequence[Lines], late_shots: int) -> None:
        self._mover, self._plan, self._late_shots = mover, plan, late_shots
        self._wanted: list[list[Line]] = []

    def comes_to(self, game: int) -> None:
        self._mover.comes_to(game)
        self._wanted = [self._late_shots * [line] for line in self._plan[max(game, 1) - 1]]

    def line(self, side: int, share: float) -> Line:
        wanted = self._wanted[side]
        wanted.append(self._mover.line(side, share))
        return wanted[-1 - self._late_shots]

    def saw(self, shot: Seen) -> None:
        self._mover.saw(shot)


class _Watched:
    """A bowler's shots as they were thrown."""

    def __init__(self, mover: Mover) -> None:
        self._mover = mover
        self.thrown: list[Seen] = []

    def comes_to(self, game: int) -> None:
        self._mover.comes_to(game)

    def line(self, side: int, share: float) -> Line:
        return self._mover.line(side, share)

    def saw(self, shot: Seen) -> None:
        self.thrown.append(shot)
        self._mover.saw(shot)


@dataclass(frozen=True, slots=True)
class _Log:
    """Somebody writing down what was thrown."""

    day: Day
    balls: Sequence[Ball]
    eyes: Eyes
    rng: np.random.Generator

    def of(self, seen: Seen) -> Iterator[LoggedShot]:
        """Every ball of a frame, or one of practice."""
        first = self._first_ball(seen, 0)
        yield first
        if seen.game == PRACTICE:
            return
        last = seen.frame == FRAMES - 1
        if first.standing_after:
            second = self._second_ball(first)
            yield second
            if last and not second.standing_after:
                yield replace(self._first_ball(seen, 1), delivery=3)
        elif last:
            fill = replace(self._first_ball(seen, 1), delivery=2)
            yield fill
            if fill.standing_after:
                yield self._second_ball(fill)
            else:
                yield replace(self._first_ball(seen, 2), delivery=3)

    def _first_ball(self, seen: Seen, number: int) -> LoggedShot:
        """A ball at ten pins: the first of a frame, or one that fills the last one."""
        eyes = replace(self.eyes, seed=self.eyes.seed + EYES_APART * number)
        shot = eyes.logged(self.day, _numbered(seen, number), self.balls)
        speed_mps = self.day.world.release.speed_mps + seen.line.change.speed_mps
        shown = speed_mps + float(seen.errors.speed_mps[number])
        mph = shown / MPH_MPS + SPEED_ERROR_MPH * float(self.rng.normal())
        unseen: dict[str, Any] = {
            name: None for name, share in SEEN_SHARE.items() if self.rng.random() >= share
        }
        return replace(
            shot,
            speed_mph=round(mph, 1) if self.rng.random() < SPEED_SHOWN_SHARE else None,
            **unseen,
        )

    def _second_ball(self, first: LoggedShot) -> LoggedShot:
        """A ball at what the first one left. One that misses takes any pins but all of them."""
        standing = first.standing_after or frozenset()
        mask = sum(pin_bit(pin) for pin in standing)
        own = mask if self.day.event.bowler.hand is Hand.RIGHT else mirrored_leave(mask)
        table = self.day.table
        chance = float(self.day.spare_chance[table.leaves.index(own)])
        left: frozenset[int] = frozenset()
        if self.rng.random() >= chance:
            stays = {pin for pin in sorted(standing) if self.rng.random() < STAYS_CHANCE}
            left = frozenset(stays or {max(standing)})
        spares = packed_spares(self.day.event)
        return LoggedShot(
            id=first.id,
            time="",
            game=first.game,
            frame=first.frame,
            delivery=first.delivery + 1,
            lane=first.lane,
            ball=spares[0].name if spares else first.ball,
            standing_before=standing,
            standing_after=left,
        )


def _numbered(seen: Seen, number: int) -> Seen:
    """A frame's shot of another number as its first one."""
    one = slice(number, number + 1)
    errors = Errors(*(getattr(seen.errors, part.name)[one] for part in fields(Errors)))
    parts: dict[str, Any] = {
        part.name: None if (values := getattr(seen.paths, part.name)) is None else values[..., one]
        for part in fields(Paths)
    }
    return replace(seen, paths=Paths(**parts), errors=errors)


def _written(
    event: Event, number: int, seed: int, shots: Iterator[LoggedShot]
) -> Iterator[NotedShot]:
    """The shots with ids and times, their boards told in halves."""
    start = datetime.combine(event.date, FIRST_SHOT)
    for place, shot in enumerate(shots):
        at = f"{event.name}|{event.date}|{seed}|{number}|{shot.game}|{shot.frame}|{shot.delivery}"
        boards = {
            name: round(2 * board) / 2
            for name in BOARDS_TOLD
            if (board := getattr(shot, name)) is not None
        }
        written = replace(
            shot,
            id=uuid5(NAMESPACE, at),
            time=(start + place * BETWEEN_SHOTS).isoformat(timespec="minutes"),
            **boards,
        )
        yield NotedShot(written, foul=False)
