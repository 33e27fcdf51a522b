"""The next shot: what can be changed, what each change is worth by what is believed, and why."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, replace
from uuid import UUID

import numpy as np
from numpy.typing import NDArray

from nextpair.application.believed import doubt_of
from nextpair.application.lane_story import in_turn, next_game, share_of_next
from nextpair.application.meant_line import meant_line
from nextpair.application.mind_changer import would_change
from nextpair.application.played_lines import line_boards
from nextpair.application.usual_moves import POCKET_OWN_BOARD, usual_move
from nextpair.domain.ball import Ball, Role, Surface
from nextpair.domain.belief import Draws, LaneMoves, MoveKind, MoveOption
from nextpair.domain.bowler import Bowler
from nextpair.domain.entry import level_boards
from nextpair.domain.event import Event
from nextpair.domain.lane import CENTRE_BOARD
from nextpair.domain.sheet import LineCard
from nextpair.domain.shot_log import LoggedShot
from nextpair.domain.units import DEGREE_RAD, FOOT_M, MPH_MPS
from nextpair.kernel.layout import bodies_of
from nextpair.kernel.roll import Paths, roll
from nextpair.kernel.throws import Form, own_board, own_boards_of, shots_of
from nextpair.planning.aim import PinValue
from nextpair.planning.lines import LineGrid, line_grid
from nextpair.planning.next_move import Bench, LaneNow, bench_of, lane_now, next_moves
from nextpair.planning.release_change import ReleaseChange
from nextpair.planning.textbook import shifted
from nextpair.planning.traffic import ANGLE_STEP_RAD, LAYDOWN_STEP_BOARDS, LaneFilms
from nextpair.planning.trial import Line

FloatArray = NDArray[np.float64]

DRAWS = 24
"""Draws of the belief under which options are valued."""
FIRST_DRAWS = 6
BALLS_TRIED = 2
"""Every ball is looked at coarsely, under a few draws; as many as these then under all, beside the
one in hand."""
NEAR_BOARDS, NEAR_RAD = 3.5, 1.4 * DEGREE_RAD
"""Lines about one's own that its value is blurred over: four deviations of usual scatter."""
SPEED_CHANGES_MPH = (-1.0, -0.5, 0.5, 1.0)
FEET_FIRST_PINS = 2.0
"""What another ball, speed or hand must be worth more than a move of the feet to come before it:
the feet are the easiest to move and to move back. Common practice; the size is an assumption."""
BAD_CASE_PERCENT = 10.0


@dataclass(frozen=True, slots=True)
class _Change:
    """A move, with its value and what it gains over staying, by draw (d,)."""

    kind: MoveKind
    line: Line
    gain_by_draw: FloatArray
    value_by_draw: FloatArray

    @property
    def worth_by_draw(self) -> FloatArray:
        """What it gains (d,), less what it must gain to come before a move of the feet."""
        easy = self.kind in (MoveKind.STAY, MoveKind.FEET_AND_TARGET)
        return np.asarray(self.gain_by_draw - (0.0 if easy else FEET_FIRST_PINS))


@dataclass(frozen=True, slots=True)
class _Meant:
    """Where a meant shot goes: own boards at the arrows and level with the head pin, and its
    angle there."""

    card: LineCard
    target: float
    arrival: float
    entry_angle_deg: float


@dataclass(frozen=True, slots=True)
class _Place:
    """One lane now, and as it is believed on average."""

    lane: int
    bench: Bench
    now: LaneNow
    mean: LaneNow

    def meant(self, line: Line) -> _Meant:
        """A line's meant shot on the lane as it is believed on average."""
        meant = _meant(self.bench.event.bowler, line, self._rolled(line))
        return replace(meant, arrival=meant.arrival + float(self.mean.inside_boards[0]))

    def target_of(self, line: Line) -> float:
        """Own board at the arrows of a line's meant shot."""
        return self.meant(line).target

    def _rolled(self, line: Line) -> Paths:
        bowler, form = self.bench.event.bowler, self.mean.form
        shots = shots_of(
            line.change.released(bowler.release),
            self.mean.kind,
            own_laydown=line.own_laydown,
            launch_angle_rad=line.angle_rad,
            speed_change_mps=form.speed_mps,
            rev_change_radps=form.rev_rate_radps,
            rotation_change_rad=form.axis_rotation_rad,
            dry_factor=self.mean.dry_factor,
        )
        bodies = bodies_of([self.bench.balls[line.option]], self.bench.event.house, bowler.pap_m)
        return roll(self.mean.kind.under(self.mean.films), bodies, shots)


def moves_of(
    event: Event,
    shots: Sequence[LoggedShot],
    films: LaneFilms,
    pins: PinValue,
    belief: Draws,
    bad: Collection[UUID],
    seed: int,
) -> tuple[LaneMoves, ...]:
    """The next shot on each lane of its pair; none where no shot says where the bowler stands.

    `bad` are the shots whose miss was rather the release than the lane.
    """
    stands = [
        (shot, boards) for shot in in_turn(shots) if (boards := line_boards(shot)) is not None
    ]
    if not stands:
        return ()
    game = next_game(event, shots)
    bench = bench_of(event, _balls(event, shots), game, pins)
    doubt = doubt_of(belief, event.bowler, DRAWS, seed)
    found = []
    for lane in event.pair_in_game(event.start_pair, game).lanes:
        now = lane_now(event, films, doubt, lane, game, share_of_next(event, shots))
        place = _Place(lane, bench, now, _on_average(now))
        here = [stood for stood in stands if (stood[0].lane, stood[0].game) == (lane, game)]
        last, boards = (here or stands)[-1]
        ball = [one.name for one in bench.balls].index(last.ball)
        stand = meant_line(boards, ball, event.bowler.hand, place.target_of)
        changes = _best_of_each_kind(_changes(place, stand))
        staying = place.meant(stand)
        options = tuple(_option(place, change, staying) for change in changes)
        usual = usual_move(last, event.bowler.hand, options[0], last.id in bad) if here else None
        lead = changes[0].worth_by_draw - changes[1].worth_by_draw
        found.append(
            LaneMoves(lane, game, options, usual, would_change(event, lane, belief, lead))
        )
    return tuple(found)


def _balls(event: Event, shots: Sequence[LoggedShot]) -> tuple[Ball, ...]:
    """Strike balls, and whatever else was thrown, with the surfaces that the log says."""
    put_on = {shot.ball: shot.surface_grit for shot in shots if shot.surface_grit is not None}
    thrown = {shot.ball for shot in shots}
    return tuple(
        replace(ball, surface=Surface.put_on(put_on[ball.name])) if ball.name in put_on else ball
        for ball in event.locker
        if ball.role is Role.STRIKE or ball.name in thrown
    )


def _on_average(now: LaneNow) -> LaneNow:
    """The mean of all draws of a lane, as one draw."""
    return _each(now, lambda drawn: drawn.mean(axis=0, keepdims=True))


def _some(now: LaneNow, count: int) -> LaneNow:
    """A few draws of a lane, evenly from all."""
    return _each(now, lambda drawn: drawn[:: max(len(drawn) // count, 1)])


def _each(now: LaneNow, taken: Callable[[FloatArray], FloatArray]) -> LaneNow:
    form = now.form
    return replace(
        now,
        films=taken(now.films),
        dry_factor=taken(now.dry_factor),
        inside_boards=taken(now.inside_boards),
        form=Form(
            taken(form.speed_mps), taken(form.rev_rate_radps), taken(form.axis_rotation_rad)
        ),
    )


def _changes(place: _Place, stand: Line) -> list[_Change]:
    """Everything that may be done on the next shot."""
    every = range(len(place.bench.balls))
    bowler = place.bench.event.bowler
    coarse = replace(
        place.bench,
        grid=line_grid(
            bowler.reach, bowler.hand, LAYDOWN_STEP_BOARDS, ANGLE_STEP_RAD, strays=False
        ),
    )
    looked_at = next_moves(coarse, _some(place.now, FIRST_DRAWS), stand, every)
    others = [move.line.option for move in looked_at if move.kind is MoveKind.BALL]
    moves = next_moves(place.bench, place.now, stand, others[:BALLS_TRIED])
    found = [_Change(m.kind, m.line, m.gain_by_draw, m.value_by_draw) for m in moves]
    return found + _releases(place, stand)


def _releases(place: _Place, stand: Line) -> list[_Change]:
    """The same ball on the same line, let go of otherwise."""
    staying = _value(place, stand)
    bowler = place.bench.event.bowler
    low_mps, high_mps = bowler.reach.speed_change_mps
    speeds = [
        (MoveKind.SPEED, ReleaseChange(speed_mps=change_mph * MPH_MPS))
        for change_mph in SPEED_CHANGES_MPH
        if low_mps <= change_mph * MPH_MPS <= high_mps
    ]
    hands = [
        (MoveKind.HAND, ReleaseChange(rotation_rad=change_rad))
        for change_rad in bowler.reach.axis_rotation_change_rad
        if change_rad
    ]
    found = []
    for kind, change in (*speeds, *hands):
        if not change.can_be_thrown(bowler.release, place.now.scatter):
            continue
        line = replace(stand, change=change)
        there = _value(place, line)
        found.append(_Change(kind, line, there - staying, there))
    return found


def _value(place: _Place, line: Line) -> FloatArray:
    """Value (d,) of a line as it is let go of, with the scatter that this brings."""
    bowler = place.bench.event.bowler
    thrower = replace(bowler, release=line.change.released(bowler.release))
    now = replace(place.now, scatter=line.change.scattered(place.now.scatter))
    near = replace(
        place.bench,
        event=replace(place.bench.event, bowler=thrower),
        grid=_grid_about(place.bench.grid, line),
    )
    moves = next_moves(near, now, line)
    return next(move for move in moves if move.kind is MoveKind.STAY).value_by_draw


def _grid_about(grid: LineGrid, stand: Line) -> LineGrid:
    """The rolled lines near a line, or near the edge of reach where it is beyond."""
    near = shifted(stand, 0.0, 0.0, grid)
    return LineGrid(
        grid.laydown.near(near.own_laydown, NEAR_BOARDS),
        grid.angle.near(near.angle_rad, NEAR_RAD),
    )


def _best_of_each_kind(changes: list[_Change]) -> list[_Change]:
    """One change of each kind, best first."""
    best: dict[MoveKind, _Change] = {}
    for change in sorted(changes, key=lambda one: -float(one.worth_by_draw.mean())):
        best.setdefault(change.kind, change)
    return list(best.values())


def _option(place: _Place, change: _Change, staying: _Meant) -> MoveOption:
    bowler = place.bench.event.bowler
    ball = place.bench.balls[change.line.option]
    there = place.meant(change.line)
    inward = bowler.hand.sign
    gain = change.gain_by_draw
    return MoveOption(
        kind=change.kind,
        ball=ball.name,
        surface_grit=ball.surface.named,
        lane=place.lane,
        line=there.card,
        feet_boards=inward * (there.card.laydown_board - staying.card.laydown_board),
        target_boards=inward * (there.card.target_board - staying.card.target_board),
        speed_change_mph=change.line.change.speed_mps / MPH_MPS,
        axis_rotation_change_deg=change.line.change.rotation_rad / DEGREE_RAD,
        expected_pins_per_game=float(change.value_by_draw.mean()),
        gain_pins_per_game=float(gain.mean()),
        bad_case_gain_pins_per_game=float(np.percentile(gain, BAD_CASE_PERCENT)),
        better_probability=float((gain > 0).mean()),
        why=_why(change, there, staying),
    )


def _why(change: _Change, there: _Meant, staying: _Meant) -> tuple[str, ...]:
    """Where the ball comes in, by what is believed now, in boards as the bowler counts them."""
    arrives = (
        f"the ball comes in on board {there.arrival:.1f} at {there.entry_angle_deg:.1f} degrees"
    )
    if change.kind is MoveKind.STAY:
        return (f"{arrives}; the pocket is on {POCKET_OWN_BOARD:g}",)
    return (f"{arrives}, where staying brings it in on {staying.arrival:.1f}",)


def _meant(bowler: Bowler, line: Line, paths: Paths) -> _Meant:
    hand = bowler.hand
    target = float(own_boards_of(paths.arrows_x_m[0]))
    laydown_board = own_board(line.own_laydown, hand)
    impact = paths.lane_impact
    angle_deg = float(impact.entry_angle_deg[0])
    card = LineCard(
        laydown_board=laydown_board,
        slide_board=bowler.slide_board(laydown_board),
        target_board=own_board(target, hand),
        launch_angle_deg=line.angle_rad / DEGREE_RAD,
        breakpoint_board=own_board(float(own_boards_of(paths.break_x_m[0])), hand),
        breakpoint_ft=float(paths.break_m[0]) / FOOT_M,
        exit_board=own_board(float(own_boards_of(paths.exit_x_m[0])), hand),
        speed_mph=line.change.released(bowler.release).speed_mps / MPH_MPS,
    )
    arrival = CENTRE_BOARD - level_boards(float(impact.offset_boards[0]), angle_deg)
    return _Meant(card, target, arrival, angle_deg)
