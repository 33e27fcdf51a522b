"""Carry looked up: how a ball meets the pins -> strike chance, leaves, pins.

Everything is in the bowler's frame: offset positive to the bowler's pocket side, angle positive
toward the far side. A left-hander's leaves come out as a right-hander's and are mirrored by
whoever shows them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

import numpy as np
from numba import njit, prange
from numpy.typing import ArrayLike, NDArray

from nextpair.carry.deck import STRIKE, FloatArray
from nextpair.carry.nodes import Smoothed, read_table
from nextpair.carry.strings import STRIKES_LOST_SHARE, strung_chances
from nextpair.domain.errors import require, require_within
from nextpair.domain.house import Pinfall
from nextpair.domain.units import POUND_KG
from nextpair.scoring.leaves import FULL_RACK, PINS, pin_count

BALL_KG = 15.0 * POUND_KG
"""Weight of ball where nobody says otherwise."""


@dataclass(frozen=True, slots=True, eq=False)
class CarryTable:
    """Chance of every leave over offset, entry angle and speed, for one weight of ball.

    Between its cells the table is read linearly, beyond its range at its edge. A ball that did
    not reach the pins (NaN) leaves all ten.

    Source: [rack-carry] `python -m nextpair.carry.racks`, docs/adr/0011.
    """

    offsets_boards: FloatArray
    angles_deg: FloatArray
    speeds_mps: FloatArray
    leaves: tuple[int, ...]
    """Bit masks of standing pins, pin 1 = bit 0; the strike is among them as 0."""
    chances: FloatArray
    """(offsets, angles, speeds, leaves), each cell sums to 1."""
    rolls: FloatArray
    """(offsets, angles, speeds) effective number of rolls behind each cell; blur makes it less."""
    settings: dict[str, Any]
    """How the racks were simulated: seed, bodies, smoothing, model hash."""
    weight_inside: bool = True
    """Whether balls as light and as heavy as this one were simulated."""
    strikes_kept: float = 1.0
    """Share of the simulated strikes that still are strikes; less than 1 on strings."""

    def mean_of(
        self,
        values: ArrayLike,
        offset_boards: ArrayLike,
        entry_angle_deg: ArrayLike,
        speed_mps: ArrayLike,
    ) -> FloatArray:
        """Expected value over the leaves of a quantity given per leave.

        Parameters
        ----------
        values : (len(leaves),) what each leave is worth.
        offset_boards, entry_angle_deg, speed_mps : any shapes that broadcast [boards, deg, m/s].

        Returns an array of their common shape.
        """
        worth = np.asarray(values, np.float64)
        require(worth.shape == (len(self.leaves),), "values", worth.shape, "one value a leave")
        missed = float(worth[self.leaves.index(FULL_RACK)])
        shape, columns = _columns(offset_boards, entry_angle_deg, speed_mps)
        mean = self._read((self.chances @ worth)[..., np.newaxis], columns)[:, 0]
        return np.where(np.isnan(columns).any(axis=0), missed, mean).reshape(shape)

    def error_of(
        self,
        values: ArrayLike,
        offset_boards: ArrayLike,
        entry_angle_deg: ArrayLike,
        speed_mps: ArrayLike,
    ) -> FloatArray:
        """Standard error of `mean_of`, from the number of rolls behind it; same arguments.

        One roll more is counted, half of it the lowest value and half the highest: without that,
        what was never seen would be certain. What smoothing blurs is in it, as fewer rolls; what
        is not known of strings is not: each simulated strike counts as what it is worth on them.
        Without a ball at the pins there is no error.

        Source: [brown-cai-dasgupta-2001] the Jeffreys interval's half counts.
        """
        worth = np.asarray(values, np.float64)
        impact = (offset_boards, entry_angle_deg, speed_mps)
        mean = self.mean_of(worth, *impact)
        square, low, high = self._rolled(worth, mean, *impact)
        shape, columns = _columns(*impact)
        rolls = self._read(self.rolls[..., np.newaxis], columns)[:, 0].reshape(shape)
        mean = (rolls * mean + (low + high) / 2.0) / (rolls + 1.0)
        square = (rolls * square + (low**2 + high**2) / 2.0) / (rolls + 1.0)
        error = np.sqrt(np.maximum(square - mean**2, 0.0) / (rolls + 1.0))
        return np.where(np.isnan(columns).any(axis=0).reshape(shape), 0.0, error)

    def strike_probability(
        self, offset_boards: ArrayLike, entry_angle_deg: ArrayLike, speed_mps: ArrayLike
    ) -> FloatArray:
        """Chance of a strike, in the common shape of the arguments [1]."""
        return self.mean_of(self._strike, offset_boards, entry_angle_deg, speed_mps)

    def strike_error(
        self, offset_boards: ArrayLike, entry_angle_deg: ArrayLike, speed_mps: ArrayLike
    ) -> FloatArray:
        """Standard error of the chance of a strike, see `error_of` [1]."""
        return self.error_of(self._strike, offset_boards, entry_angle_deg, speed_mps)

    def mean_pins(
        self, offset_boards: ArrayLike, entry_angle_deg: ArrayLike, speed_mps: ArrayLike
    ) -> FloatArray:
        """Expected pinfall of the first ball, in the common shape of the arguments [pins]."""
        pinfall = [PINS - pin_count(leave) for leave in self.leaves]
        return self.mean_of(pinfall, offset_boards, entry_angle_deg, speed_mps)

    def leave_probability(
        self, offset_boards: ArrayLike, entry_angle_deg: ArrayLike, speed_mps: ArrayLike
    ) -> FloatArray:
        """Chance of every leave: common shape of the arguments + (len(leaves),), rows sum to 1.

        For many impacts prefer `mean_of`, which never holds a row per impact.
        """
        shape, columns = _columns(offset_boards, entry_angle_deg, speed_mps)
        rows = self._read(self.chances, columns)
        missed = np.isnan(columns).any(axis=0)
        rows[missed] = 0.0
        rows[missed, self.leaves.index(FULL_RACK)] = 1.0
        return rows.reshape(*shape, len(self.leaves))

    def chance_of(
        self,
        leave: ArrayLike,
        offset_boards: ArrayLike,
        entry_angle_deg: ArrayLike,
        speed_mps: ArrayLike,
    ) -> FloatArray:
        """Chance of one leave each, in the common shape of the arguments [1].

        leave : places among `leaves`. The others see `mean_of`; none may be NaN.
        """
        shape, columns = _columns(leave, offset_boards, entry_angle_deg, speed_mps)
        places = columns[0].astype(np.int64)
        found: FloatArray = _one_leave(*self._axes, self.chances, places, *columns[1:])
        return found.reshape(shape)

    def inside_range(
        self, offset_boards: ArrayLike, entry_angle_deg: ArrayLike, speed_mps: ArrayLike
    ) -> NDArray[np.bool_]:
        """True where all three and the weight lie in the range that was simulated; NaN lies
        outside."""
        shape, columns = _columns(offset_boards, entry_angle_deg, speed_mps)
        inside = np.full(columns.shape[1], self.weight_inside)
        for axis, column in zip(self._axes, columns, strict=True):
            inside &= (column >= axis[0]) & (column <= axis[-1])
        return inside.reshape(shape)

    def on_strings(self) -> CarryTable:
        """The same table for pins on strings, of a table of free pins."""
        return replace(
            self,
            chances=strung_chances(self.chances, self.leaves.index(STRIKE)),
            strikes_kept=1.0 - STRIKES_LOST_SHARE,
        )

    def _rolled(
        self, worth: FloatArray, mean: FloatArray, *impact: ArrayLike
    ) -> tuple[FloatArray, ...]:
        """Mean square, lowest and highest of what a simulated roll is worth: on strings, a strike
        is worth the mean of what it becomes."""
        square = self.mean_of(worth**2, *impact)
        if self.strikes_kept == 1.0:
            return square, worth.min(), worth.max()
        at_strike = self.leaves.index(STRIKE)
        strike, others = worth[at_strike], np.delete(worth, at_strike)
        strikes = self.mean_of(self._strike, *impact)
        struck = self.strikes_kept * strike + (1.0 - self.strikes_kept) * (
            (mean - strikes * strike) / (1.0 - strikes)
        )
        rolled = strikes / self.strikes_kept
        left = (square - strikes * strike**2) / (1.0 - strikes)
        square = rolled * struck**2 + (1.0 - rolled) * left
        return square, np.minimum(struck, others.min()), np.maximum(struck, others.max())

    @property
    def _strike(self) -> FloatArray:
        return np.array([leave == STRIKE for leave in self.leaves], np.float64)

    @property
    def _axes(self) -> tuple[FloatArray, FloatArray, FloatArray]:
        return self.offsets_boards, self.angles_deg, self.speeds_mps

    def _read(self, grid: FloatArray, columns: FloatArray) -> FloatArray:
        read: FloatArray = _interpolated(*self._axes, np.ascontiguousarray(grid), *columns)
        return read


def load_table(ball_kg: float = BALL_KG, pinfall: Pinfall = Pinfall.FREE) -> CarryTable:
    """The shipped table for one weight of ball, read linearly between simulated weights.

    Weights beyond the simulated ones are read at the nearest, and nothing is inside the range
    then. `pinfall` is how the house sets its pins. Raises InvalidValueError for a weight that no
    ball has.
    """
    require_within("ball_kg", ball_kg / POUND_KG, 6, 16, "lb")
    return _table_for(round(ball_kg, 6), pinfall)


def table_of(
    smoothed: Smoothed, settings: Mapping[str, Any], ball_kg: float = BALL_KG
) -> CarryTable:
    """The table of one weight of ball, as `load_table` reads it from a file."""
    nodes = smoothed.nodes
    ball_lb = round(ball_kg / POUND_KG, 4)
    lower, below, above = _place(nodes.weights_lb, ball_lb)
    chances, rolls = (
        below * part[lower] + above * part[lower + 1] if above else np.array(part[lower])
        for part in (smoothed.chances, smoothed.rolls)
    )
    return CarryTable(
        nodes.offsets_boards,
        nodes.angles_deg,
        nodes.speeds_mps,
        tuple(int(leave) for leave in smoothed.leaves),
        chances,
        rolls,
        dict(settings),
        weight_inside=bool(nodes.weights_lb[0] <= ball_lb <= nodes.weights_lb[-1]),
    )


@cache
def _table_for(ball_kg: float, pinfall: Pinfall) -> CarryTable:
    free = table_of(*_shipped(), ball_kg)
    return free.on_strings() if pinfall is Pinfall.STRING else free


@cache
def _shipped() -> tuple[Smoothed, dict[str, Any]]:
    return read_table(Path(str(files("nextpair.carry"))) / "data" / "carry.npz")


def _columns(*arguments: ArrayLike) -> tuple[tuple[int, ...], FloatArray]:
    """Common shape of the arguments, and the arguments as the rows of one (3, n) array."""
    spread = np.broadcast_arrays(*(np.asarray(value, np.float64) for value in arguments))
    return spread[0].shape, np.stack([values.ravel() for values in spread])


@njit(cache=True, error_model="numpy")
def _place(axis, value):  # type: ignore[no-untyped-def]
    """Lower node, its share and the upper one's, clamped to the axis; NaN reads the first node.

    A mirrored value on a mirrored axis gets the same two shares, exchanged.
    """
    last = axis.size - 1
    if not value > axis[0]:
        return 0, 1.0, 0.0
    if value >= axis[last]:
        return last - 1, 0.0, 1.0
    node = np.searchsorted(axis, value, side="right") - 1
    step = axis[node + 1] - axis[node]
    return node, (axis[node + 1] - value) / step, (value - axis[node]) / step


@njit(cache=True, parallel=True, error_model="numpy")
def _interpolated(offsets, angles, speeds, grid, offset, angle, speed):  # type: ignore[no-untyped-def]
    """Trilinear reading of grid (offsets, angles, speeds, k) at n points: (n, k).

    Two neighbours are added at a time, so that the mirrored point reads the same to the last bit.
    """
    count, width = offset.size, grid.shape[3]
    read = np.empty((count, width))
    for n in prange(count):
        i, left, right = _place(offsets, offset[n])
        j, low, high = _place(angles, angle[n])
        k, slow, fast = _place(speeds, speed[n])
        for m in range(width):
            read[n, m] = slow * (
                low * (left * grid[i, j, k, m] + right * grid[i + 1, j, k, m])
                + high * (left * grid[i, j + 1, k, m] + right * grid[i + 1, j + 1, k, m])
            ) + fast * (
                low * (left * grid[i, j, k + 1, m] + right * grid[i + 1, j, k + 1, m])
                + high * (left * grid[i, j + 1, k + 1, m] + right * grid[i + 1, j + 1, k + 1, m])
            )
    return read


@njit(cache=True, error_model="numpy")
def _one_leave(offsets, angles, speeds, chances, leave, offset, angle, speed):  # type: ignore[no-untyped-def]
    """Trilinear reading of chances (offsets, angles, speeds, leaves) of one leave at each of n
    points: (n,)."""
    read = np.empty(offset.size)
    for n in range(offset.size):
        i, left, right = _place(offsets, offset[n])
        j, low, high = _place(angles, angle[n])
        k, slow, fast = _place(speeds, speed[n])
        m = leave[n]
        read[n] = slow * (
            low * (left * chances[i, j, k, m] + right * chances[i + 1, j, k, m])
            + high * (left * chances[i, j + 1, k, m] + right * chances[i + 1, j + 1, k, m])
        ) + fast * (
            low * (left * chances[i, j, k + 1, m] + right * chances[i + 1, j, k + 1, m])
            + high * (left * chances[i, j + 1, k + 1, m] + right * chances[i + 1, j + 1, k + 1, m])
        )
    return read
