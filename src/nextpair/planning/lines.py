"""The search over lines: every lay-down and launch angle within reach, for every ball.

Paths are rolled on a coarse grid of lines for each draw of the doubt; where a path meets the pins
is a smooth function of the line, so it is interpolated to a finer grid before its value is read.
The bowler's scatter in lay-down and angle is then a blur over that grid, and the scatter in speed,
revs and rotation a blur of the offset by the measured slopes.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, partial

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import make_interp_spline
from scipy.ndimage import gaussian_filter

from nextpair.domain.bowler import Hand, Reach, Release, Scatter
from nextpair.domain.lane import BOARD_M, LANE_WIDTH_M
from nextpair.domain.units import DEGREE_RAD
from nextpair.kernel.layout import Bodies
from nextpair.kernel.roll import roll
from nextpair.kernel.throws import Form, LaneKind, own_board, own_boards_of, shots_of
from nextpair.planning.aim import BLURS, PinValue
from nextpair.planning.room import lines_of_room

FloatArray = NDArray[np.float64]

LAYDOWN_STEP_BOARDS = 1.5
ANGLE_STEP_RAD = 0.25 * DEGREE_RAD
FINER = 3
"""Lines at which values are read, to each one that is rolled, in lay-down and in angle."""
STEPS = 1
"""Steps of a path from one node to the next: half of what a shot that is told takes. It moves no
offset by as much as a line's interpolation does."""
AIM_BOARDS = 0.3
AIM_RAD = 0.08 * DEGREE_RAD
"""How far what a bowler means on the day differs from what the sheet says (assumption): it makes
a line with room better than a sharp one that scores alike."""
SLOPES = ("speed_mps", "rev_rate_radps", "axis_rotation_rad")
"""Parts of the scatter that blur the offset; lay-down and angle blur the grid itself."""
EDGE_BOARDS = 1.0
"""A path that comes closer to the gutter than this counts as lost when lines are chosen: nobody
plans on the dry edge board to turn a ball back. Common practice, from memory."""
ALIKE_PINS = 0.5
"""Balls and lines whose values differ by less than this many pins a game score alike: nobody moves
for less."""

ROOMY_SHARE = 0.9
"""Lines with this share of the most room of those that score alike have as much (assumption)."""


@dataclass(frozen=True)
class LineGrid:
    """The lines of one bowler: own lay-down boards and launch angles that are rolled (c,), (a,),
    and the finer ones between them at which values are read (l,), (f,)."""

    rolled_laydown: FloatArray
    rolled_angle_rad: FloatArray

    @cached_property
    def own_laydown(self) -> FloatArray:
        """Own lay-down boards (l,) of the lines."""
        return _finer(self.rolled_laydown)

    @cached_property
    def angle_rad(self) -> FloatArray:
        """Launch angles (f,) of the lines."""
        return _finer(self.rolled_angle_rad)

    @cached_property
    def _by_laydown(self) -> FloatArray:
        return _interpolation(self.rolled_laydown, self.own_laydown)

    @cached_property
    def _by_angle(self) -> FloatArray:
        return _interpolation(self.rolled_angle_rad, self.angle_rad)

    def refined(self, rolled: FloatArray) -> FloatArray:
        """Values (..., l, f) of all lines, from those of the rolled ones (..., c, a)."""
        return np.asarray(self._by_laydown @ rolled @ self._by_angle.T)

    def cell_of(self, own_laydown: float, angle_rad: float) -> tuple[int, int]:
        """Lay-down and angle indices of the line nearest to some line."""
        return (
            int(np.abs(self.own_laydown - own_laydown).argmin()),
            int(np.abs(self.angle_rad - angle_rad).argmin()),
        )

    def blur(self, laydown_boards: float, angle_rad: float) -> tuple[float, float]:
        """Scatter in lay-down and angle, in steps of the grid; none where there is one value."""
        return (
            laydown_boards / _step(self.own_laydown) if len(self.own_laydown) > 1 else 0.0,
            angle_rad / _step(self.angle_rad) if len(self.angle_rad) > 1 else 0.0,
        )


def line_grid(
    reach: Reach,
    hand: Hand,
    laydown_step_boards: float = LAYDOWN_STEP_BOARDS,
    angle_step_rad: float = ANGLE_STEP_RAD,
) -> LineGrid:
    """Grid over what a bowler can repeat."""
    low, high = sorted(own_board(board, hand) for board in reach.laydown_boards)
    return LineGrid(
        _spread(low, high, laydown_step_boards), _spread(*reach.launch_angle_rad, angle_step_rad)
    )


def _spread(low: float, high: float, step: float) -> FloatArray:
    return np.linspace(low, high, int(np.ceil((high - low) / step - 1e-9)) + 1)


def _finer(rolled: FloatArray) -> FloatArray:
    return np.linspace(rolled[0], rolled[-1], (len(rolled) - 1) * FINER + 1)


def _step(values: FloatArray) -> float:
    return float(values[1] - values[0])


def _interpolation(rolled: FloatArray, finer: FloatArray) -> FloatArray:
    """Matrix that takes values at the rolled places to the finer ones, by a cubic spline."""
    if len(rolled) == 1:
        return np.ones((1, 1))
    spline = make_interp_spline(rolled, np.eye(len(rolled)), k=min(3, len(rolled) - 1))
    return np.asarray(spline(finer))


@dataclass(frozen=True, slots=True)
class LineValues:
    """Value [pins a game] of every line, for o options and d draws of doubt.

    `value` (o, d, l, f) float32 over a LineGrid's lay-downs and angles, under the scatter.
    `exit_board` (o, l, f) is the own board at which the meant shot leaves the oil, mean over the
    draws.
    """

    grid: LineGrid
    value: NDArray[np.float32]
    exit_board: FloatArray

    @property
    def mean_value(self) -> FloatArray:
        """Mean over the doubt (o, l, f)."""
        return np.asarray(self.value.mean(axis=1), float)

    def best_value(self) -> FloatArray:
        """Value of each option's best line (o,)."""
        return np.asarray(self.mean_value.max(axis=(1, 2)))

    def best_cell(self, option: int, near: tuple[float, float] | None = None) -> tuple[int, int]:
        """Cell of an option's best line.

        Among lines that score alike those with most room, by the product of its widths; of these
        the best, or the one closest to `near`, own lay-down board and launch angle of the line
        played before.
        """
        value = np.asarray(self.value[option].mean(axis=0), float)
        alike = np.argwhere(value >= value.max() - ALIKE_PINS)
        room = np.array([np.prod(lines_of_room(value, (row, column))) for row, column in alike])
        roomy = np.zeros(value.shape, bool)
        roomy[tuple(alike[room >= ROOMY_SHARE * room.max()].T)] = True
        if near is None:
            return highest_cell(np.where(roomy, value, -np.inf))
        boards = np.abs(self.grid.own_laydown - near[0])
        degrees = np.abs(self.grid.angle_rad - near[1]) / DEGREE_RAD
        distance = boards[:, None] + 3.0 * degrees[None, :]
        return highest_cell(np.where(roomy, -distance, -np.inf))

    def room(self, option: int, cell: tuple[int, int]) -> tuple[float, float]:
        """Room about an option's line in lay-down [boards] and in launch angle [rad], each with
        the other one kept, as far as the grid goes."""
        value = np.asarray(self.value[option].mean(axis=0), float)
        rows, columns = lines_of_room(value, cell)
        return (
            rows * _step(self.grid.own_laydown) if rows else 0.0,
            columns * _step(self.grid.angle_rad) if columns else 0.0,
        )


def highest_cell(value: FloatArray) -> tuple[int, int]:
    """Lay-down and angle indices of the highest of some values (l, f)."""
    row, column = np.unravel_index(int(value.argmax()), value.shape)
    return int(row), int(column)


def line_values(
    films: FloatArray,
    dry_factor: FloatArray,
    release: Release,
    scatter: Scatter,
    kind: LaneKind,
    bodies: Bodies,
    pins: PinValue,
    grid: LineGrid,
    slope_body: int | None = None,
    form: Form | None = None,
) -> LineValues:
    """Value of every line with every body on one lane, for d draws of it.

    films (d, 120, 39) [um] in the bowler's frame, dry_factor (d,), the release of the day (d,),
    left out as the file says; draw 0 measures the slopes, each body's own, or those of
    `slope_body` for all.
    """
    draws = len(films)
    every = np.arange(len(bodies.dry_friction))
    measured = every if slope_body is None else every[[slope_body]]
    roll_lines = partial(_roll_lines, films, dry_factor, release, kind, bodies, grid)
    of_day = np.zeros((draws, len(SLOPES)))
    if form is not None:
        of_day += np.stack([getattr(form, name) for name in SLOPES], axis=1)
    meant = roll_lines(every, np.arange(draws), of_day)
    parts = of_day[:1] + np.diag([getattr(scatter, name) for name in SLOPES])
    moved = roll_lines(measured, np.zeros(len(SLOPES), int), parts)
    blur = _blur_boards(grid.refined(moved[0] - meant[0, measured, :1]))
    offset, angle, break_x = grid.refined(meant[:3])
    value = pins.at(offset, angle, np.broadcast_to(blur[:, None], offset.shape))
    gutter = break_x > LANE_WIDTH_M / 2 - EDGE_BOARDS * BOARD_M
    value = np.where(gutter, pins.gutter, value)
    sigma = grid.blur(
        float(np.hypot(scatter.laydown_boards, AIM_BOARDS)),
        float(np.hypot(scatter.launch_angle_rad, AIM_RAD)),
    )
    return LineValues(
        grid,
        gaussian_filter(value.astype(np.float32), (0.0, 0.0, *sigma), mode="nearest"),
        own_boards_of(grid.refined(meant[3].mean(axis=1))),
    )


def _roll_lines(
    films: FloatArray,
    dry_factor: FloatArray,
    release: Release,
    kind: LaneKind,
    bodies: Bodies,
    grid: LineGrid,
    body: NDArray[np.int64],
    film: NDArray[np.int64],
    moved: FloatArray,
) -> FloatArray:
    """Offset, entry angle, break and exit (4, o, d, c, a) of every line that is rolled, with each
    of some bodies (o,) on each of some films (d,), there with the release moved by (d, 3)."""
    speed_mps, revs_radps, rotation_rad = (column[None, :, None, None] for column in moved.T)
    shots = shots_of(
        release,
        kind,
        own_laydown=grid.rolled_laydown[None, None, :, None],
        launch_angle_rad=grid.rolled_angle_rad[None, None, None, :],
        speed_change_mps=speed_mps,
        rev_change_radps=revs_radps,
        rotation_change_rad=rotation_rad,
        body=body[:, None, None, None],
        film=film[None, :, None, None],
        dry_factor=dry_factor[film][None, :, None, None],
    )
    paths = roll(kind.under(films), bodies, shots, steps=STEPS)
    impact = paths.lane_impact
    fields = (impact.offset_boards, impact.entry_angle_deg, paths.break_x_m, paths.exit_x_m)
    shape = len(body), len(film), len(grid.rolled_laydown), len(grid.rolled_angle_rad)
    return np.stack([field.reshape(shape) for field in fields])


def _blur_boards(shifts: FloatArray) -> FloatArray:
    """Scatter of the offset (o, l, f) from the shifts that each part of it makes (o, 3, l, f)."""
    return np.asarray(np.minimum(np.sqrt((shifts**2).sum(axis=1)), BLURS[-1]))
