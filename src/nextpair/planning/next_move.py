"""The next shot on a lane: what every change is worth there by what is believed now.

A belief is a doubt whose draws agree with the shots seen. Every option is valued under each draw,
on the film of this minute and with the release of the day, so that what it gains over staying is
known with its own spread.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.ball import Ball
from nextpair.domain.belief import MoveKind
from nextpair.domain.bowler import Scatter
from nextpair.domain.event import Event
from nextpair.kernel.layout import bodies_of, own_frame
from nextpair.kernel.throws import Form, LaneKind, lane_kind, usual_form
from nextpair.physics.film_draws import drawn_films
from nextpair.planning.aim import PinValue
from nextpair.planning.doubt import Doubt
from nextpair.planning.lines import ALIKE_PINS, LineGrid, LineValues, line_grid, line_values
from nextpair.planning.options import in_game
from nextpair.planning.traffic import LaneFilms
from nextpair.planning.trial import Line, line_of

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class LaneNow:
    """A lane as it is believed to be at one moment, in the bowler's frame: films (d, 120, 39)
    [um], factors (d,) on dry friction, the release of the day (d,), and boards (d,) that balls
    arrive farther inside than they are rolled; see planning.doubt."""

    kind: LaneKind
    films: FloatArray
    dry_factor: FloatArray
    form: Form
    inside_boards: FloatArray
    scatter: Scatter


def lane_now(
    event: Event, films: LaneFilms, doubt: Doubt, lane: int, game: int, share: float
) -> LaneNow:
    """A lane when a share of a game is over (0: practice), as a doubt has it."""
    own = doubt.of_lane(lane)
    hand = event.bowler.hand
    fresh, start, end = (
        np.ascontiguousarray(own_frame(film, hand))
        for film in (
            films.fresh[lane],
            films.drawn(lane, game, own.traffic),
            films.drawn(lane, game + 1, own.traffic),
        )
    )
    kind = lane_kind(event.lane(lane), hand)
    worn = start + share * (end - start)
    return LaneNow(
        kind=kind,
        films=drawn_films(fresh, worn, own.oil, kind.length_m),
        dry_factor=own.dry_factor,
        form=own.form or usual_form(len(own)),
        inside_boards=np.zeros(len(own)) if own.inside_boards is None else own.inside_boards,
        scatter=own.scatter_of(event.bowler.release, event.bowler.scatter),
    )


@dataclass(frozen=True, slots=True)
class Move:
    """One thing to do on the next shot: a line, whose option is a row of the balls in the bag.

    value_by_draw : (d,) expected pins of a game thrown so. gain_by_draw : (d,) over staying.
    """

    kind: MoveKind
    line: Line
    value_by_draw: FloatArray
    gain_by_draw: FloatArray

    @property
    def gain_pins(self) -> float:
        """Expected gain over staying."""
        return float(self.gain_by_draw.mean())

    @property
    def better_probability(self) -> float:
        """Chance of any gain over staying."""
        return float((self.gain_by_draw > 0).mean())


@dataclass(frozen=True, slots=True)
class Bench:
    """What the moves of one bowler in one game are weighed with: the balls at hand, as they are
    by then, and the lines within reach."""

    event: Event
    balls: tuple[Ball, ...]
    pins: PinValue
    grid: LineGrid

    def values(self, now: LaneNow, balls: Sequence[int]) -> LineValues:
        """Value of every line with some of the balls on a lane as it is now."""
        bowler = self.event.bowler
        return line_values(
            now.films,
            now.dry_factor,
            bowler.release,
            now.scatter,
            now.kind,
            bodies_of([self.balls[ball] for ball in balls], self.event.house, bowler.pap_m),
            self.pins,
            self.grid,
            form=now.form,
            inside_boards=now.inside_boards,
        )


def bench_of(event: Event, balls: Sequence[Ball], game: int, pins: PinValue) -> Bench:
    """The balls at hand in a game."""
    return Bench(
        event,
        tuple(in_game(event, ball, max(game, 1)) for ball in balls),
        pins,
        line_grid(event.bowler.reach, event.bowler.hand),
    )


def next_moves(
    bench: Bench, now: LaneNow, stand: Line, others: Sequence[int] = ()
) -> tuple[Move, ...]:
    """What to do on the next shot from where one stands, best first, staying among it.

    `others` are further balls, beside the one in hand, that may be taken.
    """
    balls = (stand.option, *(ball for ball in others if ball != stand.option))
    values = bench.values(now, balls)
    stay = _by_draw(values, 0, stand)
    found = [Move(MoveKind.STAY, stand, stay, np.zeros_like(stay))]
    for row, ball in enumerate(balls):
        near = (stand.own_laydown, stand.angle_rad)
        line = line_of(values.grid, ball, values.best_cell(row, near))
        there = _by_draw(values, row, line)
        kind = MoveKind.BALL if row else MoveKind.FEET_AND_TARGET
        found.append(Move(kind, line, there, there - stay))
    return tuple(sorted(found, key=lambda move: -move.gain_pins))


def next_line(moves: Sequence[Move], stand: Line, least_pins: float = ALIKE_PINS) -> Line:
    """The line of the best move, or where one stands if that gains too little: nobody moves for
    less, and another ball must be worth as much again as a move of the one in hand."""
    best = moves[0]
    if best.gain_pins < least_pins:
        return stand
    same = next(move for move in moves if move.line.option == stand.option)
    if best.kind is MoveKind.BALL and best.gain_pins < same.gain_pins + least_pins:
        return same.line if same.gain_pins >= least_pins else stand
    return best.line


def _by_draw(values: LineValues, row: int, line: Line) -> FloatArray:
    """Value (d,) of a line of some ball in each draw."""
    laydown, angle = values.grid.cell_of(line.own_laydown, line.angle_rad)
    return np.asarray(values.value[row, :, laydown, angle], float)
