"""What an impact is worth in pins a game, and what is left of that under scatter.

A game is not a sum over frames, but near a usual game it is close to one: each strike, each
spare, each pin of a first ball and each pin of an open adds a known number of pins. These weights
are the slopes of the exact expectation at a usual game, so the best line by this measure is the
best line by score.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter1d, map_coordinates

from nextpair.carry.table import CarryTable
from nextpair.planning.odds import pins_if_missed
from nextpair.scoring.leaves import FULL_RACK, PINS, pin_count

FloatArray = NDArray[np.float64]

USUAL_STRIKES = 0.45
USUAL_SPARES = 0.42
"""Strikes and spares a frame of the game at which the slopes are taken."""
USUAL_COUNT = 9.0
FRAMES = 10

OFFSETS = np.arange(-24.0, 24.01, 0.125)
ANGLES = np.arange(-2.0, 9.01, 0.5)
BLURS = np.arange(0.0, 5.01, 0.5)
"""Grid of the value map: offset [boards], entry angle [deg], blur of the offset [boards]."""


def game_pins(strikes: float, spares: float) -> float:
    """Expected score of ten like frames: chance of a strike, of a spare; an open counts 9.

    Source: [facts] section 7, simple model, worked out from the rules of scoring.
    """
    first = 10 * strikes + USUAL_COUNT * (1 - strikes)
    second = strikes * (10 + first) + 10 * spares + USUAL_COUNT * (1 - strikes - spares)
    opens = USUAL_COUNT * (1 - strikes - spares)
    return FRAMES * (strikes * (10 + second) + spares * (10 + first) + opens)


def _slopes() -> tuple[float, float, float, float]:
    """Pins a game for each unit of strike chance, of spare chance, of first-ball pins where there
    is no strike, and of pins in an open.

    Source: [facts] section 7, rules of scoring. A first ball counts once more after a spare, and
    after a strike that followed a strike; both balls of an open count in their own frame, and once
    more after a strike.
    """
    step = 1e-4
    here = game_pins(USUAL_STRIKES, USUAL_SPARES)
    by_strike = (game_pins(USUAL_STRIKES + step, USUAL_SPARES) - here) / step
    by_spare = (game_pins(USUAL_STRIKES, USUAL_SPARES + step) - here) / step
    by_first = FRAMES * (USUAL_SPARES + USUAL_STRIKES**2)
    return by_strike, by_spare, by_first, FRAMES * (1 + USUAL_STRIKES)


def second_ball_worth(leave: int, made: FloatArray, taken: FloatArray) -> FloatArray:
    """Worth of a second ball at a leave in spares: one for a spare, nothing where one pin stays,
    less for each pin more. `made` is its chance, `taken` the mean of the pins it takes.

    Source: [facts] section 7, rules of scoring, by the same slopes as first balls.
    """
    _, by_spare, _, by_open = _slopes()
    left_over = pin_count(leave) - taken
    return np.asarray(made + by_open / by_spare * (1.0 - made - left_over))


@dataclass(frozen=True, slots=True)
class PinValue:
    """Value of an impact, already blurred sideways by several scatters.

    `value` [pins a game] (blur, offset, angle); `gutter` is the value of a shot that never reaches
    the pins; a leave adds `worth` (leaves,) to `base`.
    """

    value: FloatArray
    gutter: float
    base: float
    worth: FloatArray

    def at(
        self, offset_boards: FloatArray, entry_angle_deg: FloatArray, blur_boards: FloatArray
    ) -> FloatArray:
        """Value at impacts of any shape; outside the map its edge holds."""
        where = np.stack(
            [
                blur_boards / (BLURS[1] - BLURS[0]),
                (offset_boards - OFFSETS[0]) / (OFFSETS[1] - OFFSETS[0]),
                (entry_angle_deg - ANGLES[0]) / (ANGLES[1] - ANGLES[0]),
            ]
        )
        return np.asarray(map_coordinates(self.value, where, order=1, mode="nearest"))


def pin_value(table: CarryTable, spare_chance: FloatArray, speed_mps: float) -> PinValue:
    """Value map of a bowler who makes each of the table's leaves with the given chance (leaves,).

    `speed_mps` is the bowler's usual speed at the pins, where the table is read.
    """
    by_strike, by_spare, by_first, by_open = _slopes()
    first = np.array([PINS - pin_count(leave) for leave in table.leaves])
    missed = np.array([pins_if_missed(pin_count(leave)) for leave in table.leaves])
    worth = (
        by_spare * spare_chance
        + by_first * (first - USUAL_COUNT)
        + by_open * (1 - spare_chance) * (first + missed - USUAL_COUNT)
    )
    worth[table.leaves.index(0)] = by_strike
    offset, angle = np.meshgrid(OFFSETS, ANGLES, indexing="ij")
    sharp = table.mean_of(worth, offset, angle, speed_mps)
    step = OFFSETS[1] - OFFSETS[0]
    blurred = [
        gaussian_filter1d(sharp, blur / step, axis=0, mode="nearest") if blur else sharp
        for blur in BLURS
    ]
    base = game_pins(USUAL_STRIKES, USUAL_SPARES)
    base -= by_strike * USUAL_STRIKES + by_spare * USUAL_SPARES
    gutter = base + float(worth[table.leaves.index(FULL_RACK)])
    return PinValue(base + np.stack(blurred), gutter, base, worth)
