"""Least squares of a lane's numbers to robot shots, and what the solution says."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np
from scipy.optimize import least_squares
from scipy.stats import qmc

from nextpair.domain.ball import Ball
from reference.robot_lane import (
    BALL,
    FITTED,
    HELD,
    LOW,
    NAMES,
    RANGE,
    FloatArray,
    RobotShots,
    entries,
)

STEP = 0.002
"""Step of finite differences, as a share of a number's range."""
LIMIT = 1e-3
"""A number this close to the end of its range, as a share of it, stopped there."""
SETTLED = 1e-4
"""Solved when the squares or the shares change by less, relatively."""

STALE = 0.02
"""Share of the squares that solving again may take off numbers on file."""


@dataclass(frozen=True)
class Problem:
    """Which shots are explained by which numbers; the others are held.

    Numbers are solved for as shares of their ranges, from 0 to 1.
    """

    shots: RobotShots
    free: tuple[str, ...] = FITTED
    held: Mapping[str, float] = field(default_factory=dict)
    ball: Ball = BALL

    @cached_property
    def index(self) -> list[int]:
        """Places of the free numbers in the family."""
        return [NAMES.index(name) for name in self.free]

    def shares(self, values: Mapping[str, float]) -> FloatArray:
        """Shares (f,) of the free ones of some numbers."""
        place = np.array([values[name] for name in self.free])
        return np.asarray((place - LOW[self.index]) / RANGE[self.index])

    def values(self, shares: FloatArray) -> FloatArray:
        """All numbers (p, 9) from shares (p, f) of the free ones."""
        values = np.tile(HELD, (len(shares), 1))
        for name, value in self.held.items():
            values[:, NAMES.index(name)] = value
        values[:, self.index] = LOW[self.index] + shares * RANGE[self.index]
        return values

    def misfit(self, shares: FloatArray) -> FloatArray:
        """What is left over, in standard deviations (p, 2 n), for shares (p, f)."""
        ends = entries(self.values(shares), self.shots, self.ball)
        return ((ends - self.shots.measured) / self.shots.sigma).reshape(len(shares), -1)

    def slopes(self, shares: FloatArray) -> FloatArray:
        """Change of the misfit with each share (2 n, f), all of them in one batch."""
        step = np.where(shares < 0.5, STEP, -STEP)
        left = self.misfit(np.concatenate((shares[None], shares + np.diag(step))))
        return ((left[1:] - left[0]) / step[:, None]).T

    def solved(self, start: FloatArray) -> Solution:
        """The least squares next to a start (f,)."""
        inside = np.clip(start, LIMIT, 1.0 - LIMIT)
        found = least_squares(
            lambda shares: self.misfit(shares[None])[0],
            inside,
            self.slopes,
            bounds=(0.0, 1.0),
            ftol=SETTLED,
            xtol=SETTLED,
            max_nfev=60,
        )
        return Solution(self, found.x)

    def best(self, starts: int, seed: int = 7) -> Solution:
        """The best of the solutions from starts spread over the ranges."""
        spread = qmc.LatinHypercube(len(self.free), rng=np.random.default_rng(seed))
        solutions = (self.solved(start) for start in spread.random(starts))
        return min(solutions, key=lambda solution: solution.squares)


@dataclass(frozen=True)
class Solution:
    """Numbers that leave the least squares, and what they say of the shots."""

    problem: Problem
    shares: FloatArray

    @cached_property
    def values(self) -> dict[str, float]:
        """All numbers, by name."""
        return dict(zip(NAMES, self.row[0].tolist(), strict=True))

    @property
    def row(self) -> FloatArray:
        """All numbers, in the family's order (1, 9)."""
        return self.problem.values(self.shares[None])

    def against(self, shots: RobotShots) -> FloatArray:
        """Predicted less measured entry board and angle [deg] (n, 2) of any shots."""
        return np.asarray(entries(self.row, shots, self.problem.ball)[0] - shots.measured)

    @cached_property
    def left(self) -> FloatArray:
        """Fitted less measured entry board and angle [deg] (n, 2)."""
        return self.against(self.problem.shots)

    @property
    def rms(self) -> tuple[float, float]:
        """Root mean square of what is left over: boards, degrees, every shot alike."""
        return rms(self.left)

    @property
    def squares(self) -> float:
        """Sum of the squares of what is left over, in standard deviations."""
        return float(((self.left / self.problem.shots.sigma) ** 2).sum())

    @property
    def settled(self) -> bool:
        """Whether solving again from here leaves hardly less."""
        return self.squares - self.problem.solved(self.shares).squares < STALE * self.squares

    @property
    def freedom(self) -> int:
        """Published values less fitted numbers."""
        return self.left.size - len(self.shares)

    @property
    def at_limit(self) -> list[bool]:
        """Which of the free numbers stopped at an end of their range."""
        return ((self.shares < 2 * LIMIT) | (self.shares > 1.0 - 2 * LIMIT)).tolist()

    @cached_property
    def covariance(self) -> FloatArray:
        """Covariance of the shares (f, f), from the slopes: NaN where a number is at a limit, and
        for the others as if it were known.

        Widened where more is left over than the standard deviations that were put in.

        Source: closed form, inverse of the normal matrix, Birge ratio.
        """
        moving = np.flatnonzero(~np.array(self.at_limit))
        slopes = self.problem.slopes(self.shares)[:, moving]
        covariance = np.full((len(self.shares),) * 2, np.nan)
        wider = max(self.squares / self.freedom, 1.0)
        covariance[np.ix_(moving, moving)] = np.linalg.inv(slopes.T @ slopes) * wider
        return covariance

    @property
    def deviation(self) -> FloatArray:
        """One standard deviation of each free number, in its unit (f,)."""
        return np.sqrt(np.diag(self.covariance)) * RANGE[self.problem.index]

    @property
    def correlation(self) -> FloatArray:
        """Correlation of the free numbers (f, f)."""
        scale = np.sqrt(np.diag(self.covariance))
        return self.covariance / np.outer(scale, scale)

    def unseen(self) -> FloatArray:
        """Predicted less measured (n, 2), each setting predicted by a fit that never saw it."""
        shots = self.problem.shots
        left = np.empty((len(shots), 2))
        for setting in sorted(set(shots.settings)):
            held = np.array([other == setting for other in shots.settings])
            problem = replace(self.problem, shots=shots[~held])
            left[held] = problem.solved(self.shares).against(shots[held])
        return left


def rms(left: FloatArray) -> tuple[float, float]:
    """Root mean square of leftovers (n, 2): boards, degrees."""
    boards, degrees = np.sqrt((left**2).mean(axis=0))
    return float(boards), float(degrees)
