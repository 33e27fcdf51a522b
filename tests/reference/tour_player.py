"""A tour player throws a strike ball at a fresh pattern: every path is rolled by the kernel."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from event_folder import DEMO
from nextpair.carry.leave_paths import level_boards
from nextpair.carry.table import CarryTable
from nextpair.domain.ball import Ball, Cover, Surface
from nextpair.domain.bowler import Hand, Release, Scatter
from nextpair.domain.pattern import Pattern
from nextpair.domain.units import DEGREE_RAD, MPH_MPS, RPM_RADPS
from nextpair.files import load_event
from nextpair.kernel.layout import bodies_of, own_frame
from nextpair.kernel.roll import roll
from nextpair.kernel.throws import Errors, LaneKind, release_errors, shots_of
from nextpair.physics.dressing import film_of
from nextpair.planning.traffic import usual_ball
from reference.record import load_entry

Array = NDArray[np.float64]

LAYDOWN_BOARDS = np.arange(8.0, 33.0, 3.0)
ANGLES_RAD = np.arange(-1.0, 6.01, 0.125) * DEGREE_RAD
"""Lines that are tried."""
NEAR_BOARDS = np.arange(-2.0, 2.01, 1.0)
NEAR_RAD = np.arange(-0.15, 0.151, 0.05) * DEGREE_RAD
"""Lines about the best of them that are tried with more shots."""
STRIKE_BALLS = (Cover.SOLID, Cover.HYBRID, Cover.PEARL, Cover.URETHANE)


class Impacts(NamedTuple):
    """How shots meet the pins, each (lines, shots)."""

    offset_boards: Array
    entry_deg: Array
    speed_mps: Array

    @property
    def level(self) -> Array:
        """Boards right of the head pin, level with it."""
        return level_boards(self.offset_boards, self.entry_deg)

    @property
    def at_pins(self) -> Impacts:
        """Without the shots that are in the gutter."""
        arrived = np.isfinite(self.offset_boards)
        return Impacts(*(column[arrived] for column in self))


def tour_release() -> Release:
    """The mean of 30 men of a tour event; rotation and tilt are assumed."""
    entry = load_entry("spares", "tour_bowler")
    return Release(
        speed_mps=entry["speed_mph"] * MPH_MPS,
        rev_rate_radps=entry["rev_rate_rpm"] * RPM_RADPS,
        axis_rotation_rad=entry["axis_rotation_deg"] * DEGREE_RAD,
        axis_tilt_rad=entry["axis_tilt_deg"] * DEGREE_RAD,
    )


def tour_scatter() -> Scatter:
    """The scatter of a tour player, assumed."""
    entry = load_entry("spares", "tour_bowler")
    return Scatter(
        laydown_boards=entry["laydown_boards"],
        launch_angle_rad=entry["launch_angle_deg"] * DEGREE_RAD,
        speed_mps=entry["scatter_mph"] * MPH_MPS,
        rev_rate_radps=entry["scatter_rpm"] * RPM_RADPS,
    )


def middle_ball(cover: Cover) -> Ball:
    """A ball of that cover with the usual core, layout and finish."""
    usual = usual_ball(cover)
    return replace(usual, name=f"middle {cover}", surface=Surface(usual.surface.grit))


def best_impacts(pattern: Pattern, table: CarryTable, shots: int) -> Impacts:
    """Shots with the ball and at the line that strike most; both are chosen with other errors
    than they are told with."""
    tried = [_best_line(pattern, middle_ball(cover), table) for cover in STRIKE_BALLS]
    _, ball, line = max(tried, key=lambda trial: trial[0])
    return _thrown(pattern, ball, *line, release_errors(tour_scatter(), shots, seed=9))


def _best_line(
    pattern: Pattern, ball: Ball, table: CarryTable
) -> tuple[float, Ball, tuple[float, float]]:
    """Strikes of a ball's best line, the ball, and that line's board and angle."""
    line, strikes = (0.0, 0.0), np.zeros(1)
    for boards, angles_rad, shots in (
        (LAYDOWN_BOARDS, ANGLES_RAD, 32),
        (NEAR_BOARDS, NEAR_RAD, 256),
    ):
        lines = [v.ravel() for v in np.meshgrid(line[0] + boards, line[1] + angles_rad)]
        tried = _thrown(pattern, ball, *lines, release_errors(tour_scatter(), shots, seed=7))
        strikes = table.strike_probability(*tried).mean(axis=1)
        best = int(strikes.argmax())
        line = float(lines[0][best]), float(lines[1][best])
    return float(strikes.max()), ball, line


def _thrown(
    pattern: Pattern, ball: Ball, laydown_board: ArrayLike, angle_rad: ArrayLike, errors: Errors
) -> Impacts:
    lane = LaneKind(length_m=pattern.length_m)
    laydown, angle = (np.atleast_1d(v)[:, np.newaxis] for v in (laydown_board, angle_rad))
    shots = shots_of(
        tour_release(),
        lane,
        own_laydown=laydown + errors.laydown_boards,
        launch_angle_rad=angle + errors.launch_angle_rad,
        speed_change_mps=errors.speed_mps,
        rev_change_radps=errors.rev_rate_radps,
        rotation_change_rad=errors.axis_rotation_rad,
    )
    house = load_event(DEMO / "event.toml").house
    film = own_frame(film_of(pattern), Hand.RIGHT)
    impact = roll(lane.under(film), bodies_of([ball], house), shots).impact
    shape = (len(laydown), len(errors))
    return Impacts(
        impact.offset_boards.reshape(shape),
        impact.entry_angle_deg.reshape(shape),
        impact.speed_mps.reshape(shape),
    )
