"""How to shoot a leave: every line of a ball in reach, with the bowler's scatter, and the best.

Paths are the kernel's, hook and gutters included, on the film as laid. They do not depend on the
leave, so each ball's lines are rolled once for all leaves. All is in the bowler's own frame.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.ndimage import gaussian_filter
from scipy.special import ndtri
from scipy.stats import qmc

from nextpair.carry.spares import LeaveOdds, leave_odds, sampling_error, shipped_spares
from nextpair.domain.ball import Ball
from nextpair.domain.bowler import Release, Scatter
from nextpair.domain.event import Event
from nextpair.domain.lane import BOARD_M, BOARDS, CENTRE_BOARD
from nextpair.domain.units import DEGREE_RAD
from nextpair.kernel.layout import bodies_of, own_frame
from nextpair.kernel.roll import roll
from nextpair.kernel.throws import Errors, LaneKind, lane_kind, own_boards_of, shots_of
from nextpair.physics.dressing import film_of
from nextpair.planning.aim import second_ball_worth
from nextpair.planning.doubt import DRY_FRICTION_SD, FILM_SD
from nextpair.planning.lines import AIM_RAD, line_grid
from nextpair.planning.options import packed_spares
from nextpair.planning.traffic import starting_ball

FloatArray = NDArray[np.float64]

UNSEEN_BOARDS = 0.75
"""What strays at the pins beside the bowler's scatter and the doubt about the lane, one standard
deviation. Fitted to the corner pins that televised professionals make, 95.9 % of 10 pins and 95.5
% of 7 pins, by a plastic ball of a tour player's release and scatter on the bundled pattern.
Source: [facts] section 9."""
FLAT_ROTATION_SHARE = 1.0 / 3.0
"""Share of the own axis rotation that is left where a ball is thrown flat, so that it hooks less:
how bowlers throw at spares. Common practice, from memory; its size is an assumption, to be tested
by logged shots."""
LAYDOWN_STEP_BOARDS = 3.0
ANGLE_STEP_RAD = 0.1 * DEGREE_RAD
ERRORS = 64
"""Release errors with which every line is tried."""
TRIAL_ERRORS = 256
"""Release errors with which a chosen line is tried again, others than it was chosen with."""
ALIKE = 0.015
"""Lines whose worth differs by less are alike; the one with more room is taken."""
ROOM_RAD = 0.3 * DEGREE_RAD
"""Spread of launch angles over which the room of a line is weighed: three boards at the pins and
more."""
LANE_EDGE_BOARDS = 0.5 * BOARDS
"""From the lane's middle to its edge: a ball whose centre is beyond rolls in the gutter."""
ROOM_PER_BOARD = 0.002
"""Room that a line may lack for each board that it crosses the arrows nearer the middle one, where
the lane is oiled most and a ball keeps straightest. Source: [facts] section 8, the straight line
at a 10 pin over the centre arrow; its weight is an assumption."""


@dataclass(frozen=True, slots=True)
class Delivery:
    """A ball and how it is thrown: as at a full rack, or flat."""

    ball: Ball
    flat: bool

    def release(self, own: Release) -> Release:
        """What leaves the hand."""
        share = FLAT_ROTATION_SHARE if self.flat else 1.0
        return replace(own, axis_rotation_rad=share * own.axis_rotation_rad)


@dataclass(frozen=True, slots=True, eq=False)
class Throws:
    """l lines of one ball, each thrown with e errors: own boards and angles (l,), entries (l, e).

    Entries are NaN where a ball is in the gutter before the pins.
    """

    delivery: Delivery
    own_laydown: FloatArray
    angle_rad: FloatArray
    own_target: FloatArray
    offset_boards: FloatArray
    entry_angle_deg: FloatArray
    speed_mps: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class EveryLine:
    """All lines of a ball: `shape` is how many lay-downs by how many angles."""

    throws: Throws
    shape: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class SpareShot:
    """One line of one ball at one leave.

    offset_boards, entry_angle_deg, speed_mps : the middle of its shots at the pins; NaN where none
        arrives.
    spread_boards : standard deviation of where its shots pass the pins.
    chance, chance_error : of making the leave, and the standard error that the rolls behind it
        leave. worth : what it brings, a spare being 1 (planning.aim). mean_pins : pins taken.
    left : what stands after a miss, likeliest first, as a mask with its chance.
    """

    delivery: Delivery
    own_laydown: float
    angle_rad: float
    own_target: float
    offset_boards: float
    entry_angle_deg: float
    speed_mps: float
    spread_boards: float
    worth: float
    mean_pins: float
    chance: float
    chance_error: float
    left: tuple[tuple[int, float], ...]


@dataclass(frozen=True, slots=True)
class Range:
    """Where spares are thrown: a bowler on one lane's film as laid, with a seed for the errors."""

    event: Event
    kind: LaneKind
    film_um: FloatArray
    seed: int

    def throws(
        self, delivery: Delivery, own_laydown: ArrayLike, angle_rad: ArrayLike, count: int
    ) -> Throws:
        """Some lines (l,), each with `count` errors of the bowler, the lane and the rest."""
        laydown, angle = (np.atleast_1d(np.asarray(v, float)) for v in (own_laydown, angle_rad))
        errors, dry_factor, film_factor, unseen_boards = _strays(
            self.event.bowler.scatter, count, self.seed
        )
        shots = shots_of(
            delivery.release(self.event.bowler.release),
            self.kind,
            own_laydown=laydown[:, None] + errors.laydown_boards,
            launch_angle_rad=angle[:, None] + errors.launch_angle_rad,
            speed_change_mps=errors.speed_mps,
            rev_change_radps=errors.rev_rate_radps,
            rotation_change_rad=errors.axis_rotation_rad,
            dry_factor=dry_factor,
            film_factor=film_factor,
        )
        bodies = bodies_of([delivery.ball], self.event.house, self.event.bowler.pap_m)
        paths = roll(self.kind.under(self.film_um), bodies, shots)
        impact, shape = paths.impact, (len(laydown), count)
        closest_boards = paths.break_x_m.reshape(shape) / BOARD_M + unseen_boards
        offset, entry, speed = (
            column.reshape(shape)
            for column in (
                impact.offset_boards,
                impact.entry_angle_deg,
                impact.speed_mps,
            )
        )
        return Throws(
            delivery=delivery,
            own_laydown=laydown,
            angle_rad=angle,
            own_target=own_boards_of(paths.arrows_x_m.reshape(shape).mean(axis=1)),
            offset_boards=np.where(
                closest_boards <= LANE_EDGE_BOARDS, offset + unseen_boards, np.nan
            ),
            entry_angle_deg=entry,
            speed_mps=speed,
        )

    def every_line(self, delivery: Delivery) -> EveryLine:
        """All lines within the bowler's reach."""
        bowler = self.event.bowler
        grid = line_grid(
            bowler.reach, bowler.hand, LAYDOWN_STEP_BOARDS, ANGLE_STEP_RAD, strays=False
        )
        laydown, angle = np.meshgrid(grid.laydown.rolled, grid.angle.rolled, indexing="ij")
        return EveryLine(
            self.throws(delivery, laydown.ravel(), angle.ravel(), ERRORS), laydown.shape
        )


def fresh_range(event: Event, seed: int) -> Range:
    """The left lane of the bowler's first pair, as laid."""
    number = event.start_pair.lanes[0]
    film = own_frame(film_of(event.pattern_of(number)), event.bowler.hand)
    kind = lane_kind(event.lane(number), event.bowler.hand)
    return Range(event, kind, np.ascontiguousarray(film), seed)


def best_line(every: EveryLine, odds: LeaveOdds) -> int:
    """The line worth most, spares and pins counted; of lines alike the one with most room, and of
    those the one nearest the middle arrow."""
    throws = every.throws
    main = odds.made_and_taken(throws.offset_boards, throws.entry_angle_deg).mean(axis=1)
    worth = second_ball_worth(odds.leave, main[:, 0], main[:, 1]).reshape(every.shape)
    near = gaussian_filter(worth, (0.0, AIM_RAD / ANGLE_STEP_RAD), mode="nearest").ravel()
    wide = gaussian_filter(
        worth, (0.0, ROOM_RAD / ANGLE_STEP_RAD), mode="constant", cval=worth.min()
    ).ravel()
    preferred = wide - ROOM_PER_BOARD * np.abs(throws.own_target - CENTRE_BOARD)
    return int(np.argmax(np.where(near >= near.max() - ALIKE, preferred, -np.inf)))


def spare_shots(throws: Throws, odds: LeaveOdds) -> tuple[SpareShot, ...]:
    """Each line's shot at a leave."""
    main = odds.made_and_taken(throws.offset_boards, throws.entry_angle_deg).mean(axis=1)
    left = odds.left(throws.offset_boards, throws.entry_angle_deg).mean(axis=1)
    return tuple(
        SpareShot(
            delivery=throws.delivery,
            own_laydown=float(throws.own_laydown[row]),
            angle_rad=float(throws.angle_rad[row]),
            own_target=float(throws.own_target[row]),
            offset_boards=_middle(throws.offset_boards[row]),
            entry_angle_deg=_middle(throws.entry_angle_deg[row]),
            speed_mps=_middle(throws.speed_mps[row]),
            spread_boards=_spread(throws.offset_boards[row]),
            worth=float(second_ball_worth(odds.leave, main[row, 0], main[row, 1])),
            mean_pins=float(main[row, 1]),
            chance=float(left[row, 0]),
            chance_error=sampling_error(
                odds, throws.offset_boards[row], throws.entry_angle_deg[row]
            ),
            left=_likeliest(odds.outcomes[1:], left[row, 1:]),
        )
        for row in range(len(left))
    )


def best_shots(lanes: Range, every: EveryLine, leaves: Sequence[int]) -> tuple[SpareShot, ...]:
    """A ball's best shot at each leave (own frame), its chance from errors of its own."""
    odds = [leave_odds(leave) for leave in leaves]
    rows = [best_line(every, each) for each in odds]
    again = _tried_again(lanes, every, rows)
    return tuple(
        shot
        for each, throws in zip(odds, again, strict=True)
        for shot in spare_shots(throws, each)
    )


def spare_chances(event: Event, leaves: Sequence[int], seed: int) -> FloatArray:
    """Chance of making each leave (len(leaves),), own frame, with the ball brought for spares.

    Without one it is the middle strike ball; either is thrown flat. Nothing standing counts as
    made; a leave that nobody rolled at counts as missed, which is the least it can be.
    """
    lanes = fresh_range(event, seed)
    ball = next(iter(packed_spares(event)), None) or starting_ball(event)
    every = lanes.every_line(Delivery(ball, flat=True))
    known = [leave for leave in leaves if leave and shipped_spares().holds(leave)]
    odds = [leave_odds(leave) for leave in known]
    again = _tried_again(lanes, every, [best_line(every, each) for each in odds])
    made = {
        leave: float(each.made(throws.offset_boards, throws.entry_angle_deg).mean())
        for leave, each, throws in zip(known, odds, again, strict=True)
    }
    return np.array([made.get(leave, 0.0) if leave else 1.0 for leave in leaves])


def _tried_again(lanes: Range, every: EveryLine, rows: Sequence[int]) -> Iterable[Throws]:
    """Each of some lines alone, with errors that it was not chosen with."""
    chosen = sorted(set(rows))
    other = Range(lanes.event, lanes.kind, lanes.film_um, lanes.seed + 1)
    lines = every.throws
    tried = other.throws(
        lines.delivery, lines.own_laydown[chosen], lines.angle_rad[chosen], TRIAL_ERRORS
    )
    return [_alone(tried, chosen.index(row)) for row in rows]


def _alone(throws: Throws, row: int) -> Throws:
    only = slice(row, row + 1)
    return Throws(
        throws.delivery,
        throws.own_laydown[only],
        throws.angle_rad[only],
        throws.own_target[only],
        throws.offset_boards[only],
        throws.entry_angle_deg[only],
        throws.speed_mps[only],
    )


def _strays(
    scatter: Scatter, count: int, seed: int
) -> tuple[Errors, FloatArray, FloatArray, FloatArray]:
    """Low-discrepancy errors of n shots, a power of two: of the bowler, as factors on dry friction
    and film, and of all the rest at the pins [boards]."""
    normal = ndtri(qmc.Sobol(8, scramble=True, rng=np.random.default_rng(seed)).random(count)).T
    errors = Errors(
        laydown_boards=scatter.laydown_boards * normal[0],
        launch_angle_rad=scatter.launch_angle_rad * normal[1],
        speed_mps=scatter.speed_mps * normal[2],
        rev_rate_radps=scatter.rev_rate_radps * normal[3],
        axis_rotation_rad=scatter.axis_rotation_rad * normal[4],
    )
    dry_factor, film_factor = np.exp(DRY_FRICTION_SD * normal[5]), np.exp(FILM_SD * normal[6])
    return errors, dry_factor, film_factor, UNSEEN_BOARDS * normal[7]


def _spread(values: FloatArray) -> float:
    arrived = values[np.isfinite(values)]
    return float(arrived.std()) if len(arrived) else 0.0


def _middle(values: FloatArray) -> float:
    arrived = values[np.isfinite(values)]
    return float(np.median(arrived)) if len(arrived) else float("nan")


def _likeliest(outcomes: tuple[int, ...], chances: FloatArray) -> tuple[tuple[int, float], ...]:
    order = np.argsort(-chances, kind="stable")
    return tuple((outcomes[i], float(chances[i])) for i in order if chances[i] > 0.0)
