"""The best ball and line at each leave, and what the usual systems make of it. Own frame."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nextpair.carry.spares import leave_odds, shipped_spares
from nextpair.carry.table import CarryTable
from nextpair.domain.ball import Ball, Role
from nextpair.domain.event import Event
from nextpair.kernel.layout import bodies_of
from nextpair.planning.aim import pin_value
from nextpair.planning.lines import LineValues, line_grid, line_values
from nextpair.planning.options import packed_spares
from nextpair.planning.sheet import SPEED_KEPT
from nextpair.planning.spare_shots import (
    TRIAL_ERRORS,
    Delivery,
    Range,
    SpareShot,
    best_shots,
    fresh_range,
    spare_chances,
    spare_shots,
)
from nextpair.planning.spare_systems import Move, system_moves
from nextpair.planning.trial import Line
from nextpair.scoring.leaves import PINS, pin_bit, pin_count

FloatArray = NDArray[np.float64]

MOST_BALLS = 6
"""Balls that are tried where the event has no limit, or a wider one."""
ALIKE_BALLS = 0.02
"""Balls whose worth differs by less are as good as each other."""
SEVERAL_TOLD = 10
"""Leaves of two pins and more that are told where none was asked for."""


@dataclass(frozen=True, slots=True)
class StrikeLine:
    """The best strike ball and its best line on the lane, with what it leaves: by leave, the share
    of the first balls that leave something."""

    ball: Ball
    line: Line
    own_target: float
    left: dict[int, float]


@dataclass(frozen=True, slots=True)
class SystemShot:
    """What a system's line does with the strike ball."""

    move: Move
    shot: SpareShot


@dataclass(frozen=True, slots=True)
class SparePlan:
    """One leave: the best shot of each delivery, best first, and the systems' shots."""

    leave: int
    shots: tuple[SpareShot, ...]
    systems: tuple[SystemShot, ...]


@dataclass(frozen=True, slots=True)
class SparePlans:
    """Plans of several leaves from one strike line."""

    strike: StrikeLine
    plans: tuple[SparePlan, ...]


def plan_spares(
    event: Event, table: CarryTable, seed: int, asked: Sequence[int] = ()
) -> SparePlans:
    """Plan the leaves asked for (masks, own frame); without any the single pins and what the
    strike line leaves most."""
    lanes = fresh_range(event, seed)
    strikes, values = _ranked_strikes(event, lanes, table, seed)
    strike = _strike_line(lanes, strikes[0], values, table)
    leaves = tuple(asked) or _told(strike)
    by_ball = [
        best_shots(lanes, lanes.every_line(delivery), leaves)
        for delivery in deliveries(event, strikes)
    ]
    return SparePlans(
        strike,
        tuple(
            SparePlan(leave, _ranked(shots), _system_shots(lanes, leave, strike))
            for leave, shots in zip(leaves, zip(*by_ball, strict=True), strict=True)
        ),
    )


def deliveries(event: Event, strikes: Sequence[Ball]) -> tuple[Delivery, ...]:
    """What may be thrown at a leave: the spare ball that comes along, flat, and the best strike
    balls as the event's limit leaves room, as at a full rack; without a spare ball also the best
    of them flat."""
    spares = packed_spares(event)
    room = min(event.ball_limit or MOST_BALLS, MOST_BALLS) - len(spares)
    flat = [Delivery(ball, flat=True) for ball in (spares or strikes[:1])]
    return (*flat, *(Delivery(ball, flat=False) for ball in strikes[: max(room, 1)]))


def _ranked(shots: Sequence[SpareShot]) -> tuple[SpareShot, ...]:
    """Best first; where balls are alike, one thrown flat and then the better strike ball."""
    most = max(shot.worth for shot in shots)
    first = next(shot for shot in shots if shot.worth >= most - ALIKE_BALLS)
    rest = sorted((shot for shot in shots if shot is not first), key=lambda shot: -shot.worth)
    return (first, *rest)


def _ranked_strikes(
    event: Event, lanes: Range, table: CarryTable, seed: int
) -> tuple[tuple[Ball, ...], LineValues]:
    """Strike balls as they are, the one that scores best on the lane first; and their lines."""
    bowler = event.bowler
    spares = spare_chances(event, table.leaves, seed)
    pins = pin_value(table, spares, SPEED_KEPT * bowler.release.speed_mps)
    balls = [ball for ball in event.locker if ball.role is Role.STRIKE]

    def valued(some: Sequence[Ball]) -> LineValues:
        return line_values(
            lanes.film_um[None],
            np.ones(1),
            bowler.release,
            bowler.scatter,
            lanes.kind,
            bodies_of(list(some), event.house, bowler.pap_m),
            pins,
            line_grid(bowler.reach, bowler.hand),
        )

    values = valued(balls)
    order = np.argsort(-values.best_value(), kind="stable")
    ranked = tuple(balls[i] for i in order)
    return ranked, valued(ranked[:1])


def _strike_line(lanes: Range, ball: Ball, values: LineValues, table: CarryTable) -> StrikeLine:
    row, column = values.best_cell(0)
    line = Line(0, float(values.grid.own_laydown[row]), float(values.grid.angle_rad[column]))
    thrown = lanes.throws(
        Delivery(ball, flat=False), line.own_laydown, line.angle_rad, TRIAL_ERRORS
    )
    chances = table.leave_probability(
        thrown.offset_boards[0], thrown.entry_angle_deg[0], thrown.speed_mps[0]
    ).mean(axis=0)
    left = {leave: float(chances[i]) for i, leave in enumerate(table.leaves) if leave}
    total = sum(left.values()) or 1.0
    shares = {leave: share / total for leave, share in left.items()}
    return StrikeLine(ball, line, float(thrown.own_target[0]), shares)


def _told(strike: StrikeLine) -> tuple[int, ...]:
    """The ten single pins and the commonest leaves of more, often left first."""
    singles = [pin_bit(pin) for pin in range(1, PINS + 1)]
    several = [
        leave for leave in strike.left if pin_count(leave) > 1 and shipped_spares().holds(leave)
    ]
    several.sort(key=lambda leave: -strike.left[leave])
    told = [*singles, *several[:SEVERAL_TOLD]]
    return tuple(sorted(told, key=lambda leave: -strike.left.get(leave, 0.0)))


def _system_shots(lanes: Range, leave: int, strike: StrikeLine) -> tuple[SystemShot, ...]:
    moves = system_moves(leave, strike.line)
    if not moves:
        return ()
    throws = lanes.throws(
        Delivery(strike.ball, flat=False),
        [move.own_laydown for move in moves],
        [move.angle_rad for move in moves],
        TRIAL_ERRORS,
    )
    shots = spare_shots(throws, leave_odds(leave))
    return tuple(SystemShot(move, shot) for move, shot in zip(moves, shots, strict=True))
