"""One shot on one lane of an event, rolled as it is asked for."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import cumulative_trapezoid

from nextpair.carry.table import load_table
from nextpair.domain.ball import Ball, Surface
from nextpair.domain.bowler import Hand, Release
from nextpair.domain.errors import InvalidValueError, require_within
from nextpair.domain.event import Event
from nextpair.domain.lane import ARROWS_M, BOARDS
from nextpair.domain.sheet import EntryCard, Grit
from nextpair.domain.shot import PathCard
from nextpair.domain.units import DEGREE_RAD, FOOT_M, INCH_M, MPH_MPS
from nextpair.kernel.layout import NODE_M, Trace, bodies_of, own_frame
from nextpair.kernel.outcome import Status
from nextpair.kernel.roll import Paths, roll
from nextpair.physics.dressing import film_of
from nextpair.physics.film import film_by_foot_units
from nextpair.physics.wear import ball_flare_m_per_rev
from nextpair.planning.throws import lane_kind, own_board, own_boards_of, shots_of
from nextpair.scoring.leaves import leave_text, mirrored_leave

FloatArray = NDArray[np.float64]

FEET = np.arange(60)
LEAVES_TOLD = 8
TURN_SHARE = 0.1
"""Skid ends, and the ball begins to hook, when this share of the path's whole turn is made."""
LEAST_TURN_RAD = 0.3 * DEGREE_RAD
"""A path that turns less than this never hooks."""
ROLL_SHARE = 0.05
"""Hook ends, and roll begins, when slip has fallen to this share of its start."""


def roll_one(
    event: Event,
    ball_name: str,
    laydown_board: float,
    launch_angle_deg: float,
    *,
    lane: int | None = None,
    speed_mph: float | None = None,
    surface: Grit | None = None,
) -> PathCard:
    """One shot by the event's bowler on the film as laid.

    `lane` left out is the left lane of the bowler's first pair; speed and surface left out are
    the bowler's and the ball's own. Raises InvalidValueError for a ball, lane, board, angle or
    speed that is not to be had.
    """
    hand = event.bowler.hand
    ball = _ball(event, ball_name, surface)
    number = event.start_pair.left_lane if lane is None else lane
    require_within("lane", number, 1, event.house.lanes, "(lanes of this house)")
    require_within("laydown", laydown_board, 1, BOARDS, "boards from the right edge")
    require_within("angle", launch_angle_deg, -5, 10, "degrees toward your own gutter")
    release = _release(event.bowler.release, speed_mph)
    pattern = event.pattern_of(number)
    film = film_of(pattern)
    paths = roll(
        np.ascontiguousarray(own_frame(film, hand))[None],
        np.array([pattern.length_m]),
        bodies_of([ball], event.house),
        shots_of(
            release,
            lane_kind(event.house.trait(number), hand),
            own_laydown=own_board(laydown_board, hand),
            launch_angle_rad=launch_angle_deg * DEGREE_RAD,
        ),
        record=True,
    )
    return _card(
        ball,
        hand,
        number,
        laydown_board,
        launch_angle_deg,
        release,
        film,
        pattern.length_m,
        paths,
    )


def _ball(event: Event, name: str, surface: Grit | None) -> Ball:
    for ball in event.locker:
        if ball.name.casefold() == name.strip().casefold():
            return ball if surface is None else replace(ball, surface=_surface(surface))
    names = ", ".join(ball.name for ball in event.locker)
    raise InvalidValueError("ball", name, f"a ball of the locker: {names}")


def _surface(grit: Grit) -> Surface:
    """A fresh surface, as files and sheets name it: a grit number or 'polished'."""
    return Surface(None if grit == "polished" else int(grit))


def _release(release: Release, speed_mph: float | None) -> Release:
    return release if speed_mph is None else replace(release, speed_mps=speed_mph * MPH_MPS)


def _card(
    ball: Ball,
    hand: Hand,
    lane: int,
    laydown_board: float,
    launch_angle_deg: float,
    release: Release,
    film: FloatArray,
    length_m: float,
    paths: Paths,
) -> PathCard:
    def board(x_m: float) -> float:
        return own_board(float(own_boards_of(x_m)), hand)

    trace = _trace(paths)
    gutter_m = float(paths.gutter_m[0])
    gone = np.isfinite(gutter_m)
    lane_end_m = gutter_m if gone else np.inf
    skid_end_ft, hook_end_ft = _phases(trace, lane_end_m)
    turns = float(paths.turns[0])
    bends = float(paths.break_m[0]) < lane_end_m
    table = load_table(ball.mass_kg)
    impact = paths.impact
    arrived = Status(int(paths.status[0])) is Status.PINS
    chances = table.leave_probability(
        impact.offset_boards, impact.entry_angle_deg, impact.speed_mps
    )[0]
    return PathCard(
        lane=lane,
        ball=ball.name,
        surface_grit=ball.surface.named,
        hand=hand.value,
        laydown_board=laydown_board,
        launch_angle_deg=launch_angle_deg,
        speed_mph=release.speed_mps / MPH_MPS,
        status=Status(int(paths.status[0])).words,
        target_board=board(paths.arrows_x_m[0]) if lane_end_m > ARROWS_M else None,
        breakpoint_board=board(paths.break_x_m[0]) if bends else None,
        breakpoint_ft=float(paths.break_m[0] / FOOT_M) if bends else None,
        exit_board=None if gone else board(paths.exit_x_m[0]),
        gutter_ft=gutter_m / FOOT_M if gone else None,
        skid_end_ft=skid_end_ft,
        hook_end_ft=hook_end_ft,
        revolutions=_turns_before(trace, turns, lane_end_m),
        flare_in=_turns_before(trace, turns, min(length_m, lane_end_m))
        * ball_flare_m_per_rev(ball)
        / INCH_M,
        entry=EntryCard(
            offset_board=float(impact.offset_boards[0]),
            entry_angle_deg=float(impact.entry_angle_deg[0]),
            speed_mph=float(impact.speed_mps[0] / MPH_MPS),
        )
        if arrived
        else None,
        strike_probability=float(chances[table.leaves.index(0)]) if arrived else 0.0,
        leaves=_leaves(table.leaves, chances, hand) if arrived else (),
        path_boards=_path_boards(trace, lane_end_m, hand),
        film_units=film_by_foot_units(film),
    )


def _trace(paths: Paths) -> FloatArray:
    """Recorded state (8, 121) of the one shot."""
    if paths.trace is None:
        raise ValueError("the path was rolled without a record")
    return paths.trace[:, :, 0].astype(float)


def _path_boards(trace: FloatArray, end_m: float, hand: Hand) -> tuple[float, ...]:
    """Board at each whole foot of the way that the ball stays on the lane."""
    on_lane_m = FEET[end_m >= FEET * FOOT_M] * FOOT_M
    own = own_boards_of(np.interp(on_lane_m, NODE_M, trace[Trace.X]))
    return tuple(own_board(float(board), hand) for board in own)


def _turns_before(trace: FloatArray, turns: float, end_m: float) -> float:
    """Revolutions up to a distance: all on the lane, or up to the pattern's end, as only rings
    laid in oil are seen on the ball.

    The share of the turning is that of the way which the ball's surface makes over the lane.
    """
    rate = trace[Trace.SURFACE_SPEED] / trace[Trace.V_Y]
    made = cumulative_trapezoid(rate, NODE_M, initial=0.0)
    return turns * float(np.interp(end_m, NODE_M, made) / made[-1]) if made[-1] else 0.0


def _phases(trace: FloatArray, gutter_m: float) -> tuple[float | None, float | None]:
    """Distances in feet at which skid and hook end; None for what did not happen on the lane."""
    turned = np.arctan2(trace[Trace.V_X, 0], trace[Trace.V_Y, 0]) - np.arctan2(
        trace[Trace.V_X], trace[Trace.V_Y]
    )
    hooks = abs(turned[-1]) >= LEAST_TURN_RAD
    slip = trace[Trace.SLIP]
    return (
        _first_ft(hooks & (turned / (turned[-1] or 1.0) >= TURN_SHARE), gutter_m),
        _first_ft(slip <= ROLL_SHARE * slip[0], gutter_m),
    )


def _first_ft(reached: NDArray[np.bool_], gutter_m: float) -> float | None:
    """Distance of the first node at which something is so, in feet, if the ball is still on the
    lane there."""
    nodes = np.flatnonzero(reached)
    if not len(nodes) or NODE_M[nodes[0]] >= gutter_m:
        return None
    return float(NODE_M[nodes[0]] / FOOT_M)


def _leaves(
    leaves: tuple[int, ...], chances: FloatArray, hand: Hand
) -> tuple[tuple[str, float], ...]:
    """Likeliest leaves, strike left out, as the bowler sees them."""
    order = sorted(range(len(leaves)), key=lambda i: -chances[i])
    seen = [i for i in order if leaves[i] and chances[i] > 0][:LEAVES_TOLD]
    return tuple(
        (
            leave_text(leaves[i] if hand is Hand.RIGHT else mirrored_leave(leaves[i])),
            float(chances[i]),
        )
        for i in seen
    )
