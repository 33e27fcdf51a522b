"""Whether a game's ball scores better let go of otherwise: harder, softer, with more axis rotation
or with less.

Ball and lines are chosen at the usual release first. Some changes within reach are then looked at
with the chosen ball, on lines near the chosen ones and under a few draws of the doubt; the best of
them is valued on every line under all draws, under a scatter as wide as it makes it, and taken if
it gains more than alike on the mean of both lanes. Both are thrown the same way.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.bowler import Bowler
from nextpair.domain.units import DEGREE_RAD
from nextpair.kernel.layout import Bodies, bodies_of
from nextpair.kernel.throws import Form
from nextpair.planning.aim import PinValue
from nextpair.planning.choice import GameChoice, best_line, way_out
from nextpair.planning.lines import ALIKE_PINS, LineGrid, LineValues, line_values
from nextpair.planning.options import in_game
from nextpair.planning.release_change import AS_USUAL, ReleaseChange
from nextpair.planning.study import LaneStudy, Study, value_over_game
from nextpair.planning.trial import Line

FloatArray = NDArray[np.float64]

PinsAt = Callable[[float], PinValue]
"""Value of impacts of a bowler who throws so much harder [m/s]."""
LOOK_DRAWS = 4
"""Draws of the doubt under which changes are looked at first."""
NEAR_BOARDS, NEAR_RAD = 4.5, 1.25 * DEGREE_RAD
"""Lines about the chosen one that are looked at first: 1 mph shifts the arrival by about 4.4
boards, which 0.4 degrees take back. Source: [model-sheet] section 6.5."""


@dataclass(frozen=True, slots=True)
class Otherwise:
    """What a change of release makes of both lanes of a game, and what it gains on the pair."""

    lanes: tuple[LaneStudy, LaneStudy]
    gain_pins: float


def tried_changes(bowler: Bowler) -> tuple[ReleaseChange, ...]:
    """Changes of release to look at: ends and middles of the speeds within reach, ends of the
    rotations, without what nobody delivers."""
    speeds = {share * end for end in bowler.reach.speed_change_mps for share in (1.0, 0.5)}
    found = [ReleaseChange(speed_mps=speed) for speed in sorted(speeds - {0.0})]
    found += [
        ReleaseChange(rotation_rad=rotation)
        for rotation in sorted(set(bowler.reach.axis_rotation_change_rad) - {0.0})
    ]
    return tuple(
        change for change in found if change.can_be_thrown(bowler.release, bowler.scatter)
    )


def with_release_changes(
    study: Study, choices: tuple[GameChoice, ...], options: tuple[int, ...], pins_at: PinsAt
) -> tuple[Study, tuple[GameChoice, ...]]:
    """The choices with the change of release that is worth it in each game, and the study with the
    values of the chosen balls so thrown."""
    changes = tried_changes(study.event.bowler)
    lanes = dict(study.lanes)
    found = []
    for choice in choices:
        best = best_change(study, choice, changes, pins_at)
        if best is None:
            found.append(choice)
            continue
        lanes.update(((choice.game, lane.lane), lane) for lane in best.lanes)
        found.append(_thrown_so(replace(study, lanes=lanes), choice, options, best.gain_pins))
    return replace(study, lanes=lanes), tuple(found)


def best_change(
    study: Study, choice: GameChoice, changes: tuple[ReleaseChange, ...], pins_at: PinsAt
) -> Otherwise | None:
    """The change that gains most with a game's ball; None where it gains too little."""
    lanes = study.of_game(choice.game)
    ball = in_game(study.event, study.options[choice.option], choice.game)
    bodies = bodies_of([ball], study.event.house, study.event.bowler.pap_m)
    looks = [
        partial(_values, study, _few(lane), bodies, _near(lane.values.grid, line))
        for lane, line in zip(_unlike(lanes), choice.lines, strict=False)
    ]
    worth = {
        change: _mean_worth([look(change, pins_at) for look in looks])
        for change in (AS_USUAL, *changes)
    }
    best = max(worth, key=lambda change: worth[change])
    if best == AS_USUAL:
        return None
    return _if_worth_it(study, lanes, choice.option, bodies, best, pins_at)


def _if_worth_it(
    study: Study,
    lanes: tuple[LaneStudy, LaneStudy],
    option: int,
    bodies: Bodies,
    change: ReleaseChange,
    pins_at: PinsAt,
) -> Otherwise | None:
    """A change valued on every line under all draws."""
    left, right = lanes
    values = [
        _values(study, lane, bodies, lane.values.grid, change, pins_at) for lane in _unlike(lanes)
    ]
    usual = [lane.values.value[option] for lane in lanes]
    gain = _mean_worth(values) - float(np.mean([value_over_game(value) for value in usual]))
    if gain <= ALIKE_PINS:
        return None
    return Otherwise(
        (
            _with_values(left, option, values[0], change),
            _with_values(right, option, values[-1], change),
        ),
        gain,
    )


def _unlike(lanes: tuple[LaneStudy, LaneStudy]) -> tuple[LaneStudy, ...]:
    """Both lanes, or the left one where lines are worth the same on the other."""
    return lanes[:1] if lanes[0].values is lanes[1].values else lanes


def _few(lane: LaneStudy) -> LaneStudy:
    """A lane under a few draws, evenly from all."""
    some = slice(None, None, max(len(lane.films) // LOOK_DRAWS, 1))
    form, inside_boards = lane.form, lane.inside_boards
    return replace(
        lane,
        films=lane.films[some],
        dry_factor=lane.dry_factor[some],
        form=form
        and Form(form.speed_mps[some], form.rev_rate_radps[some], form.axis_rotation_rad[some]),
        inside_boards=None if inside_boards is None else inside_boards[some],
    )


def _near(grid: LineGrid, line: Line) -> LineGrid:
    """The rolled lines about a line."""
    return LineGrid(
        grid.laydown.near(line.own_laydown, NEAR_BOARDS), grid.angle.near(line.angle_rad, NEAR_RAD)
    )


def _values(
    study: Study,
    lane: LaneStudy,
    bodies: Bodies,
    grid: LineGrid,
    change: ReleaseChange,
    pins_at: PinsAt,
) -> LineValues:
    """Value of every line of a grid with one ball thrown so."""
    return line_values(
        lane.films,
        lane.dry_factor,
        change.released(study.event.bowler.release),
        study.scatter(change),
        lane.kind,
        bodies,
        pins_at(change.speed_mps),
        grid,
        form=lane.form,
        inside_boards=lane.inside_boards,
    )


def _mean_worth(values: list[LineValues]) -> float:
    """Expected pins of a game, mean over lanes, each thrown from its own best line."""
    return float(np.mean([value_over_game(one.value[0]) for one in values]))


def _with_values(
    lane: LaneStudy, option: int, values: LineValues, change: ReleaseChange
) -> LaneStudy:
    """A lane on which an option is thrown so."""
    value, exit_board = lane.values.value.copy(), lane.values.exit_board.copy()
    value[option], exit_board[option] = values.value[0], values.exit_board[0]
    changes: Mapping[int, ReleaseChange] = {**lane.changes, option: change}
    return replace(
        lane,
        values=replace(lane.values, value=value, exit_board=exit_board),
        changes=changes,
    )


def _thrown_so(
    study: Study, choice: GameChoice, options: tuple[int, ...], gain_pins: float
) -> GameChoice:
    """A choice from the ball's best lines as it is thrown in a study."""
    lanes = study.of_game(choice.game)
    usual = choice.lines[0]
    left = best_line(lanes[0], choice.option, (usual.own_laydown, usual.angle_rad))
    right = best_line(lanes[1], choice.option, (left.own_laydown, left.angle_rad))
    lines = (left, right)
    return replace(
        choice,
        lines=lines,
        fallback=way_out(study, lanes, options, lines),
        release_gain_pins=gain_pins,
    )
