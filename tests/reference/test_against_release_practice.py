"""What a change of release does, by the model sheet's slopes, and when it helps, by practice."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from nextpair.domain.bowler import Release
from nextpair.domain.event import Event
from nextpair.domain.typical import scatter_of
from nextpair.domain.units import DEGREE_RAD, FOOT_M, MPH_MPS, RPM_RADPS
from nextpair.kernel.layout import Bodies, Lanes
from nextpair.kernel.roll import roll
from nextpair.kernel.throws import LaneKind
from nextpair.planning.aim import PinValue, pin_value
from nextpair.planning.release_change import AS_USUAL, ReleaseChange
from nextpair.planning.release_choice import with_release_changes
from nextpair.planning.sheet import SPEED_KEPT
from nextpair.planning.trial import Line, line_shots
from reference.flat_patterns import flat_pattern
from reference.releases import B
from reference.test_against_sensitivities import two_zones
from small_event import SPARE_BALL, Workings, small_event, traffic_of, workings_of

RELEASE_B = Release(
    speed_mps=B.speed_mps,
    rev_rate_radps=B.rev_rate_rpm * RPM_RADPS,
    axis_rotation_rad=B.rotation_deg * DEGREE_RAD,
    axis_tilt_rad=B.tilt_deg * DEGREE_RAD,
    loft_m=0.0,
)
BALL = "Slate Weir"


def at_the_pins(change: ReleaseChange, lane: tuple[Lanes, Bodies]) -> np.ndarray:
    """Place [boards, + to the own side] and entry angle [deg] of release B under a change."""
    line = Line(0, 20.0, B.angle_deg * DEGREE_RAD, change)
    shots = line_shots(line, RELEASE_B, LaneKind(length_m=40 * FOOT_M))
    impact = roll(*lane, shots).lane_impact
    return np.array([impact.offset_boards[0], impact.entry_angle_deg[0]])


def slope(change: ReleaseChange) -> np.ndarray:
    """What a change does at the pins, from as much less to as much more."""
    less = ReleaseChange(-change.speed_mps, -change.rotation_rad)
    return 0.5 * (at_the_pins(change, two_zones()) - at_the_pins(less, two_zones()))


def test_a_harder_ball_goes_longer_as_the_model_sheet_says():
    """Source: [model-sheet] section 6.5: +4.4 boards and -0.35 degrees a mph."""
    boards, degrees = slope(ReleaseChange(speed_mps=0.5 * MPH_MPS)) / 0.5
    # Its place is that of the head pin's row, ours that of first contact: a tenth apart.
    assert boards == pytest.approx(4.4, rel=0.1)
    assert degrees == pytest.approx(-0.35, rel=0.1)


def test_a_more_turned_ball_hooks_more_as_the_model_sheet_says():
    """Source: [model-sheet] section 6.5: -0.30 boards a degree of rotation, +0.13 degrees."""
    boards, degrees = slope(ReleaseChange(rotation_rad=2.0 * DEGREE_RAD)) / 2.0
    assert boards == pytest.approx(-0.30, rel=0.1)
    assert degrees == pytest.approx(0.13, rel=0.1)


def on(length_ft: float, oil: float, event: Event) -> Event:
    """One game of an event on a flat pattern with a share of its oil, and one ball that hooks."""
    pattern = flat_pattern(length_ft)
    laid = tuple(replace(one, oil_ul=oil * one.oil_ul) for one in pattern.passes)
    pattern = replace(pattern, passes=laid)
    return replace(
        event,
        games=1,
        ball_limit=2,
        left_pattern=pattern,
        right_pattern=pattern,
        locker=tuple(ball for ball in event.locker if ball.name in (BALL, SPARE_BALL)),
    )


def thrown_by(speed_mph: float, revs_rpm: float, event: Event, **reach) -> Event:
    """An event of a bowler who can throw 2 mph harder and softer."""
    release = Release(speed_mph * MPH_MPS, revs_rpm * RPM_RADPS, 50 * DEGREE_RAD, 13 * DEGREE_RAD)
    bowler = replace(
        event.bowler,
        release=release,
        scatter=scatter_of(205.0, release),
        reach=replace(
            event.bowler.reach,
            speed_change_mps=(-2 * MPH_MPS, 2 * MPH_MPS),
            axis_rotation_change_rad=(0.0, 0.0),
            **reach,
        ),
    )
    return replace(event, bowler=bowler)


def chosen(work: Workings) -> tuple[ReleaseChange, float]:
    """The change of release that is planned, and its gain."""

    @cache
    def pins_at(change_mps: float) -> PinValue:
        speed_mps = work.event.bowler.release.speed_mps + change_mps
        return pin_value(work.table, work.spares, SPEED_KEPT * speed_mps)

    _, (choice,) = with_release_changes(work.study, work.choices, work.bag.options, pins_at)
    left, right = choice.lines
    assert left.change == right.change
    return left.change, choice.release_gain_pins


def test_where_the_ball_hooks_too_early_it_is_thrown_harder():
    """Short and nearly dry under many revs: more speed to get the ball down the lane. Common
    practice."""
    dry = on(32.0, 0.5, thrown_by(16.5, 400.0, small_event()))
    change, gain_pins = chosen(workings_of(dry, films_of=traffic_of))
    assert change.speed_mps > 0
    assert gain_pins > 3.0


def test_where_the_ball_does_not_come_back_it_is_thrown_softer():
    """Long and flooded under speed and few revs, played from inside: slow down to let the ball
    hook. Common practice."""
    fast = thrown_by(
        19.0,
        300.0,
        small_event(),
        laydown_boards=(24.0, 32.0),
        launch_angle_rad=(1.0 * DEGREE_RAD, 4.5 * DEGREE_RAD),
    )
    change, gain_pins = chosen(workings_of(on(48.0, 1.2, fast), films_of=traffic_of))
    assert change.speed_mps < 0
    assert gain_pins > 1.0


def test_on_a_usual_lane_a_bowler_throws_as_usual():
    """Nobody changes speed where the usual one plays: common practice."""
    usual = on(41.0, 1.0, thrown_by(17.5, 350.0, small_event()))
    assert chosen(workings_of(usual, films_of=traffic_of)) == (AS_USUAL, 0.0)
