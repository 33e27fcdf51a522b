"""Carry looked up: how a ball meets the pins -> strike chance, leaves, pins.

Everything is in the bowler's frame: offset positive to the bowler's pocket side, angle positive
toward the far side. A left-hander's leaves come out as a right-hander's and are mirrored by
whoever shows them.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import numpy as np
from numba import njit, prange
from numpy.typing import ArrayLike, NDArray

from nextpair.carry.deck import STRIKE, FloatArray
from nextpair.domain.errors import require, require_within
from nextpair.domain.units import POUND_KG
from nextpair.scoring.leaves import FULL_RACK, PINS, pin_count

BALL_KG = 15.0 * POUND_KG
"""Weight of ball where nobody says otherwise."""


@dataclass(frozen=True, slots=True, eq=False)
class CarryTable:
    """Chance of every leave over offset, entry angle and speed, for one weight of ball.

    Between its cells the table is read linearly, beyond its range at its edge. A ball that did
    not reach the pins (NaN) leaves all ten.

    Source: [disc-carry] `python -m nextpair.carry.racks`, docs/adr/0005.
    """

    offsets_boards: FloatArray
    angles_deg: FloatArray
    speeds_mps: FloatArray
    leaves: tuple[int, ...]
    """Bit masks of standing pins, pin 1 = bit 0; the strike is among them as 0."""
    chances: FloatArray
    """(offsets, angles, speeds, leaves), each cell sums to 1."""
    settings: dict[str, Any]
    """How the racks were simulated: seed, bodies, racks a cell, smoothing, model hash."""

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
        grid = (self.chances @ worth)[..., np.newaxis]
        shape, columns = _columns(offset_boards, entry_angle_deg, speed_mps)
        mean = self._read(grid, columns)[:, 0]
        return np.where(np.isnan(columns).any(axis=0), missed, mean).reshape(shape)

    def strike_probability(
        self, offset_boards: ArrayLike, entry_angle_deg: ArrayLike, speed_mps: ArrayLike
    ) -> FloatArray:
        """Chance of a strike, in the common shape of the arguments [1]."""
        strike = np.array([leave == STRIKE for leave in self.leaves], np.float64)
        return self.mean_of(strike, offset_boards, entry_angle_deg, speed_mps)

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

    def inside_range(
        self, offset_boards: ArrayLike, entry_angle_deg: ArrayLike, speed_mps: ArrayLike
    ) -> NDArray[np.bool_]:
        """True where all three lie in the range that was simulated; NaN lies outside."""
        shape, columns = _columns(offset_boards, entry_angle_deg, speed_mps)
        inside = np.ones(columns.shape[1], np.bool_)
        for axis, column in zip(self._axes, columns, strict=True):
            inside &= (column >= axis[0]) & (column <= axis[-1])
        return inside.reshape(shape)

    @property
    def _axes(self) -> tuple[FloatArray, FloatArray, FloatArray]:
        return self.offsets_boards, self.angles_deg, self.speeds_mps

    def _read(self, grid: FloatArray, columns: FloatArray) -> FloatArray:
        read: FloatArray = _interpolated(*self._axes, np.ascontiguousarray(grid), *columns)
        return read


def load_table(ball_kg: float = BALL_KG) -> CarryTable:
    """The shipped table for one weight of ball, read linearly between simulated weights.

    Weights beyond the simulated ones are read at the nearest. Raises InvalidValueError for a
    weight that no ball has.
    """
    require_within("ball_kg", ball_kg / POUND_KG, 6, 16, "lb")
    return _table_for(round(ball_kg, 6))


@cache
def _table_for(ball_kg: float) -> CarryTable:
    shipped = _shipped()
    weights_kg = shipped["weights_lb"] * POUND_KG
    weight_kg = float(np.clip(ball_kg, weights_kg[0], weights_kg[-1]))
    upper = int(np.clip(np.searchsorted(weights_kg, weight_kg), 1, len(weights_kg) - 1))
    step_kg = weights_kg[upper] - weights_kg[upper - 1]
    share = (weight_kg - weights_kg[upper - 1]) / step_kg
    chances = (1.0 - share) * shipped["chances"][upper - 1] + share * shipped["chances"][upper]
    return CarryTable(
        offsets_boards=shipped["offsets_boards"],
        angles_deg=shipped["angles_deg"],
        speeds_mps=shipped["speeds_mps"],
        leaves=tuple(int(leave) for leave in shipped["leaves"]),
        chances=chances / chances.sum(axis=-1, keepdims=True),
        settings=json.loads(str(shipped["settings"])),
    )


@cache
def _shipped() -> dict[str, NDArray[Any]]:
    with (files("nextpair.carry") / "data" / "carry.npz").open("rb") as stream:
        return dict(np.load(stream))


def _columns(*arguments: ArrayLike) -> tuple[tuple[int, ...], FloatArray]:
    """Common shape of the arguments, and the arguments as the rows of one (3, n) array."""
    spread = np.broadcast_arrays(*(np.asarray(value, np.float64) for value in arguments))
    return spread[0].shape, np.stack([values.ravel() for values in spread])


@njit(cache=True, error_model="numpy")
def _place(axis, value):  # type: ignore[no-untyped-def]
    """Lower node and share of the upper one, clamped to the axis; NaN reads as the first node."""
    last = axis.size - 1
    if not value > axis[0]:
        return 0, 0.0
    if value >= axis[last]:
        return last - 1, 1.0
    node = np.searchsorted(axis, value, side="right") - 1
    return node, (value - axis[node]) / (axis[node + 1] - axis[node])


@njit(cache=True, parallel=True, error_model="numpy")
def _interpolated(offsets, angles, speeds, grid, offset, angle, speed):  # type: ignore[no-untyped-def]
    """Trilinear reading of grid (offsets, angles, speeds, k) at n points: (n, k)."""
    count, width = offset.size, grid.shape[3]
    read = np.zeros((count, width))
    for n in prange(count):
        i, p = _place(offsets, offset[n])
        j, q = _place(angles, angle[n])
        k, r = _place(speeds, speed[n])
        for corner in range(8):
            a, b, c = corner & 1, corner >> 1 & 1, corner >> 2
            weight = (p if a else 1.0 - p) * (q if b else 1.0 - q) * (r if c else 1.0 - r)
            if weight > 0.0:
                for m in range(width):
                    read[n, m] += weight * grid[i + a, j + b, k + c, m]
    return read
