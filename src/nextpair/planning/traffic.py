"""What everybody's shots do to every lane: the film of each lane, game by game.

Everybody plans: at each game each bowler takes the line that suits a usual ball of their cover on
the film they find and is not far from the rule of 31, throws it with a usual scatter, and wears
the film on the side they play.
Spare balls are left out: they cross the lane straight, with plastic, and scatter over all boards.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nextpair.domain import typical
from nextpair.domain.ball import Ball, Cover, Role, Surface
from nextpair.domain.bowler import Bowler, Hand, Reach, Release, Scatter
from nextpair.domain.event import DressedLane, Entrant, Event
from nextpair.domain.units import DEGREE_RAD
from nextpair.kernel.flare import ring_spacing_m
from nextpair.kernel.layout import Bodies, Trace, bodies_of, own_frame
from nextpair.kernel.roll import roll
from nextpair.kernel.throws import Errors, erring_shots, lane_kind, release_errors
from nextpair.kernel.wear import Balls, surface_ratios, wear
from nextpair.physics.dressing import film_of
from nextpair.physics.film import rule_of_31_exit_board
from nextpair.physics.forces import landing_m
from nextpair.physics.wear import absorption_s
from nextpair.planning.aim import PinValue
from nextpair.planning.condition import AS_PLANNED, Condition
from nextpair.planning.lines import (
    LineGrid,
    highest_cell,
    line_grid,
    line_values,
)
from nextpair.planning.rotation import (
    Session,
    last_games,
    sessions_on,
)

FloatArray = NDArray[np.float64]

USUAL_AVERAGE = 195.0
"""Average taken for the others, whose own is not on a squad sheet (assumption)."""
HABIT_PINS = 0.2
"""Pins a game that people give up for a line a board off from where they like to leave the oil, by
the rule of 31 or inside or outside of it; for more boards it grows with their square: most play
where the trade says, and leave it when the lane does (assumption)."""
MOST_STAGES = 1000
"""More than there are on one pair: those of the squads before count down from the last."""
LAYDOWN_STEP_BOARDS = 2.5
ANGLE_STEP_RAD = 0.4 * DEGREE_RAD


@dataclass(frozen=True, slots=True)
class Thrower:
    """Somebody on the lanes, as far as wear is concerned."""

    name: str
    hand: Hand
    release: Release
    scatter: Scatter
    grid: LineGrid
    ball: Ball
    bodies: Bodies


@dataclass(frozen=True, slots=True)
class Thrown:
    """What wear needs of n shots.

    Places, own frame, surface ratios and ring spacings (n, 121); where they come down (n,).
    """

    x_m: FloatArray
    surface_ratio: FloatArray
    ring_spacing_m: FloatArray
    landing_m: FloatArray


@dataclass(frozen=True, slots=True)
class LaneFilms:
    """Films [um] in the lane's frame under t equally likely traffics.

    fresh : (120, 39) as laid, by lane.
    stages : (t, 120, 39) at the start of each stage, by lane and stage. Stage 0 is the practice of
        the bowler's squad, stage g game g; the last one ends the bowler's last game there.
    """

    fresh: dict[int, FloatArray]
    stages: dict[tuple[int, int], FloatArray]

    def at(self, lane: int, stage: int) -> FloatArray:
        """Mean film (120, 39) of a lane at the start of a stage."""
        return np.asarray(self.stages[lane, stage].mean(axis=0))

    def drawn(self, lane: int, stage: int, place: FloatArray) -> FloatArray:
        """Films (d, 120, 39) at the start of a stage under the traffics at `place` (d,), 0 to 1
        from the first to the last of them."""
        films = self.stages[lane, stage]
        return np.asarray(films[(place * len(films)).astype(int)])


def throwers(event: Event, own_ball: Ball) -> dict[str, Thrower]:
    """Everybody of all squads by name, the sheet's bowler with their own release and ball.

    A name in several squads is one person, as the last squad lists them; what nobody wrote down is
    usual.
    """
    found = {
        entrant.name: _other_thrower(event, entrant)
        for block in (*event.earlier, event.block)
        for entrant in block.entrants
    }
    return found | {event.bowler_name: _own_thrower(event, event.bowler, own_ball)}


def _own_thrower(event: Event, bowler: Bowler, ball: Ball) -> Thrower:
    return Thrower(
        name=bowler.name,
        hand=bowler.hand,
        release=bowler.release,
        scatter=bowler.scatter,
        grid=_coarse_grid(bowler.reach, bowler.hand),
        ball=ball,
        bodies=bodies_of([ball], event.house, bowler.pap_m),
    )


def _other_thrower(event: Event, entrant: Entrant) -> Thrower:
    hand, release = entrant.likely_hand, entrant.likely_release
    ball = usual_ball(entrant.likely_cover)
    return Thrower(
        name=entrant.name,
        hand=hand,
        release=release,
        scatter=typical.scatter_of(USUAL_AVERAGE, release),
        grid=_coarse_grid(typical.reach_of(hand, typical.SLIDE_TO_LAYDOWN_BOARDS), hand),
        ball=ball,
        bodies=bodies_of([ball], event.house),
    )


def usual_ball(cover: Cover) -> Ball:
    """A middle ball of a cover, for bowlers whose own ball nobody wrote down."""
    usual = typical.ball_of(cover)
    return Ball(
        name=f"a {cover.value} ball",
        mass_kg=typical.BALL_MASS_KG,
        rg_m=usual.rg_m,
        differential_m=usual.differential_m,
        intermediate_m=typical.INTERMEDIATE_M,
        cover=cover,
        surface=Surface(usual.surface_grit, typical.GAMES_ON_SURFACE),
        layout=typical.LAYOUT,
        role=usual.role,
    )


def _coarse_grid(reach: Reach, hand: Hand) -> LineGrid:
    return line_grid(reach, hand, LAYDOWN_STEP_BOARDS, ANGLE_STEP_RAD)


def lane_films(
    event: Event,
    people: dict[str, Thrower],
    pins: PinValue,
    seed: int,
    progress: Callable[[str, int, int], None],
    condition: Condition = AS_PLANNED,
) -> LaneFilms:
    """Films of the lanes that the bowler meets, up to the end of the last game there, under one
    traffic.

    Everybody sees the mean film of a board; what wears is the film as tracks have left it.
    """
    traffic = _Traffic(people, pins, condition, seed)
    fresh: dict[int, FloatArray] = {}
    stages: dict[tuple[int, int], FloatArray] = {}
    last = last_games(event)
    for number, (pair, last_game) in enumerate(last.items(), start=1):
        sessions = sessions_on(event, pair, last_game)
        left, right = (
            _Laid(
                event.lane(lane),
                condition.dressed.get(lane, film_of(event.pattern_of(lane))),
                tuple(session.shots_each[side] for session in sessions),
            )
            for side, lane in enumerate(pair.lanes)
        )
        films = _films(left, sessions, traffic, last_game)
        on_right = films if right.is_like(left) else _films(right, sessions, traffic, last_game)
        for laid, found in ((left, films), (right, on_right)):
            fresh[laid.lane.number] = laid.film
            stages |= {(laid.lane.number, stage): film[None] for stage, film in found.items()}
        progress("wearing the lanes", number, len(last))
    return LaneFilms(fresh, stages)


@dataclass(frozen=True, slots=True)
class _Traffic:
    """Who throws, what an impact is worth to them, how things really are, and the seed of their
    release errors."""

    people: dict[str, Thrower]
    pins: PinValue
    condition: Condition
    seed: int


@dataclass(frozen=True, slots=True)
class _Laid:
    """One lane, its film as laid (120, 39), and the shots that each bowler of each session has on
    it."""

    lane: DressedLane
    film: FloatArray
    shots_each: tuple[int, ...]

    def is_like(self, other: _Laid) -> bool:
        """Whether another lane wears alike."""
        kinds = [lane_kind(laid.lane, Hand.RIGHT) for laid in (self, other)]
        return (
            self.shots_each == other.shots_each
            and kinds[0].is_like(kinds[1])
            and np.array_equal(self.film, other.film)
        )


def _films(
    laid: _Laid, sessions: tuple[Session, ...], traffic: _Traffic, last_game: int
) -> dict[int, FloatArray]:
    """Films of a lane by stage: those of the squads before count up to 0."""
    film = strips = laid.film
    first = last_game + 1 - len(sessions)
    found = {first: film}
    for stage, (session, shots) in enumerate(zip(sessions, laid.shots_each, strict=True), first):
        group = [traffic.people[entrant.name] for entrant in session.entrants]
        film, strips = _worn(laid.lane, (film, strips), group, shots, traffic, stage)
        found[stage + 1] = film
    return {stage: film for stage, film in found.items() if stage >= 0}


def _worn(
    lane: DressedLane,
    films: tuple[FloatArray, FloatArray],
    group: list[Thrower],
    shots: int,
    traffic: _Traffic,
    stage: int,
) -> tuple[FloatArray, FloatArray]:
    """A lane's film, by boards and by strips, after so many shots by everybody of a group in turn.

    Everybody throws one ball, wiped between shots; what the towel leaves comes back to this lane.
    """
    if not group or shots == 0:
        return films
    film, strips = films
    x_m, ratio, spacing, landing_m = [], [], [], []
    first_seed = traffic.seed + 1000 * (stage % MOST_STAGES)
    for number, person in enumerate(group):
        errors = release_errors(person.scatter, shots, first_seed + number)
        thrown = _thrown(lane, film, person, errors, traffic)
        x_m.append(person.hand.sign * thrown.x_m)
        ratio.append(thrown.surface_ratio)
        spacing.append(thrown.ring_spacing_m)
        landing_m.append(thrown.landing_m)
    balls = Balls(
        index=np.tile(np.arange(len(group)), shots),
        absorption_s=np.array([absorption_s(person.ball.cover) for person in group]),
    )
    after = wear(
        strips,
        _in_turn(x_m),
        _in_turn(ratio),
        _in_turn(spacing),
        landing_m=_in_turn(landing_m),
        balls=balls,
        law=traffic.condition.law,
    )
    return after.film_um, after.strips_um


def _in_turn(by_person: list[FloatArray]) -> FloatArray:
    """Shots of several people (shots, ...) in the order thrown: everybody's first, and so on."""
    turns = np.stack(by_person, axis=1)
    return turns.reshape(-1, *turns.shape[2:])


def _thrown(
    lane: DressedLane,
    film: FloatArray,
    person: Thrower,
    errors: Errors,
    traffic: _Traffic,
) -> Thrown:
    """One person's shots on a lane, with these errors."""
    kind = lane_kind(lane, person.hand)
    dry_factor = traffic.condition.dry_factor
    own = np.ascontiguousarray(own_frame(film, person.hand))[None]
    values = line_values(
        own,
        np.array([dry_factor]),
        person.release,
        person.scatter,
        kind,
        person.bodies,
        traffic.pins,
        person.grid,
    )
    liked_exit_board = rule_of_31_exit_board(kind.length_m, Hand.RIGHT)
    liked_exit_board += traffic.condition.habits.get(person.name, 0.0)
    off_boards = values.exit_board[0] - liked_exit_board
    row, column = highest_cell(values.mean_value[0] - HABIT_PINS * off_boards**2)
    deliveries = erring_shots(
        person.release,
        kind,
        errors,
        own_laydown=person.grid.own_laydown[row],
        launch_angle_rad=person.grid.angle_rad[column],
        dry_factor=dry_factor,
    )
    paths = roll(kind.under(own), person.bodies, deliveries, record=True)
    trace = np.asarray(paths.trace, float)
    return Thrown(
        trace[Trace.X].T,
        surface_ratios(trace),
        ring_spacing_m(trace, paths.turns),
        landing_m(trace[Trace.V_Y, 0], person.release.loft_m),
    )


def starting_ball(event: Event) -> Ball:
    """The ball taken for the bowler's own wear before the bag is chosen: the middle strike ball
    by differential."""
    strikes = [ball for ball in event.locker if ball.role is Role.STRIKE]
    ranked = sorted(strikes, key=lambda ball: (ball.differential_m, ball.name))
    return ranked[len(ranked) // 2]
