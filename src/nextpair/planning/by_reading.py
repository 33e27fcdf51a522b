"""Somebody who logs what can be seen, reads the lane from it, and takes the best next line."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from uuid import UUID

import numpy as np

from nextpair.carry.table import CarryTable
from nextpair.domain.ball import Ball
from nextpair.domain.bowler import Hand
from nextpair.domain.entry import level_boards
from nextpair.domain.event import Event
from nextpair.domain.lane import CENTRE_BOARD
from nextpair.domain.shot_log import LoggedShot
from nextpair.domain.sight import (
    BREAKPOINT_ERROR_BOARDS,
    ENTRY_ERROR_BOARDS,
    LAYDOWN_ERROR_BOARDS,
    TARGET_ERROR_BOARDS,
)
from nextpair.kernel.throws import own_board, own_boards_of
from nextpair.planning.aim import PinValue
from nextpair.planning.day import Day, Lines, Seen
from nextpair.planning.doubt import Doubt
from nextpair.planning.next_move import Bench, bench_of, lane_now, next_line, next_moves
from nextpair.planning.options import is_resurfaced
from nextpair.planning.second_half import MIDDLES
from nextpair.planning.traffic import LaneFilms
from nextpair.planning.trial import Line
from nextpair.scoring.leaves import FULL_RACK, mirrored_leave, standing_pins

Reader = Callable[[Sequence[LoggedShot]], Doubt]
"""What a log says of the lanes, as draws that agree with it."""

READ_EVERY = 2
"""Shots from one read to the next: one on each lane of a pair."""
MISREAD_BOARDS = 5.0
FIRST_SHOTS = 10
"""After which the lines for a first game are asked for."""


@dataclass(frozen=True, slots=True)
class Eyes:
    """How a bowler sees shots: by the errors of domain.sight, and now and then five boards wrong.

    misread : share of shots whose breakpoint and arrival are told so.
    """

    seed: int
    misread: float = 0.0

    def logged(self, day: Day, shot: Seen, balls: Sequence[Ball]) -> LoggedShot:
        """What goes into the log of a shot."""
        rng = np.random.default_rng([self.seed, shot.game, shot.frame])
        errors = rng.normal(size=4)
        pins, wrong, side = rng.random(3)
        off = MISREAD_BOARDS * float(np.sign(side - 0.5)) if wrong < self.misread else 0.0
        at_arrows = float(own_boards_of(shot.paths.arrows_x_m[0]))
        laydown = shot.line.own_laydown + float(shot.errors.laydown_boards[0])
        broke = float(own_boards_of(shot.paths.break_x_m[0]))
        impact = shot.paths.impact
        reached = bool(np.isfinite(impact.offset_boards[0]))
        entry = 0.0
        if reached:
            level = level_boards(float(impact.offset_boards[0]), float(impact.entry_angle_deg[0]))
            entry = CENTRE_BOARD - level + ENTRY_ERROR_BOARDS * errors[3] + off
        hand = day.event.bowler.hand

        def told(board: float) -> float:
            return own_board(float(np.clip(board, 0.0, 2 * CENTRE_BOARD)), hand)

        ball = balls[shot.line.option]
        left = _left(day.table, shot, pins) if reached else FULL_RACK
        return LoggedShot(
            id=UUID(int=1000 * shot.game + shot.frame),
            time="",
            game=shot.game,
            frame=shot.frame + 1,
            delivery=1,
            lane=day.pair(shot.game).lanes[shot.side],
            ball=ball.name,
            surface_grit=ball.surface.named if is_resurfaced(day.event, ball) else None,
            laydown_board=told(laydown + LAYDOWN_ERROR_BOARDS * errors[0]),
            target_board=told(at_arrows + TARGET_ERROR_BOARDS * errors[1]),
            breakpoint_board=told(broke + BREAKPOINT_ERROR_BOARDS * errors[2] + off),
            entry_board=told(entry) if reached else None,
            standing_before=frozenset(standing_pins(FULL_RACK)),
            standing_after=frozenset(
                standing_pins(left if hand is Hand.RIGHT else mirrored_leave(left))
            ),
            meant_laydown_board=told(shot.line.own_laydown),
            meant_target_board=told(day.meant_target(shot.game, shot.side, shot.line)),
        )


def _left(table: CarryTable, shot: Seen, place: float) -> int:
    """The leave of a shot, at a place from 0 to 1 among all that it may leave."""
    impact = shot.paths.impact
    chances = table.leave_probability(
        impact.offset_boards[:1], impact.entry_angle_deg[:1], impact.speed_mps[:1]
    )[0]
    found = int(np.searchsorted(np.cumsum(chances) / chances.sum(), place))
    return table.leaves[min(found, len(table.leaves) - 1)]


@dataclass(frozen=True, slots=True)
class Brought:
    """What somebody brings to an event to move by reading.

    options : all balls that lines count; bag : rows of those in the bag. films : what the lanes
    are planned to be. planned : lines by game.
    """

    event: Event
    options: tuple[Ball, ...]
    bag: tuple[int, ...]
    films: LaneFilms
    pins: PinValue
    planned: tuple[Lines, ...]


class ByReading:
    """A bowler who logs every shot, reads the lanes after every second one, and moves when what is
    believed then says that another line, or another ball, scores more."""

    def __init__(self, brought: Brought, day: Day, reader: Reader, eyes: Eyes) -> None:
        self._brought, self._day, self._reader, self._eyes = brought, day, reader, eyes
        self._log: list[LoggedShot] = []
        self._read_at = 0
        self._belief: Doubt | None = None
        self._game = 0
        self._stand = list(brought.planned[0])
        self._bench = self._bench_of(0)
        self.after_ten: tuple[Lines, Lines] | None = None
        """Lines for the first game after ten shots: of each lane, for each half of it."""

    def comes_to(self, game: int) -> None:
        """Take the plan's lines on a new pair; what is believed moves them before a shot."""
        self._game, self._bench = game, self._bench_of(game)
        if game > 1:
            self._stand = list(self._brought.planned[game - 1])

    def line(self, side: int, share: float) -> Line:
        """The best next line by what is believed."""
        self._stand[side] = self._best(side, share)
        return self._stand[side]

    def saw(self, shot: Seen) -> None:
        """Log it."""
        self._log.append(self._eyes.logged(self._day, shot, self._brought.options))
        if len(self._log) == FIRST_SHOTS:
            # A first game is of one stage more than practice.
            game, self._game = self._game, max(self._game, 1)
            self.after_ten = self._by_half(0), self._by_half(1)
            self._game = game

    def _by_half(self, side: int) -> Lines:
        first, second = (self._best(side, share) for share in MIDDLES)
        return first, second

    def _best(self, side: int, share: float) -> Line:
        if len(self._log) >= self._read_at + READ_EVERY:
            self._belief, self._read_at = self._reader(self._log), len(self._log)
        if self._belief is None:
            return self._stand[side]
        event, lane = self._brought.event, self._day.pair(self._game).lanes[side]
        now = lane_now(event, self._brought.films, self._belief, lane, self._game, share)
        moves = next_moves(self._bench, now, self._stand[side], self._brought.bag)
        return next_line(moves, self._stand[side])

    def _bench_of(self, game: int) -> Bench:
        return bench_of(self._brought.event, self._brought.options, game, self._brought.pins)
