"""The choices: which bag, which ball and line in each game, and what to go to if it fails."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from nextpair.planning.bag import BagChoice, choose_bag
from nextpair.planning.insurance import InsuredBag, insure
from nextpair.planning.lines import ALIKE_PINS, highest_cell
from nextpair.planning.options import packed_spares
from nextpair.planning.study import LaneStudy, Study
from nextpair.planning.trial import (
    Line,
    hook_less_boards,
    line_at,
    meant_offset_boards,
    meant_offsets_boards,
)

FloatArray = NDArray[np.float64]

FARTHEST_BOARDS = 6.0
"""Nobody's next move is farther than this."""
LEAST_GAIN_PINS = 0.5
"""A fallback that gains less is not worth a word."""
CURE_BOARDS = 0.5
"""A ball that arrives this much nearer on the planned line answers a miss by itself."""
SIDES = (-1, 1)
"""High (-1: the ball hooks more than planned) and light (+1: less)."""


@dataclass(frozen=True, slots=True)
class Fallback:
    """What to play if the pair answers differently: the side on which planned shots miss."""

    lines: tuple[Line, Line]
    side: int
    miss_boards: float
    gain_pins: float


@dataclass(frozen=True, slots=True)
class GameChoice:
    """A game's ball and a line for each lane; the best other ball of the bag; the fallback.

    `dropped` is the ball of the game before where it was changed. `release_gain_pins` is what the
    lines gain by how they are let go of otherwise than usual.
    """

    game: int
    option: int
    lines: tuple[Line, Line]
    value_pins: float
    next_best: int | None
    next_best_pins: float
    fallback: Fallback | None
    dropped: int | None = None
    dropped_pins: float = 0.0
    release_gain_pins: float = 0.0


def bag_choice(study: Study) -> BagChoice:
    """The best bag under the event's limit, spare ball included.

    A bag is valued by what it lets the bowler throw once each lane has shown itself, so every
    draw of the doubt counts as a game of its own.
    """
    return choose_bag(
        _cases(study),
        [ball.name for ball in study.options],
        study.event.ball_limit,
        [ball.name for ball in packed_spares(study.event)],
    )


def insured_bag(study: Study, bag: BagChoice) -> InsuredBag:
    """The best bag with its free places filled for the bad case."""
    limit = study.event.ball_limit
    places = None if limit is None else limit - len(packed_spares(study.event))
    return insure(bag, _cases(study), [ball.name for ball in study.options], places)


def _cases(study: Study) -> FloatArray:
    """Expected pins (o, g x d) of each option in each game and draw of the doubt."""
    values = study.answered_values
    return values.reshape(len(values), -1)


def game_choices(study: Study, bag: BagChoice) -> tuple[GameChoice, ...]:
    """Ball and lines for every game, each close to the line before where lines score alike."""
    found: list[GameChoice] = []
    values = study.game_values
    for game in range(1, study.event.games + 1):
        before = found[-1].lines[0] if found else None
        option, next_best = _two_best(values[:, game - 1], bag.options, before)
        dropped = before.option if before and before.option != option else None
        near = None if before is None else (before.own_laydown, before.angle_rad)
        lanes = study.of_game(game)
        left = best_line(lanes[0], option, near)
        right = best_line(lanes[1], option, (left.own_laydown, left.angle_rad))
        lines = (left, right)
        found.append(
            GameChoice(
                game=game,
                option=option,
                lines=lines,
                value_pins=float(values[option, game - 1]),
                next_best=next_best,
                next_best_pins=0.0 if next_best is None else float(values[next_best, game - 1]),
                fallback=way_out(study, lanes, bag.options, lines),
                dropped=dropped,
                dropped_pins=0.0 if dropped is None else float(values[dropped, game - 1]),
            )
        )
    return tuple(found)


def _two_best(
    value: FloatArray, options: tuple[int, ...], before: Line | None
) -> tuple[int, int | None]:
    """The ball of the game before if none scores better than alike, else the best; and the best
    of the others."""
    ranked = sorted(options, key=lambda option: -value[option])
    option = ranked[0]
    if before is not None and value[before.option] >= value[option] - ALIKE_PINS:
        option = before.option
    others = [other for other in ranked if other != option]
    return option, others[0] if others else None


def best_line(lane: LaneStudy, option: int, near: tuple[float, float] | None = None) -> Line:
    """An option's best line on a lane."""
    return line_at(lane, option, lane.values.best_cell(option, near))


def way_out(
    study: Study,
    lanes: tuple[LaneStudy, LaneStudy],
    options: tuple[int, ...],
    lines: tuple[Line, Line],
) -> Fallback | None:
    """What to play if a pair answers otherwise: the change of ball or line that gains most on the
    side where the planned lines lose most."""
    misses = np.mean(
        [_miss_by_draw(study, lane, line) for lane, line in zip(lanes, lines, strict=True)], axis=0
    )
    best: Fallback | None = None
    for side in SIDES:
        draws = np.flatnonzero(side * misses > 0)
        if not len(draws):
            continue
        stay = _mean_value(lanes, lines, draws)
        for option in options:
            left = _best_on(study, lanes[0], option, draws, lines[0], side)
            right = _best_on(study, lanes[1], option, draws, lines[1], side)
            moved = left, _alike_moved(lanes[1], lines, left, right, draws)
            gain = _mean_value(lanes, moved, draws) - stay
            if gain > (best.gain_pins if best else LEAST_GAIN_PINS):
                miss = float(np.abs(misses[draws]).mean())
                best = Fallback(moved, side, miss, gain)
    return best


def _alike_moved(
    lane: LaneStudy,
    planned: tuple[Line, Line],
    left: Line,
    right: Line,
    draws: NDArray[np.int64],
) -> Line:
    """The right lane's fallback: moved as far as the left one's, where that scores alike with its
    own best. Nobody thinks of two moves at once."""
    same = replace(
        left,
        own_laydown=planned[1].own_laydown + left.own_laydown - planned[0].own_laydown,
        angle_rad=planned[1].angle_rad + left.angle_rad - planned[0].angle_rad,
    )
    grid = lane.values.grid
    inside = grid.own_laydown[0] <= same.own_laydown <= grid.own_laydown[-1]
    inside &= grid.angle_rad[0] <= same.angle_rad <= grid.angle_rad[-1]
    worth, best = (_mean_value((lane, lane), (line, line), draws) for line in (same, right))
    return same if inside and worth >= best - ALIKE_PINS else right


def _miss_by_draw(study: Study, lane: LaneStudy, line: Line) -> FloatArray:
    """How far right (own side, +) of the planned offset the meant shot arrives in each draw."""
    bowler = study.event.bowler
    planned = meant_offset_boards(line, lane.middle, lane, bowler)
    return meant_offsets_boards(line, lane.films, lane, bowler) - planned


def _mean_value(
    lanes: tuple[LaneStudy, LaneStudy], lines: tuple[Line, Line], draws: NDArray[np.int64]
) -> float:
    found = []
    for lane, line in zip(lanes, lines, strict=True):
        row, column = lane.values.grid.cell_of(line.own_laydown, line.angle_rad)
        found.append(lane.values.value[line.option, draws, row, column].mean())
    return float(np.mean(found))


def _best_on(
    study: Study,
    lane: LaneStudy,
    option: int,
    draws: NDArray[np.int64],
    planned: Line,
    side: int,
) -> Line:
    """An option's best line over some of the draws, within a few boards of the planned one.

    A bowler moves inside when the ball goes high and outside when it comes in light, or changes
    to a ball that answers the miss; never to one that makes it worse and the other way. Common
    practice.
    """
    step = lane.values.grid.own_laydown - planned.own_laydown
    near = np.abs(step) <= FARTHEST_BOARDS
    if not _cures(study, lane, option, planned, side):
        near &= side * step <= 0
    value = lane.values.value[option, draws].mean(axis=0)
    return line_at(lane, option, highest_cell(np.where(near[:, None], value, -np.inf)))


def _cures(study: Study, lane: LaneStudy, option: int, planned: Line, side: int) -> bool:
    """Whether a ball, thrown on the planned line, goes against the miss: hooks less where the
    plan goes high, more where it comes in light."""
    return side * hook_less_boards(planned, option, lane, study.event.bowler) <= -CURE_BOARDS
