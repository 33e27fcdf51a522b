"""The search over lines: every lay-down and launch angle within reach, for every ball.

Paths are rolled on a coarse grid of lines for each draw of the doubt; where a path meets the pins
is a smooth function of the line, so it is interpolated to a finer grid before its value is read.
The bowler's scatter in lay-down and angle is then a blur over that grid, and the scatter in speed,
revs and rotation a blur of the offset by the measured slopes.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property, partial
from typing import TypeVar

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
Real = TypeVar("Real", np.float32, np.float64)

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
STRAY_BOARDS = 1.5
STRAY_RAD = 0.75 * DEGREE_RAD
"""How far beyond reach lines are rolled: two to three deviations of most bowlers. Where a line at
the edge of what is within reach was taken to stray no farther, its value was up to 9 pins a game
too high, and it was chosen for it."""
SLOPES = ("speed_mps", "rev_rate_radps", "axis_rotation_rad")
"""Parts of the scatter that blur the offset; lay-down and angle blur the grid itself."""
EDGE_BOARDS = 1.0
"""A path that comes closer to the gutter than this counts as lost when lines are chosen: nobody
plans on the dry edge board to turn a ball back. Common practice, from memory. Were only what falls
into the gutter lost, high revs would play outside of low ones, against common practice."""
ALIKE_PINS = 0.5
"""Balls and lines whose values differ by less than this many pins a game score alike: nobody moves
for less."""

ROOMY_SHARE = 0.9
"""Lines with this share of the most room of those that score alike have as much (assumption)."""


@dataclass(frozen=True)
class Axis:
    """One way in which lines differ: the places within reach that are rolled (c,), evenly spaced,
    and how far beyond them a bowler strays, which is rolled too.

    Values are read FINER times as densely, beyond reach as well: what is lost there by scatter
    counts, but nobody aims there.
    """

    rolled_within: FloatArray
    margin: float = 0.0

    @cached_property
    def places(self) -> FloatArray:
        """Places (l,) of the lines, all within reach."""
        first, last = self.rolled_within[[0, -1]]
        return np.linspace(first, last, (len(self.rolled_within) - 1) * FINER + 1)

    @cached_property
    def rolled(self) -> FloatArray:
        """Places (c + 4,) that are rolled: without a margin (c,)."""
        if not self._beyond:
            return self.rolled_within
        first, last = self.rolled_within[[0, -1]]
        stray = np.array([0.5, 1.0]) * self._beyond * self.step
        return np.concatenate((first - stray[::-1], self.rolled_within, last + stray))

    @cached_property
    def step(self) -> float:
        """From one line to the next; where there is but one, between places beyond it."""
        if len(self.rolled_within) > 1:
            return float(self.places[1] - self.places[0])
        return self.margin / (2 * FINER)

    @cached_property
    def _beyond(self) -> int:
        """Steps that are read beyond either end."""
        return math.ceil(self.margin / self.step - 1e-9) if self.margin else 0

    @cached_property
    def matrix(self) -> FloatArray:
        """Takes values at the rolled places to all that are read, by a cubic spline."""
        beyond = self.step * np.arange(1, self._beyond + 1)
        first, last = self.rolled_within[[0, -1]]
        read = np.concatenate((first - beyond[::-1], self.places, last + beyond))
        if len(self.rolled) == 1:
            return np.ones((1, 1))
        spline = make_interp_spline(
            self.rolled, np.eye(len(self.rolled)), k=min(3, len(self.rolled) - 1)
        )
        return np.asarray(spline(read))

    def near(self, place: float, reach: float) -> Axis:
        """The rolled places no farther than this from one of them."""
        near = np.abs(self.rolled_within - place) <= reach
        return Axis(self.rolled_within[near], self.margin)

    @property
    def within(self) -> slice:
        """The lines among all places that are read."""
        return slice(self._beyond, self._beyond + len(self.places))


@dataclass(frozen=True)
class LineGrid:
    """The lines of one bowler: own lay-down boards and launch angles."""

    laydown: Axis
    angle: Axis

    @property
    def own_laydown(self) -> FloatArray:
        """Own lay-down boards (l,) of the lines."""
        return self.laydown.places

    @property
    def angle_rad(self) -> FloatArray:
        """Launch angles (f,) of the lines."""
        return self.angle.places

    def refined(self, rolled: FloatArray) -> FloatArray:
        """Values wherever they are read, from those of the rolled lines (..., c, a)."""
        return np.asarray(self.laydown.matrix @ rolled @ self.angle.matrix.T)

    def within_reach(self, read: NDArray[Real]) -> NDArray[Real]:
        """Values (..., l, f) of the lines, from those wherever they are read."""
        return read[..., self.laydown.within, self.angle.within]

    def cell_of(self, own_laydown: float, angle_rad: float) -> tuple[int, int]:
        """Lay-down and angle indices of the line nearest to some line."""
        return (
            int(np.abs(self.own_laydown - own_laydown).argmin()),
            int(np.abs(self.angle_rad - angle_rad).argmin()),
        )

    def blur(self, laydown_boards: float, angle_rad: float) -> tuple[float, float]:
        """Scatter in lay-down and angle, in steps of the grid; none where one value is rolled."""
        return (
            laydown_boards / self.laydown.step if len(self.laydown.rolled) > 1 else 0.0,
            angle_rad / self.angle.step if len(self.angle.rolled) > 1 else 0.0,
        )


def line_grid(
    reach: Reach,
    hand: Hand,
    laydown_step_boards: float = LAYDOWN_STEP_BOARDS,
    angle_step_rad: float = ANGLE_STEP_RAD,
    *,
    strays: bool = True,
) -> LineGrid:
    """Grid over what a bowler can repeat, and where `strays`, over where scatter takes it."""
    low, high = sorted(own_board(board, hand) for board in reach.laydown_boards)
    return LineGrid(
        Axis(_spread(low, high, laydown_step_boards), STRAY_BOARDS if strays else 0.0),
        Axis(_spread(*reach.launch_angle_rad, angle_step_rad), STRAY_RAD if strays else 0.0),
    )


def _spread(low: float, high: float, step: float) -> FloatArray:
    return np.linspace(low, high, int(np.ceil((high - low) / step - 1e-9)) + 1)


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
            rows * self.grid.laydown.step if rows else 0.0,
            columns * self.grid.angle.step if columns else 0.0,
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
    form: Form | None = None,
    inside_boards: FloatArray | None = None,
) -> LineValues:
    """Value of every line with every body on one lane, for d draws of it.

    films (d, 120, 39) [um] in the bowler's frame, dry_factor (d,), the release of the day (d,),
    left out as the file says; draw 0 measures each body's slopes. inside_boards (d,) is how much
    farther inside balls arrive than they are rolled.
    """
    draws = len(films)
    every = np.arange(len(bodies.dry_friction))
    roll_lines = partial(_roll_lines, films, dry_factor, release, kind, bodies, grid)
    of_day = np.zeros((draws, len(SLOPES)))
    if form is not None:
        of_day += np.stack([getattr(form, name) for name in SLOPES], axis=1)
    meant = roll_lines(every, np.arange(draws), of_day)
    parts = of_day[:1] + np.diag([getattr(scatter, name) for name in SLOPES])
    moved = roll_lines(every, np.zeros(len(SLOPES), int), parts)
    blur = _blur_boards(grid.refined(moved[0] - meant[0, :, :1]))
    offset, angle, break_x = grid.refined(meant[:3])
    if inside_boards is not None:
        offset = offset - inside_boards[:, None, None]
    value = pins.at(offset, angle, np.broadcast_to(blur[:, None], offset.shape))
    lost = break_x > LANE_WIDTH_M / 2 - EDGE_BOARDS * BOARD_M
    value = np.where(lost, pins.gutter, value)
    sigma = grid.blur(
        float(np.hypot(scatter.laydown_boards, AIM_BOARDS)),
        float(np.hypot(scatter.launch_angle_rad, AIM_RAD)),
    )
    strayed = gaussian_filter(value.astype(np.float32), (0.0, 0.0, *sigma), mode="nearest")
    return LineValues(
        grid,
        grid.within_reach(strayed),
        own_boards_of(grid.within_reach(grid.refined(meant[3].mean(axis=1)))),
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
        own_laydown=grid.laydown.rolled[None, None, :, None],
        launch_angle_rad=grid.angle.rolled[None, None, None, :],
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
    shape = len(body), len(film), len(grid.laydown.rolled), len(grid.angle.rolled)
    return np.stack([field.reshape(shape) for field in fields])


def _blur_boards(shifts: FloatArray) -> FloatArray:
    """Scatter of the offset (o, l, f) from the shifts that each part of it makes (o, 3, l, f)."""
    return np.asarray(np.minimum(np.sqrt((shifts**2).sum(axis=1)), BLURS[-1]))
