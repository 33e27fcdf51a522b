"""The slow oracle: a whole rigid ball in time, by an adaptive Runge-Kutta method of order eight.

It shares the scalar equations of friction and contact with the compiled kernel and nothing else:
time instead of distance, lane axes instead of the bowler's frame, float64 instead of float32, and
Euler's equations instead of a momentum taken as conserved. So that conservation is a test.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import OdeSolution, solve_ivp
from scipy.optimize import brentq

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.errors import require
from nextpair.domain.lane import BOARDS, CELL_M, CELLS, END_PLANE_M, x_to_board
from nextpair.physics.constants import CREEP_SPEED_MPS, GRAVITY_MPS2
from nextpair.physics.friction import friction_coefficient, friction_share
from nextpair.physics.layout import Quaternion, Vector
from nextpair.physics.rigid_body import contact_slip, quaternion_product, to_body, to_lane

Friction = Callable[[float, float], float]
"""Friction coefficient [1] while sliding, of the place (x_m, y_m) on the lane."""

LONGEST_S = 60.0


@dataclass(frozen=True, slots=True, eq=False)
class FilmFriction:
    """Friction on an oil film: bilinear between cell centres, level beyond the outermost.

    film_um : (120, 39) see domain.lane. The other fields are those of friction_coefficient.
    """

    film_um: NDArray[np.float64]
    film_gain_per_um: float
    oil_friction: float
    dry_excess: float

    def __post_init__(self) -> None:
        shape = self.film_um.shape
        require(shape == (CELLS, BOARDS), "film_um", shape, f"shape ({CELLS}, {BOARDS})")

    def __call__(self, x_m: float, y_m: float) -> float:
        near, down = _between_centres(y_m / CELL_M - 0.5, CELLS)
        right, across = _between_centres(x_to_board(x_m) - 1.0, BOARDS)
        film = self.film_um.item
        film_um = (1 - down) * (
            (1 - across) * film(near, right) + across * film(near, right + 1)
        ) + down * ((1 - across) * film(near + 1, right) + across * film(near + 1, right + 1))
        return friction_coefficient(
            film_um, self.film_gain_per_um, self.oil_friction, self.dry_excess
        )


def _between_centres(place: float, centres: int) -> tuple[int, float]:
    """Index of the cell centre below a place, and the share of the way to the next one."""
    kept = min(max(place, 0.0), centres - 1.0)
    index = min(int(kept), centres - 2)
    return index, kept - index


@dataclass(frozen=True, slots=True)
class Start:
    """A ball at the foul line, in lane axes, whichever hand it left.

    core : quaternion from body axes (low, high, middle) to lane axes.
    radii_of_gyration_m : about the low, high and middle axis.
    """

    x_m: float
    velocity_mps: tuple[float, float]
    spin_radps: Vector
    core: Quaternion
    radii_of_gyration_m: Vector


@dataclass(frozen=True, slots=True)
class Moment:
    """The ball at one time, in lane axes; energy and momentum are per kilogram.

    contact_momentum_m2ps : angular momentum about the contact, J = L + R z x v.
    """

    time_s: float
    x_m: float
    y_m: float
    velocity_mps: tuple[float, float]
    spin_radps: Vector
    core: Quaternion
    slip_mps: tuple[float, float]
    energy_jpkg: float
    contact_momentum_m2ps: Vector

    @property
    def angle_left_rad(self) -> float:
        """Angle of the path to the boards, positive to the left."""
        return math.atan2(-self.velocity_mps[0], self.velocity_mps[1])

    @property
    def speed_mps(self) -> float:
        """Speed over the lane."""
        return math.hypot(*self.velocity_mps)


@dataclass(frozen=True, slots=True)
class Trajectory:
    """One roll: its last moment, the moment it began to roll, and every step between.

    rolling : when slip first fell to the creep speed, or None if it did not.
    moments : the solver's own steps, first to last.
    """

    end: Moment
    rolling: Moment | None
    moments: tuple[Moment, ...]
    _body: _Body
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
        return self._body.moment(time_s, self._solution(time_s))


def roll(
    start: Start,
    friction: Friction,
    *,
    end_m: float = END_PLANE_M,
    creep_mps: float = CREEP_SPEED_MPS.value,
    cross_mps2: float = 0.0,
    radius_m: float = BALL_RADIUS_M,
    rtol: float = 1e-10,
    atol: float = 1e-12,
) -> Trajectory:
    """Roll one ball from the foul line to `end_m`.

    `cross_mps2` is the pull of a tilted lane on the centre of mass, positive to the right. There
    are no gutters: beyond the edge the ball rolls on.

    Raises
    ------
    InvalidValueError : the ball does not get to `end_m` within a minute.

    Source: [model-sheet] sections 2.1 to 2.3 and 2.6; DOP853 of [hairer-1993].
    """
    body = _Body(start.radii_of_gyration_m, radius_m, friction, creep_mps, cross_mps2)

    def arrival(_time_s: float, state: NDArray[np.float64]) -> float:
        return float(state[1]) - end_m

    def onset(_time_s: float, state: NDArray[np.float64]) -> float:
        return math.hypot(*body.moment(0.0, state).slip_mps) - creep_mps

    arrival.terminal = True  # type: ignore[attr-defined]
    onset.direction = -1.0  # type: ignore[attr-defined]
    body_spin = to_body(*start.core, *start.spin_radps)
    solved = solve_ivp(
        body.rates,
        (0.0, LONGEST_S),
        np.array([start.x_m, 0.0, *start.velocity_mps, *start.core, *body_spin]),
        method="DOP853",
        dense_output=True,
        events=(arrival, onset),
        rtol=rtol,
        atol=atol,
    )
    require(solved.status == 1, "end_m", end_m, f"a distance reached within {LONGEST_S:g} s")
    moments = tuple(
        body.moment(time_s, state) for time_s, state in zip(solved.t, solved.y.T, strict=True)
    )
    onsets = zip(solved.t_events[1], solved.y_events[1], strict=True)
    rolling = next((body.moment(time_s, state) for time_s, state in onsets), None)
    return Trajectory(moments[-1], rolling, moments, body, solved.sol)


@dataclass(frozen=True, slots=True)
class _Body:
    """What stays the same during one roll, and the equations of motion.

    A state is x, y, v_x, v_y, the core's quaternion, and the spin in body axes.
    """

    radii_of_gyration_m: Vector
    radius_m: float
    friction: Friction
    creep_mps: float
    cross_mps2: float

    def rates(self, _time_s: float, state: NDArray[np.float64]) -> tuple[float, ...]:
        """Rates of change of a state per second.

        Source: [model-sheet] section 2.3: v' = F/m; K w' = torque - w x K w; q' = q (0, w) / 2.
        """
        x, y, v_x, v_y, q_w, q_x, q_y, q_z, w_1, w_2, w_3 = state.tolist()
        k2_1, k2_2, k2_3 = (k * k for k in self.radii_of_gyration_m)
        R = self.radius_m
        core = _unit(q_w, q_x, q_y, q_z)
        omega_x, omega_y, _ = to_lane(*core, w_1, w_2, w_3)
        u_x, u_y = contact_slip(v_x, v_y, omega_x, omega_y, R)
        pull = self.friction(x, y) * GRAVITY_MPS2 * friction_share(u_x, u_y, self.creep_mps)
        a_x, a_y = -pull * u_x, -pull * u_y
        t_1, t_2, t_3 = to_body(*core, R * a_y, -R * a_x, 0.0)
        return (
            v_x,
            v_y,
            a_x + self.cross_mps2,
            a_y,
            *quaternion_product(q_w, q_x, q_y, q_z, 0.0, 0.5 * w_1, 0.5 * w_2, 0.5 * w_3),
            (t_1 + (k2_2 - k2_3) * w_2 * w_3) / k2_1,
            (t_2 + (k2_3 - k2_1) * w_3 * w_1) / k2_2,
            (t_3 + (k2_1 - k2_2) * w_1 * w_2) / k2_3,
        )

    def moment(self, time_s: float, state: NDArray[np.float64]) -> Moment:
        """A state in lane axes, with its slip, energy and momentum about the contact."""
        x, y, v_x, v_y, q_w, q_x, q_y, q_z, *spin = state.tolist()
        R = self.radius_m
        core = _unit(q_w, q_x, q_y, q_z)
        w_1, w_2, w_3 = spin
        omega = to_lane(*core, w_1, w_2, w_3)
        L_1, L_2, L_3 = (k * k * w for k, w in zip(self.radii_of_gyration_m, spin, strict=True))
        L_x, L_y, L_z = to_lane(*core, L_1, L_2, L_3)
        return Moment(
            time_s=float(time_s),
            x_m=x,
            y_m=y,
            velocity_mps=(v_x, v_y),
            spin_radps=omega,
            core=core,
            slip_mps=contact_slip(v_x, v_y, omega[0], omega[1], R),
            energy_jpkg=0.5 * (v_x**2 + v_y**2 + L_1 * w_1 + L_2 * w_2 + L_3 * w_3),
            contact_momentum_m2ps=(L_x - R * v_y, L_y + R * v_x, L_z),
        )


def _unit(q_w: float, q_x: float, q_y: float, q_z: float) -> Quaternion:
    norm = math.sqrt(q_w * q_w + q_x * q_x + q_y * q_y + q_z * q_z)
    return q_w / norm, q_x / norm, q_y / norm, q_z / norm
