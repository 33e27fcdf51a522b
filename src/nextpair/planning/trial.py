"""One line tried on one lane: where it goes, what it strikes and leaves, how far it may miss."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nextpair.carry.table import CarryTable
from nextpair.domain.bowler import Bowler, Release
from nextpair.domain.lane import BOARDS_PER_RAD
from nextpair.domain.units import DEGREE_RAD, FOOT_M, MPH_MPS
from nextpair.kernel.layout import NODE_M, Shots, Trace
from nextpair.kernel.outcome import Impact
from nextpair.kernel.roll import Paths, roll
from nextpair.kernel.throws import (
    FEET,
    NO_ERRORS,
    Errors,
    Form,
    LaneKind,
    erring_shots,
    own_boards_of,
    usual_form,
)
from nextpair.planning.aim import PinValue
from nextpair.planning.lines import LineGrid
from nextpair.planning.release_change import AS_USUAL, ReleaseChange
from nextpair.planning.room import least_pins
from nextpair.planning.study import ANSWERED_SHARE, LaneStudy

FloatArray = NDArray[np.float64]

ROOM_ANGLES_RAD: FloatArray = np.linspace(-1.25, 1.25, 21) * DEGREE_RAD
ROOM_SPEEDS_MPS: FloatArray = np.linspace(-3.0, 3.0, 25) * MPH_MPS
ROOM_ERRORS = 16
BAND = (10.0, 90.0)


@dataclass(frozen=True, slots=True)
class Line:
    """What the bowler does: a ball (row of the study's options), from where, at what angle, let go
    of how otherwise than usual."""

    option: int
    own_laydown: float
    angle_rad: float
    change: ReleaseChange = AS_USUAL


def line_of(grid: LineGrid, option: int, cell: tuple[int, int]) -> Line:
    """An option's line at a cell (lay-down, angle) of a grid."""
    return Line(option, float(grid.own_laydown[cell[0]]), float(grid.angle_rad[cell[1]]))


def line_at(lane: LaneStudy, option: int, cell: tuple[int, int]) -> Line:
    """The line at a cell (lay-down, angle) of a lane's grid, let go of as its values say."""
    return replace(
        line_of(lane.values.grid, option, cell), change=lane.changes.get(option, AS_USUAL)
    )


def line_shots(
    line: Line,
    release: Release,
    kind: LaneKind,
    errors: Errors = NO_ERRORS,
    form: Form | None = None,
    *,
    own_laydown: ArrayLike | None = None,
    launch_angle_rad: ArrayLike | None = None,
    speed_change_mps: FloatArray | float = 0.0,
    film: ArrayLike = 0,
    dry_factor: ArrayLike = 1.0,
) -> Shots:
    """Shots of one bowler from a line, flat from (..., d, n): with each of n errors on each of d
    draws, whose `film`, `dry_factor` and release of the day are (d,) or one for all.

    `own_laydown` and `launch_angle_rad` stand in for the line's own, (..., d or 1, 1), and
    `speed_change_mps` comes on top of its own.
    """
    change, day = line.change, form or usual_form(1)
    return erring_shots(
        release,
        kind,
        change.strayed(errors),
        own_laydown=line.own_laydown if own_laydown is None else own_laydown,
        launch_angle_rad=line.angle_rad if launch_angle_rad is None else launch_angle_rad,
        speed_change_mps=change.speed_mps + day.speed_mps[:, None] + speed_change_mps,
        rev_change_radps=day.rev_rate_radps[:, None],
        rotation_change_rad=change.rotation_rad + day.axis_rotation_rad[:, None],
        body=line.option,
        film=np.asarray(film)[..., None],
        dry_factor=np.asarray(dry_factor)[..., None],
    )


@dataclass(frozen=True, slots=True)
class Trial:
    """A line on a lane, boards counted from the bowler's own side.

    path, band : own boards (60,) and (60, 2) at whole feet, half-way through the game as planned.
    strike_by_draw, leaves_by_draw : (d,) and (d, leaves) over a game, with scatter, of a bowler
        who answers what the lane shows in ANSWERED_SHARE of the frames.
    room_boards, room_mph : widths in which the score loses less than ROOM_LOSS: at the arrows by
        the angle alone, and by the speed alone, rolled.
    room_laydown_boards, room_angle_rad : the same of lay-down and of launch angle, by the values
        of lines, within what the bowler can repeat.
    """

    line: Line
    target: float
    breakpoint_board: float
    breakpoint_ft: float
    exit_board: float
    offset_boards: float
    entry_angle_deg: float
    entry_speed_mps: float
    path: FloatArray
    band: FloatArray
    strike_by_draw: FloatArray
    leaves_by_draw: FloatArray
    room_boards: float
    room_mph: float
    room_laydown_boards: float
    room_angle_rad: float


def try_line(
    line: Line,
    lane: LaneStudy,
    bowler: Bowler,
    table: CarryTable,
    pins: PinValue,
    errors: Errors,
) -> Trial:
    """Roll a line on a lane as planned and under every draw of the doubt."""
    planned = _roll_planned(line, lane, bowler, errors)
    impact = _arrived(planned.lane_impact, lane.likely.inside_boards)
    own = _own_path(planned)
    leaves = leaves_by_draw(line, lane, bowler, table, errors)
    room_laydown_boards, room_angle_rad = lane.values.room(
        line.option, lane.values.grid.cell_of(line.own_laydown, line.angle_rad)
    )
    return Trial(
        line=line,
        target=float(own_boards_of(planned.arrows_x_m[0])),
        breakpoint_board=float(own_boards_of(planned.break_x_m[0])),
        breakpoint_ft=float(planned.break_m[0] / FOOT_M),
        exit_board=float(own_boards_of(planned.exit_x_m[0])),
        offset_boards=float(impact.offset_boards[0]),
        entry_angle_deg=float(impact.entry_angle_deg[0]),
        entry_speed_mps=float(impact.speed_mps[0]),
        path=own[:, 0],
        band=np.percentile(own[:, 1:], BAND, axis=1).T,
        strike_by_draw=leaves[:, table.leaves.index(0)],
        leaves_by_draw=leaves,
        room_boards=_room(line, lane, bowler, table, pins, errors, ROOM_ANGLES_RAD, 0.0)
        * BOARDS_PER_RAD,
        room_mph=_room(line, lane, bowler, table, pins, errors, 0.0, ROOM_SPEEDS_MPS) / MPH_MPS,
        room_laydown_boards=room_laydown_boards,
        room_angle_rad=room_angle_rad,
    )


def leaves_by_draw(
    line: Line,
    lane: LaneStudy,
    bowler: Bowler,
    table: CarryTable,
    errors: Errors,
    answered_share: float = ANSWERED_SHARE,
) -> FloatArray:
    """Chance of every leave (d, leaves) over a game in each draw, of a bowler who throws a line as
    planned and answers what the lane shows in a share of the frames."""
    draws = len(lane.films)
    kept = _by_draw(
        np.full(draws, line.own_laydown), np.full(draws, line.angle_rad), line, lane, bowler,
        errors,
    )  # fmt: skip
    leaves = _leaves(kept, draws, table)
    if answered_share:
        moved = _by_draw(*_answers(line, lane), line, lane, bowler, errors)
        leaves += answered_share * (_leaves(moved, draws, table) - leaves)
    return leaves


def meant_offset_boards(line: Line, film: FloatArray, lane: LaneStudy, bowler: Bowler) -> float:
    """Offset at which a line thrown as meant arrives on some film of a lane (120, 39)."""
    likely = lane.likely
    shots = line_shots(
        line, bowler.release, lane.kind, form=likely.form, dry_factor=likely.dry_factor
    )
    paths = roll(lane.kind.under(film), lane.bodies, shots)
    return float(_arrived(paths.lane_impact, likely.inside_boards).offset_boards[0])


def meant_offsets_boards(
    line: Line, films: FloatArray, lane: LaneStudy, bowler: Bowler
) -> FloatArray:
    """Offset (d,) at which a line thrown as meant arrives in each draw of a lane's doubt, on some
    film for each (d, 120, 39)."""
    shots = line_shots(
        line,
        bowler.release,
        lane.kind,
        form=lane.form,
        film=np.arange(len(films)),
        dry_factor=lane.dry_factor,
    )
    paths = roll(lane.kind.under(films), lane.bodies, shots)
    return np.asarray(_arrived(paths.lane_impact, lane.inside_boards).offset_boards, float)


def hook_less_boards(line: Line, option: int, lane: LaneStudy, bowler: Bowler) -> float:
    """How much farther toward the own side another ball arrives from the same line: how much
    less it hooks."""
    other, own = (
        meant_offset_boards(thrown, lane.middle, lane, bowler)
        for thrown in (replace(line, option=option), line)
    )
    return other - own


def _roll_planned(line: Line, lane: LaneStudy, bowler: Bowler, errors: Errors) -> Paths:
    """The meant shot, then one with each error, on the film half-way through the game."""
    meant_first = Errors(
        laydown_boards=np.append(0.0, errors.laydown_boards),
        launch_angle_rad=np.append(0.0, errors.launch_angle_rad),
        speed_mps=np.append(0.0, errors.speed_mps),
        rev_rate_radps=np.append(0.0, errors.rev_rate_radps),
        axis_rotation_rad=np.append(0.0, errors.axis_rotation_rad),
    )
    likely = lane.likely
    shots = line_shots(
        line, bowler.release, lane.kind, meant_first, likely.form, dry_factor=likely.dry_factor
    )
    return roll(lane.kind.under(lane.middle), lane.bodies, shots, record=True)


def _own_path(paths: Paths) -> FloatArray:
    """Own boards (60, n) at whole feet."""
    if paths.trace is None:
        raise ValueError("paths were rolled without a record")
    x_m = paths.trace[Trace.X].astype(float)
    columns = [np.interp(FEET * FOOT_M, NODE_M, x_m[:, shot]) for shot in range(x_m.shape[1])]
    return own_boards_of(np.stack(columns, axis=1))


def _answers(line: Line, lane: LaneStudy) -> tuple[FloatArray, FloatArray]:
    """Own lay-down and launch angle (d,) of the same ball's best line in each draw."""
    value = lane.values.value[line.option]
    best = value.reshape(len(value), -1).argmax(axis=1)
    rows, columns = np.unravel_index(best, value.shape[1:])
    grid = lane.values.grid
    return grid.own_laydown[rows], grid.angle_rad[columns]


def _by_draw(
    own_laydown: FloatArray,
    angle_rad: FloatArray,
    line: Line,
    lane: LaneStudy,
    bowler: Bowler,
    errors: Errors,
) -> Impact:
    """Impacts (d x n,) of shots with n errors, from a line (d,) for each draw."""
    shots = line_shots(
        line,
        bowler.release,
        lane.kind,
        errors,
        lane.form,
        own_laydown=own_laydown[:, None],
        launch_angle_rad=angle_rad[:, None],
        film=np.arange(len(lane.films)),
        dry_factor=lane.dry_factor,
    )
    impact = roll(lane.kind.under(lane.films), lane.bodies, shots).impact
    return _arrived(impact, lane.inside_boards, len(errors))


def _arrived(impact: Impact, inside_boards: FloatArray | None, shots: int = 1) -> Impact:
    """Impacts, flat from (..., d, shots), that come (d,) boards farther inside than rolled."""
    if inside_boards is None:
        return impact
    inside = np.resize(np.repeat(inside_boards, shots), len(impact.offset_boards))
    return replace(impact, offset_boards=impact.offset_boards - inside)


def _leaves(impact: Impact, draws: int, table: CarryTable) -> FloatArray:
    """Mean chance of every leave (d, leaves) over the shots of each draw."""
    chances = table.leave_probability(
        impact.offset_boards, impact.entry_angle_deg, impact.speed_mps
    )
    return np.asarray(chances.reshape(draws, -1, chances.shape[-1]).mean(axis=1))


def _room(
    line: Line,
    lane: LaneStudy,
    bowler: Bowler,
    table: CarryTable,
    pins: PinValue,
    errors: Errors,
    angle_change_rad: FloatArray | float,
    speed_change_mps: FloatArray | float,
) -> float:
    """Width of the run of changes about the line as meant that cost less than ROOM_LOSS."""
    changes = np.atleast_1d(
        speed_change_mps if np.ndim(angle_change_rad) == 0 else angle_change_rad
    )
    some = slice(0, ROOM_ERRORS)
    none = np.zeros(1)
    shots = line_shots(
        line,
        bowler.release,
        lane.kind,
        Errors(
            errors.laydown_boards[some],
            errors.launch_angle_rad[some],
            errors.speed_mps[some],
            none,
            none,
        ),
        lane.form,
        launch_angle_rad=line.angle_rad + np.atleast_1d(angle_change_rad)[:, None, None],
        speed_change_mps=np.atleast_1d(speed_change_mps)[:, None, None],
        film=np.arange(len(lane.films)),
        dry_factor=lane.dry_factor,
    )
    impact = roll(lane.kind.under(lane.films), lane.bodies, shots).impact
    impact = _arrived(impact, lane.inside_boards, ROOM_ERRORS)
    value = pins.base + table.mean_of(
        pins.worth, impact.offset_boards, impact.entry_angle_deg, impact.speed_mps
    )
    by_change = value.reshape(len(changes), -1).mean(axis=1)
    meant = by_change[len(changes) // 2]
    return _run_width(changes, by_change - least_pins(float(meant)))


def _run_width(places: FloatArray, margin: FloatArray) -> float:
    """Width of the run of non-negative margins about the middle, ends interpolated."""
    ends = []
    for step in (-1, 1):
        here = len(places) // 2
        while 0 <= here + step < len(places) and margin[here + step] >= 0:
            here += step
        end = places[here]
        if 0 <= here + step < len(places):
            beyond = here + step
            share = margin[here] / (margin[here] - margin[beyond])
            end = end + share * (places[beyond] - end)
        ends.append(end)
    return float(ends[1] - ends[0])
