"""What is typical, where nobody said: releases, scatter, reach, balls, houses.

Every value here can be given in a file instead, and whatever is taken from here is listed as
guessed. Values marked assumption are middle values, to be replaced by the bowler's own numbers.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from nextpair.domain.ball import Cover, Layout, Role
from nextpair.domain.bowler import Hand, Reach, Release, Scatter, Style
from nextpair.domain.house import LaneSurface
from nextpair.domain.lane import BOARDS, mirrored_board
from nextpair.domain.units import CENTIPOISE_PAS, DEGREE_RAD, INCH_M, MPH_MPS, POUND_KG, RPM_RADPS

PRACTICE_S = 10 * 60.0
"""Practice before the first game. Common practice."""
VISCOSITY_PAS = 35 * CENTIPOISE_PAS
"""Oil at 21 degrees C. [facts] section 4: mean of one product line 34.7 cP."""
LANE_SURFACE = LaneSurface.SYNTHETIC
SURFACE_AGE_YEARS = 10.0
TEMPERATURE_C = 21.0

HAND = Hand.RIGHT
STYLE = Style.ONE_HANDED
SQUAD_COVER = Cover.HYBRID
"""Middle of the strike balls. Assumption."""
HAND_SHARES = {Hand.RIGHT: 0.9, Hand.LEFT: 0.1}
"""About one person in ten is left-handed (from memory), about 7 in 100 of a tour field ([facts]
section 8, weak)."""
STYLE_SHARES = {Style.ONE_HANDED: 0.7, Style.TWO_HANDED: 0.25, Style.NO_THUMB: 0.05}
COVER_SHARES = {Cover.SOLID: 0.3, Cover.HYBRID: 0.3, Cover.PEARL: 0.25, Cover.URETHANE: 0.15}
"""Of a tour-like field. Common practice, from memory; tested by counting a squad."""
SPEED_SD_MPS = 0.9 * MPH_MPS
REV_RATE_SD_RADPS = 45.0 * RPM_RADPS
"""Between bowlers of one style. [facts] section 5: the fastest mean of 40 tour players is 2.3 mph,
the highest rev rate 134 rpm above the mean of the men, about two deviations, with the styles'
own differences in them."""

PAP_OVER_M = 5.0 * INCH_M
PAP_UP_M = 0.5 * INCH_M
"""[facts] section 3: usually 4 to 6.5 in over, somewhat up."""
SLIDE_TO_LAYDOWN_BOARDS = 6.5
"""[facts] section 8: 6 to 7 boards from the sliding foot."""

BALL_MASS_KG = 15.0 * POUND_KG
"""The common choice ([facts] section 8)."""
INTERMEDIATE_M = 0.0
"""A symmetric core."""
GAMES_ON_SURFACE = 6.0
"""Middle of the 5 to 10 games in which a surface settles ([facts] section 8, assumption)."""
LAYOUT = Layout(4.5 * INCH_M, 60.0 * DEGREE_RAD, 40.0 * DEGREE_RAD)
"""Drilling and VAL angle add up to 100 degrees, the middle range ([facts] section 3)."""

_RELEASES = {
    # [facts] section 5: 250 to 400 rpm cover low and medium revs; 17 to 19 mph is medium speed.
    Style.ONE_HANDED: (17.4, 340.0, 50.0, 14.0),
    # [facts] section 5: 400 to over 500 rpm, which needs more than 18.6 mph.
    Style.TWO_HANDED: (18.6, 450.0, 45.0, 9.0),
    Style.NO_THUMB: (16.8, 390.0, 50.0, 9.0),  # assumption
}
"""Speed [mph], rev rate [rpm], axis rotation and axis tilt [degrees] by style."""


def release_of(style: Style) -> Release:
    """A middle release of a tournament bowler of this style."""
    speed_mph, rev_rate_rpm, rotation_deg, tilt_deg = _RELEASES[style]
    return Release(
        speed_mps=speed_mph * MPH_MPS,
        rev_rate_radps=rev_rate_rpm * RPM_RADPS,
        axis_rotation_rad=rotation_deg * DEGREE_RAD,
        axis_tilt_rad=tilt_deg * DEGREE_RAD,
    )


@dataclass(frozen=True, slots=True)
class TypicalBall:
    """Core and box finish of a middle ball of one cover."""

    rg_m: float
    differential_m: float
    surface_grit: int | None
    role: Role


_BALLS = {
    # A uniform solid sphere has an RG of 2.718 in; spare balls come close ([facts] section 3).
    Cover.PLASTIC: TypicalBall(2.70 * INCH_M, 0.010 * INCH_M, None, Role.SPARE),
    # [facts] section 3: differentials of 0.03 to 0.05 in are medium to high; the rest assumption.
    Cover.URETHANE: TypicalBall(2.58 * INCH_M, 0.030 * INCH_M, 1000, Role.STRIKE),
    Cover.PEARL: TypicalBall(2.52 * INCH_M, 0.044 * INCH_M, None, Role.STRIKE),
    Cover.HYBRID: TypicalBall(2.51 * INCH_M, 0.046 * INCH_M, 3000, Role.STRIKE),
    Cover.SOLID: TypicalBall(2.50 * INCH_M, 0.048 * INCH_M, 2000, Role.STRIKE),
}


def ball_of(cover: Cover) -> TypicalBall:
    """A middle ball of this cover."""
    return _BALLS[cover]


BOARDS_PER_DEGREE = 2.95
"""Boards at the arrows that a degree of launch angle makes ([model-sheet] section 6.4)."""

_AVERAGE_PINS = (120.0, 160.0, 180.0, 200.0, 220.0, 240.0)
_ARROWS_BOARDS = (1.8, 1.46, 1.3, 0.97, 0.65, 0.46)
"""Spread at the arrows; [model-sheet] section 6.4, measured from 160 up to elite (240 here)."""
_LAYDOWN_PINS = (120.0, 160.0, 200.0, 240.0)
_LAYDOWN_BOARDS = (1.0, 0.8, 0.5, 0.3)
"""The part of it that is lay-down; [model-sheet] section 6.4, assumption."""
_SPEED_MPH = (0.8, 0.65, 0.4, 0.25)
_REV_SHARES = (0.05, 0.05, 0.04, 0.03)


def scatter_of(average: float, release: Release) -> Scatter:
    """How far a bowler of this average strays from one shot to the next, one standard deviation.

    The spread at the arrows is split into lay-down and launch angle:
    arrows^2 = laydown^2 + (2.95 boards/degree x angle)^2.
    """
    arrows_boards = _along(average, _AVERAGE_PINS, _ARROWS_BOARDS)
    laydown_boards = _along(average, _LAYDOWN_PINS, _LAYDOWN_BOARDS)
    angle_deg = math.sqrt(arrows_boards**2 - laydown_boards**2) / BOARDS_PER_DEGREE
    rev_share = _along(average, _LAYDOWN_PINS, _REV_SHARES)
    return Scatter(
        laydown_boards=laydown_boards,
        launch_angle_rad=angle_deg * DEGREE_RAD,
        speed_mps=_along(average, _LAYDOWN_PINS, _SPEED_MPH) * MPH_MPS,
        rev_rate_radps=rev_share * release.rev_rate_radps,
    )


_OUTERMOST_LAYDOWN_BOARD = 8.0
_LAUNCH_ANGLE_DEG = (-1.0, 4.0)
"""[model-sheet] section 6.2."""
_SPEED_CHANGE_MPH = (-1.0, 1.0)
_ROTATION_CHANGE_DEG = (-10.0, 10.0)
"""What a bowler can do by hand on purpose: stay behind the ball, or come around it more
(assumption, tested by film of the release)."""


def reach_of(hand: Hand, slide_to_laydown_boards: float) -> Reach:
    """What most bowlers can repeat: the sliding foot stays inside the last board. Assumption."""
    outer = _OUTERMOST_LAYDOWN_BOARD
    inner = min(max(BOARDS - slide_to_laydown_boards, outer), BOARDS)
    if hand is Hand.LEFT:
        outer, inner = mirrored_board(inner), mirrored_board(outer)
    low_deg, high_deg = _LAUNCH_ANGLE_DEG
    low_mph, high_mph = _SPEED_CHANGE_MPH
    less_deg, more_deg = _ROTATION_CHANGE_DEG
    return Reach(
        laydown_boards=(outer, inner),
        launch_angle_rad=(low_deg * DEGREE_RAD, high_deg * DEGREE_RAD),
        speed_change_mps=(low_mph * MPH_MPS, high_mph * MPH_MPS),
        axis_rotation_change_rad=(less_deg * DEGREE_RAD, more_deg * DEGREE_RAD),
    )


def _along(x: float, knots: Sequence[float], values: Sequence[float]) -> float:
    """Monotone cubic through the knots, flat beyond them, so that nothing jumps.

    Slopes by the weighted harmonic mean of Fritsch and Butland (1984); zero at both ends.
    """
    if x <= knots[0]:
        return values[0]
    if x >= knots[-1]:
        return values[-1]
    i = next(n for n, knot in enumerate(knots) if x < knot) - 1
    step = knots[i + 1] - knots[i]
    t = (x - knots[i]) / step
    start, end = values[i], values[i + 1]
    slope_start, slope_end = _slope(i, knots, values), _slope(i + 1, knots, values)
    return (
        start * (1 + 2 * t) * (1 - t) ** 2
        + end * t**2 * (3 - 2 * t)
        + step * t * (1 - t) * (slope_start * (1 - t) - slope_end * t)
    )


def _slope(i: int, knots: Sequence[float], values: Sequence[float]) -> float:
    if i in (0, len(knots) - 1):
        return 0.0
    before, after = knots[i] - knots[i - 1], knots[i + 1] - knots[i]
    rise_before = (values[i] - values[i - 1]) / before
    rise_after = (values[i + 1] - values[i]) / after
    if rise_before * rise_after <= 0:
        return 0.0
    w_before, w_after = 2 * after + before, after + 2 * before
    return (w_before + w_after) / (w_before / rise_before + w_after / rise_after)
