"""The second half of a game: where the same ball scores best once the first has worn the pair.

A game's draws of the doubt carry a time in the game each, but late ones differ from early ones in
oil and friction too, by chance. So the chosen ball's lines are valued on the films of a quarter
and of three quarters of the game under one and the same doubt, and half of the difference is added
to what they are worth over the whole game: a lane that wears nothing is worth the same throughout.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from nextpair.kernel.layout import bodies_of
from nextpair.planning.aim import PinValue
from nextpair.planning.choice import GameChoice
from nextpair.planning.doubt import outer_doubt
from nextpair.planning.lines import ALIKE_PINS, LineValues, line_values
from nextpair.planning.options import in_game
from nextpair.planning.study import LaneStudy, Study, doubted_films
from nextpair.planning.trial import Line, line_of

FloatArray = NDArray[np.float64]

MIDDLES = (0.25, 0.75)
"""Shares of a game at which its first and its second half are half over."""


@dataclass(frozen=True, slots=True)
class SecondHalf:
    """A line for each lane of a pair in the second half of a game, one of them at least moved;
    `gain_pins` a game (2,) over staying, while that half lasts."""

    lines: tuple[Line, Line]
    gain_pins: tuple[float, float]


def second_half(study: Study, choice: GameChoice, pins: PinValue) -> SecondHalf | None:
    """Where to play a game's second half with the same ball; None where no move is worth it."""
    (left, left_pins), (right, right_pins) = (
        _later_line(study, lane, line, pins)
        for lane, line in zip(study.of_game(choice.game), choice.lines, strict=True)
    )
    if (left, right) == choice.lines:
        return None
    return SecondHalf((left, right), (left_pins, right_pins))


def film_at(lane: LaneStudy, share: float) -> FloatArray:
    """Film (120, 39) [um] of a lane as planned when a share of the game is over."""
    return np.asarray(lane.start + 2.0 * share * (lane.middle - lane.start))


def _later_line(
    study: Study, lane: LaneStudy, planned: Line, pins: PinValue
) -> tuple[Line, float]:
    """The line to move to and its gain; the planned one where others gain too little."""
    later = later_values(study, lane, planned, pins)
    best = later.best_cell(0, (planned.own_laydown, planned.angle_rad))
    stay = later.grid.cell_of(planned.own_laydown, planned.angle_rad)
    gain = float(later.mean_value[0][best] - later.mean_value[0][stay])
    if gain <= ALIKE_PINS:
        return planned, 0.0
    moved = line_of(later.grid, planned.option, best)
    return replace(moved, change=planned.change), gain


def later_values(study: Study, lane: LaneStudy, planned: Line, pins: PinValue) -> LineValues:
    """Value [pins a game] of all lines in a game's second half, with the ball and the release of
    the planned one, as one draw."""
    event = study.event
    bowler = event.bowler
    doubt = outer_doubt()
    films = [
        doubted_films(
            lane.fresh,
            lane.start,
            film_at(lane, 1.0),
            replace(doubt, time=np.full(2, middle)),
            lane.length_m,
        )
        for middle in MIDDLES
    ]
    ball = in_game(event, study.options[planned.option], lane.game)
    halves = line_values(
        np.concatenate(films),
        np.tile(doubt.dry_factor, len(MIDDLES)),
        planned.change.released(bowler.release),
        study.scatter(planned.change),
        lane.kind,
        bodies_of([ball], event.house, bowler.pap_m),
        pins,
        lane.values.grid,
    )
    first, second = np.split(halves.value, len(MIDDLES), axis=1)
    change = 0.5 * (second.mean(axis=1) - first.mean(axis=1))
    whole = lane.values.value[planned.option].mean(axis=0)
    return replace(halves, value=(whole + change)[:, None])
