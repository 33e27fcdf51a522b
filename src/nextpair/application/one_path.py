"""One shot on one lane of an event, rolled as it is asked for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from nextpair.application.carried import carried
from nextpair.application.cautions import shot_cautions
from nextpair.application.film import film_from_feet
from nextpair.application.phases import path_boards, phase_ends, stations, turns_before
from nextpair.application.track import track
from nextpair.application.what_moves import what_moves
from nextpair.domain.ball import Ball, Grit, Surface, Tool
from nextpair.domain.bowler import Release
from nextpair.domain.errors import InvalidValueError, require_within
from nextpair.domain.event import Event
from nextpair.domain.lane import ARROWS_M, BOARDS, HEAD_PIN_M
from nextpair.domain.sheet import EntryCard
from nextpair.domain.shot import Effect, PathCard
from nextpair.domain.units import DEGREE_RAD, FOOT_M, INCH_M, MPH_MPS
from nextpair.kernel.flare import flare_m
from nextpair.kernel.layout import Trace, bodies_of, own_frame
from nextpair.kernel.outcome import Status
from nextpair.kernel.roll import Paths, roll
from nextpair.kernel.throws import lane_kind, own_board, own_boards_of, shots_of
from nextpair.physics.dressing import film_of
from nextpair.physics.film import film_by_foot_units, rule_of_31_exit_board
from nextpair.physics.forces import landing_m
from nextpair.physics.layout import Quaternion

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class _Thrown:
    """One shot as it leaves the hand, and what it rolls on."""

    lane: int
    ball: Ball
    core: Quaternion
    release: Release
    laydown_board: float
    launch_angle_deg: float
    film: FloatArray
    length_m: float


def roll_one(
    event: Event,
    ball_name: str,
    laydown_board: float,
    launch_angle_deg: float,
    *,
    lane: int | None = None,
    speed_mph: float | None = None,
    axis_rotation_deg: float | None = None,
    surface: Grit | None = None,
    by_hand: bool = False,
    at_ft: Sequence[float] = (),
    film_units: Sequence[Sequence[float]] | None = None,
    with_moves: bool = True,
) -> PathCard:
    """One shot by the event's bowler on the film as laid, or on one that is given foot by foot.

    `lane` left out is the left lane of the bowler's first pair; speed, axis rotation and surface
    left out are the bowler's and the ball's own; a surface is put on with a spinner, or `by_hand`
    over what the ball has; `at_ft` are distances to tell the path at; `with_moves` also tells what
    would move it. Raises InvalidValueError for what is not to be had.
    """
    hand = event.bowler.hand
    ball = _ball(event, ball_name)
    if surface is not None:
        ball = replace(ball, surface=_put_on(surface, ball.surface, by_hand))
    number = event.start_pair.left_lane if lane is None else lane
    require_within("lane", number, 1, event.house.lanes, "(lanes of this house)")
    _check_places(laydown_board, launch_angle_deg, at_ft)
    release = _release(event.bowler.release, speed_mph, axis_rotation_deg)
    pattern = event.pattern_of(number)
    film = film_of(pattern) if film_units is None else film_from_feet(film_units)
    kind = lane_kind(event.lane(number), hand)
    lanes = kind.under(own_frame(film, hand))
    bodies = bodies_of([ball], event.house, event.bowler.pap_m)
    shots = shots_of(
        release,
        kind,
        own_laydown=own_board(laydown_board, hand),
        launch_angle_rad=launch_angle_deg * DEGREE_RAD,
    )
    w, x, y, z = bodies.core[0].tolist()
    thrown = _Thrown(
        number,
        ball,
        (w, x, y, z),
        release,
        laydown_board,
        launch_angle_deg,
        film,
        pattern.length_m,
    )
    card = _card(
        event,
        thrown,
        roll(lanes, bodies, shots, record=True),
        what_moves(lanes, ball, event.house, event.bowler.pap_m, shots) if with_moves else (),
        at_ft,
    )
    return replace(card, cautions=shot_cautions(surface is not None, event.house.pinfall))


def _check_places(laydown_board: float, launch_angle_deg: float, at_ft: Sequence[float]) -> None:
    require_within("laydown", laydown_board, 1, BOARDS, "boards from the right edge")
    require_within("angle", launch_angle_deg, -5, 10, "degrees toward your own gutter")
    for feet in at_ft:
        require_within("at", feet, 0, HEAD_PIN_M / FOOT_M, "feet from the foul line")


def _ball(event: Event, name: str) -> Ball:
    for ball in event.locker:
        if ball.name.casefold() == name.strip().casefold():
            return ball
    names = ", ".join(ball.name for ball in event.locker)
    raise InvalidValueError("ball", name, f"a ball of the locker: {names}")


def _put_on(grit: Grit, under: Surface, by_hand: bool) -> Surface:
    """A fresh surface, as files and sheets name it: a grit number or 'polished'."""
    fresh = Surface.put_on(grit)
    return replace(fresh, by=Tool.HAND, under=under) if by_hand else fresh


def _release(
    release: Release, speed_mph: float | None, axis_rotation_deg: float | None
) -> Release:
    if speed_mph is not None:
        release = replace(release, speed_mps=speed_mph * MPH_MPS)
    if axis_rotation_deg is not None:
        release = replace(release, axis_rotation_rad=axis_rotation_deg * DEGREE_RAD)
    return release


def _card(
    event: Event,
    thrown: _Thrown,
    paths: Paths,
    effects: tuple[Effect, ...],
    at_ft: Sequence[float],
) -> PathCard:
    hand = event.bowler.hand

    def board(x_m: float) -> float:
        return own_board(float(own_boards_of(x_m)), hand)

    trace = _trace(paths)
    gutter_m = float(paths.gutter_m[0])
    gone = np.isfinite(gutter_m)
    end_m = gutter_m if gone else np.inf
    oiled_m = min(thrown.length_m, end_m)
    lands_m = float(landing_m(trace[Trace.V_Y, 0], thrown.release.loft_m))
    ends = phase_ends(trace, end_m)
    turns = float(paths.turns[0])
    bends = float(paths.break_m[0]) < end_m
    status = Status(int(paths.status[0]))
    entry = _entry(paths) if status is Status.PINS else None
    speed_mph = thrown.release.speed_mps / MPH_MPS
    left = carried(thrown.ball, paths.impact, hand, event.house.pinfall) if entry else None
    return PathCard(
        lane=thrown.lane,
        ball=thrown.ball.name,
        surface_grit=thrown.ball.surface.named,
        surface_by=thrown.ball.surface.by.value,
        hand=hand.value,
        pattern_length_ft=thrown.length_m / FOOT_M,
        rule_of_31_exit_board=rule_of_31_exit_board(thrown.length_m, hand),
        laydown_board=thrown.laydown_board,
        launch_angle_deg=thrown.launch_angle_deg,
        speed_mph=speed_mph,
        axis_rotation_deg=thrown.release.axis_rotation_rad / DEGREE_RAD,
        status=status.words,
        target_board=board(paths.arrows_x_m[0]) if end_m > ARROWS_M else None,
        breakpoint_board=board(paths.break_x_m[0]) if bends else None,
        breakpoint_ft=float(paths.break_m[0] / FOOT_M) if bends else None,
        exit_board=None if gone else board(paths.exit_x_m[0]),
        gutter_ft=gutter_m / FOOT_M if gone else None,
        skid_end_ft=ends.skid_end_ft,
        hook_end_ft=ends.hook_end_ft,
        revolutions=turns_before(trace, turns, end_m),
        flare_in=float(flare_m(trace[..., None], oiled_m, lands_m)[0] / INCH_M),
        track=track(trace, oiled_m, thrown.release, event.bowler, thrown.core),
        arrival_s=float(paths.time_s[0]) if entry else None,
        speed_lost_mph=speed_mph - entry.speed_mph if entry else None,
        entry=entry,
        strike_probability=left.strike_probability if left else 0.0,
        leaves=left.leaves if left else (),
        carry_in_range=left.in_range if left else None,
        what_moves_it=effects if entry else (),
        stations=stations(trace, end_m, hand, at_ft),
        path_boards=path_boards(trace, end_m, hand),
        film_units=film_by_foot_units(thrown.film),
    )


def _trace(paths: Paths) -> FloatArray:
    """Recorded state (8, 121) of the one shot."""
    if paths.trace is None:
        raise ValueError("the path was rolled without a record")
    return paths.trace[:, :, 0].astype(float)


def _entry(paths: Paths) -> EntryCard:
    impact = paths.impact
    return EntryCard(
        offset_board=float(impact.offset_boards[0]),
        entry_angle_deg=float(impact.entry_angle_deg[0]),
        speed_mph=float(impact.speed_mps[0] / MPH_MPS),
    )
