"""The slow oracle: a whole rigid ball in time, by an adaptive Runge-Kutta method of order eight.

It shares the scalar equations of friction and contact with the compiled kernel and nothing else:
time instead of distance, lane axes instead of the bowler's frame, float64 instead of float32, and
Euler's equations instead of a momentum taken as conserved. So that conservation is a test.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.integrate import OdeSolution, solve_ivp
from scipy.optimize import brentq

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.errors import require
from nextpair.domain.lane import END_PLANE_M
from nextpair.physics.constants import CREEP_SPEED_MPS
from nextpair.physics.forces import flight_s
from nextpair.physics.layout import Quaternion, Vector
from nextpair.physics.motion import FilmFriction, Forces, Friction, Moment, Motion, State, level
from nextpair.physics.rigid_body import to_body

__all__ = ["FilmFriction", "Forces", "Friction", "Moment", "Start", "Trajectory", "level", "roll"]

LONGEST_S = 60.0


@dataclass(frozen=True, slots=True)
class Start:
    """A ball at the foul line, in lane axes, whichever hand it left.

    velocity_mps : of the centre of mass.
    core : quaternion from body axes (low, high, middle) to lane axes.
    radii_of_gyration_m, offset_m : about the low, high and middle axis; from the ball's centre to
        its centre of mass along them.
    loft_m : height from which the ball falls to the lane.
    """

    x_m: float
    velocity_mps: tuple[float, float]
    spin_radps: Vector
    core: Quaternion
    radii_of_gyration_m: Vector
    offset_m: Vector = (0.0, 0.0, 0.0)
    loft_m: float = 0.0

    @property
    def state(self) -> State:
        """The start as a state of physics.motion."""
        spin = to_body(*self.core, *self.spin_radps)
        return np.array([self.x_m, 0.0, *self.velocity_mps, *self.core, *spin, 0.0])


@dataclass(frozen=True, slots=True)
class Trajectory:
    """One roll: its last moment, the moment it began to roll, and every step between.

    rolling : when slip first fell to the creep speed, or None if it did not.
    moments : the solver's own steps, first to last.
    """

    end: Moment
    rolling: Moment | None
    moments: tuple[Moment, ...]
    _motion: Motion
    _solution: OdeSolution

    def at(self, distance_m: float) -> Moment:
        """The moment the ball passes a distance down the lane, between its first and its last."""
        first, last = self.moments[0], self.end
        require(
            first.y_m <= distance_m <= last.y_m,
            "distance_m",
            distance_m,
            f"{first.y_m:g} to {last.y_m:g} m",
        )
        time_s = brentq(
            lambda t: self._solution(t)[1] - distance_m, first.time_s, last.time_s, xtol=1e-13
        )
        return self._motion.moment(time_s, self._solution(time_s))


def roll(
    start: Start,
    friction: Friction,
    *,
    end_m: float = END_PLANE_M,
    creep_mps: float = CREEP_SPEED_MPS.value,
    forces: Forces | None = None,
    radius_m: float = BALL_RADIUS_M,
    rtol: float = 1e-10,
    atol: float = 1e-12,
) -> Trajectory:
    """Roll one ball from the foul line to `end_m`; a trajectory begins where the ball lands.

    There are no gutters: beyond the edge the ball rolls on.

    Raises
    ------
    InvalidValueError : the ball does not get to `end_m` within a minute.

    Source: [model-sheet] sections 2.1 to 2.6; DOP853 of [hairer-1993].
    """
    motion = Motion(
        start.radii_of_gyration_m, start.offset_m, radius_m, friction, creep_mps,
        forces or Forces(),
    )  # fmt: skip

    def arrival(_time_s: float, state: State) -> float:
        return float(state[1]) - end_m

    def onset(_time_s: float, state: State) -> float:
        return math.hypot(*motion.moment(0.0, state).slip_mps) - creep_mps

    arrival.terminal = True  # type: ignore[attr-defined]
    onset.direction = -1.0  # type: ignore[attr-defined]
    method = {"method": "DOP853", "rtol": rtol, "atol": atol}
    landing_s = flight_s(start.loft_m)
    solved = solve_ivp(
        motion.rolling,
        (landing_s, LONGEST_S),
        _landed(motion, start, landing_s, method),
        dense_output=True,
        events=(arrival, onset),
        **method,
    )
    require(solved.status == 1, "end_m", end_m, f"a distance reached within {LONGEST_S:g} s")
    moments = tuple(
        motion.moment(time_s, state) for time_s, state in zip(solved.t, solved.y.T, strict=True)
    )
    onsets = zip(solved.t_events[1], solved.y_events[1], strict=True)
    rolling = next((motion.moment(time_s, state) for time_s, state in onsets), None)
    return Trajectory(moments[-1], rolling, moments, motion, solved.sol)


def _landed(motion: Motion, start: Start, landing_s: float, method: dict[str, object]) -> State:
    """The state with which the ball begins to touch the lane."""
    if landing_s == 0.0:
        return start.state
    flown = solve_ivp(motion.flying, (0.0, landing_s), start.state, **method)
    return motion.landed(flown.y[:, -1], landing_s)
