"""What everybody's shots do to every lane: the film of each lane, game by game.

Everybody plans: at each game each bowler takes the line that suits a usual ball of their cover on
the film they find and is not far from the rule of 31, throws it with a usual scatter, and wears
the film on the side they play.
Spare balls are left out: they cross the lane straight, with plastic, and scatter over all boards.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.ball import Ball, Cover, Role, Surface
from nextpair.domain.bowler import Bowler, Hand, Reach, Release, Scatter
from nextpair.domain.event import DressedLane, Entrant, Event, Pair
from nextpair.domain.typical import (
    BALL_MASS_KG,
    GAMES_ON_SURFACE,
    INTERMEDIATE_M,
    LAYOUT,
    SLIDE_TO_LAYDOWN_BOARDS,
    ball_of,
    reach_of,
    release_of,
    scatter_of,
)
from nextpair.domain.units import DEGREE_RAD
from nextpair.kernel.flare import ring_spacing_m
from nextpair.kernel.layout import Bodies, Trace, bodies_of, own_frame
from nextpair.kernel.roll import roll
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
    FRAMES_PER_LANE,
    entrants_on,
    last_games,
    practice_shots_per_bowler,
)
from nextpair.planning.throws import lane_kind, release_errors, shots_of

FloatArray = NDArray[np.float64]

USUAL_AVERAGE = 195.0
"""Average taken for the others, whose own is not on a squad sheet (assumption)."""
HABIT_PINS = 0.2
"""Pins a game that people give up for a line a board off from where they like to leave the oil, by
the rule of 31 or inside or outside of it; for more boards it grows with their square: most play
where the trade says, and leave it when the lane does (assumption)."""
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
    """Films (120, 39) [um] in the lane's frame: as laid, and at the start of each stage.

    Stage 0 is practice, stage g game g; the last one is the end of the bowler's last game there.
    """

    fresh: dict[int, FloatArray]
    stages: dict[tuple[int, int], FloatArray]

    def at(self, lane: int, stage: int) -> FloatArray:
        """Film of a lane at the start of a stage."""
        return self.stages[lane, stage]


def throwers(event: Event, own_ball: Ball) -> dict[str, Thrower]:
    """Everybody in the squad by name; the sheet's bowler with their own release and ball."""
    found: dict[str, Thrower] = {}
    for entrant in event.squad:
        own = entrant.name == event.bowler_name
        found[entrant.name] = (
            _own_thrower(event, event.bowler, own_ball) if own else _other_thrower(event, entrant)
        )
    return found


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
    ball = usual_ball(entrant.cover)
    release = replace(
        release_of(entrant.style),
        speed_mps=entrant.speed_mps,
        rev_rate_radps=entrant.rev_rate_radps,
    )
    reach = reach_of(entrant.hand, SLIDE_TO_LAYDOWN_BOARDS)
    return Thrower(
        name=entrant.name,
        hand=entrant.hand,
        release=release,
        scatter=scatter_of(USUAL_AVERAGE, release),
        grid=_coarse_grid(reach, entrant.hand),
        ball=ball,
        bodies=bodies_of([ball], event.house),
    )


def usual_ball(cover: Cover) -> Ball:
    """A middle ball of a cover, for bowlers whose own ball nobody wrote down."""
    usual = ball_of(cover)
    return Ball(
        name=f"a {cover.value} ball",
        mass_kg=BALL_MASS_KG,
        rg_m=usual.rg_m,
        differential_m=usual.differential_m,
        intermediate_m=INTERMEDIATE_M,
        cover=cover,
        surface=Surface(usual.surface_grit, GAMES_ON_SURFACE),
        layout=LAYOUT,
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
    """Films of the lanes that the bowler meets, up to the end of the last game there.

    Everybody sees the mean film of a board; what wears is the film as tracks have left it.
    """
    fresh: dict[int, FloatArray] = {}
    stages: dict[tuple[int, int], FloatArray] = {}
    last = last_games(event)
    for number, (pair, last_game) in enumerate(last.items(), start=1):
        worn = {lane: condition.dressed.get(lane, _dressed(event, lane)) for lane in pair.lanes}
        fresh |= worn
        stages |= {(lane, 0): film for lane, film in worn.items()}
        for stage in range(last_game + 1):
            group = [people[entrant.name] for entrant in entrants_on(event, pair, stage)]
            for lane, shots in zip(pair.lanes, _shots_by_lane(event, pair, stage), strict=True):
                stages[lane, stage + 1], worn[lane] = _worn(
                    event.lane(lane),
                    (stages[lane, stage], worn[lane]),
                    group,
                    shots,
                    pins,
                    condition,
                    seed + 1000 * stage,
                )
        progress("wearing the lanes", number, len(last))
    return LaneFilms(fresh, stages)


def _dressed(event: Event, lane: int) -> FloatArray:
    return film_of(event.pattern_of(lane))


def _shots_by_lane(event: Event, pair: Pair, stage: int) -> tuple[int, int]:
    """Shots each bowler of a group has on the left and on the right lane of a pair."""
    if stage:
        return FRAMES_PER_LANE, FRAMES_PER_LANE
    both = practice_shots_per_bowler(event, pair)
    return (both + 1) // 2, both // 2


def _worn(
    lane: DressedLane,
    films: tuple[FloatArray, FloatArray],
    group: list[Thrower],
    shots: int,
    pins: PinValue,
    condition: Condition,
    seed: int,
) -> tuple[FloatArray, FloatArray]:
    """A lane's film, by boards and by strips, after so many shots by everybody of a group in turn.

    Everybody throws one ball, wiped between shots; what the towel leaves comes back to this lane.
    """
    if not group or shots == 0:
        return films
    film, strips = films
    x_m, ratio, spacing, landing_m = [], [], [], []
    for number, person in enumerate(group):
        thrown = _thrown(lane, film, person, shots, pins, condition, seed + number)
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
        law=condition.law,
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
    shots: int,
    pins: PinValue,
    condition: Condition,
    seed: int,
) -> Thrown:
    """One person's shots on a lane."""
    kind = lane_kind(lane, person.hand)
    dry_factor = condition.dry_factor
    own = np.ascontiguousarray(own_frame(film, person.hand))[None]
    values = line_values(
        own,
        np.array([dry_factor]),
        person.release,
        person.scatter,
        kind,
        person.bodies,
        pins,
        person.grid,
    )
    liked_exit_board = rule_of_31_exit_board(kind.length_m, Hand.RIGHT)
    liked_exit_board += condition.habits.get(person.name, 0.0)
    off_boards = values.exit_board[0] - liked_exit_board
    row, column = highest_cell(values.mean_value[0] - HABIT_PINS * off_boards**2)
    errors = release_errors(person.scatter, shots, seed)
    deliveries = shots_of(
        person.release,
        kind,
        own_laydown=person.grid.own_laydown[row] + errors.laydown_boards,
        launch_angle_rad=person.grid.angle_rad[column] + errors.launch_angle_rad,
        speed_change_mps=errors.speed_mps,
        rev_change_radps=errors.rev_rate_radps,
        rotation_change_rad=errors.axis_rotation_rad,
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
