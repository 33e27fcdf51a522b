"""The equations of motion of a whole rigid ball in time, without the kernel's short cuts.

Euler's equations in body axes, the load on the contact solved for and not assumed, every force of
physics.forces, and a centre of mass anywhere in the ball. A ball is in the air until it lands.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.errors import require
from nextpair.domain.lane import BOARDS, CELL_M, CELLS, x_to_board
from nextpair.physics.constants import GRAVITY_MPS2
from nextpair.physics.forces import (
    STICKING_SHARE,
    air_drag_mps2,
    landing_share,
    rolling_moment_m2ps2,
)
from nextpair.physics.friction import friction_coefficient, friction_share
from nextpair.physics.layout import Quaternion, Vector
from nextpair.physics.rigid_body import contact_slip, quaternion_product, to_body, to_lane

Friction = Callable[[float, float], float]
"""Friction coefficient [1] while sliding, of the place (x_m, y_m) on the lane."""
Pull = Callable[[float, float], tuple[float, float]]
"""Pull of the lane's slopes [m/s2], to the right and down the lane, of the place (x_m, y_m)."""
State = NDArray[np.float64]
"""Place of the ball's centre (2), velocity of its centre of mass (2), core's quaternion (4), spin
in body axes (3), oil on the ball's own ring [um]."""


@dataclass(frozen=True, slots=True, eq=False)
class FilmFriction:
    """Friction on an oil film: bilinear between cell centres, level beyond the outermost.

    film_um : (120, 39) see domain.lane. ring_share : see physics.wear.ring_film_share. The other
    fields are those of friction_coefficient.
    """

    film_um: NDArray[np.float64]
    film_gain_per_um: float
    oil_friction: float
    dry_excess: float
    ring_share: float = 0.0

    def __post_init__(self) -> None:
        shape = self.film_um.shape
        require(shape == (CELLS, BOARDS), "film_um", shape, f"shape ({CELLS}, {BOARDS})")

    def __call__(self, x_m: float, y_m: float) -> float:
        return self.of_film(self.film_at(x_m, y_m))

    def of_film(self, film_um: float) -> float:
        """Friction coefficient [1] on a film."""
        return friction_coefficient(
            film_um, self.film_gain_per_um, self.oil_friction, self.dry_excess
        )

    def film_at(self, x_m: float, y_m: float) -> float:
        """Film [um] at a place."""
        near, down = _between_centres(y_m / CELL_M - 0.5, CELLS)
        right, across = _between_centres(x_to_board(x_m) - 1.0, BOARDS)
        film = self.film_um.item
        return (1 - down) * (
            (1 - across) * film(near, right) + across * film(near, right + 1)
        ) + down * ((1 - across) * film(near + 1, right) + across * film(near + 1, right + 1))


def _between_centres(place: float, centres: int) -> tuple[int, float]:
    """Index of the cell centre below a place, and the share of the way to the next one."""
    kept = min(max(place, 0.0), centres - 1.0)
    index = min(int(kept), centres - 2)
    return index, kept - index


def level(_x_m: float, _y_m: float) -> tuple[float, float]:
    """The pull of a level lane: none."""
    return 0.0, 0.0


@dataclass(frozen=True, slots=True)
class Forces:
    """What acts on a ball besides friction; nothing, if left out.

    drag_per_m, rolling_resistance : see physics.forces and constants.
    """

    pull: Pull = level
    drag_per_m: float = 0.0
    rolling_resistance: float = 0.0


@dataclass(frozen=True, slots=True)
class Moment:
    """The ball at one time, in lane axes; energy and momentum are per kilogram.

    velocity_mps : of the centre of mass.
    contact_momentum_m2ps : angular momentum about the contact, J = L + (R z + D) x v, where D is
        the offset of the centre of mass.
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
class Motion:
    """What stays the same during one roll, and the equations of motion.

    radii_of_gyration_m, offset_m : about and along the low, high and middle axis.
    """

    radii_of_gyration_m: Vector
    offset_m: Vector
    radius_m: float
    friction: Friction
    creep_mps: float
    forces: Forces

    def rolling(self, _time_s: float, state: State) -> tuple[float, ...]:
        """Rates of change of a state per second, on the lane."""
        return self._rates(state, aloft=False)

    def flying(self, _time_s: float, state: State) -> tuple[float, ...]:
        """Rates of change of a state per second, before the ball has come down."""
        return self._rates(state, aloft=True)

    def landed(self, state: State, flight_s: float) -> State:
        """The state after the blow with which the ball comes down."""
        x, y, v_x, v_y, *_ = state.tolist()
        core, omega, D = self._turned(state)
        W = _cross(omega, D)
        u_x, u_y = contact_slip(v_x - W[0], v_y - W[1], omega[0], omega[1], self.radius_m)
        friction, _ = self._friction(x, y, float(state[11]), 0.0)
        pull = friction * GRAVITY_MPS2 * friction_share(u_x, u_y, self.creep_mps)
        share = landing_share(pull, flight_s, STICKING_SHARE)
        dv = (-share * u_x, -share * u_y, 0.0)
        blow = to_body(*core, *_cross((-D[0], -D[1], -self.radius_m - D[2]), dv))
        after = state.copy()
        after[2:4] += dv[:2]
        after[8:11] += [t / k**2 for t, k in zip(blow, self.radii_of_gyration_m, strict=True)]
        return after

    def moment(self, time_s: float, state: State) -> Moment:
        """A state in lane axes, with its slip, energy and momentum about the contact."""
        x, y, v_x, v_y, *_ = state.tolist()
        core, omega, D = self._turned(state)
        W = _cross(omega, D)
        spin = state[8:11].tolist()
        L = to_lane(
            *core, *(k * k * w for k, w in zip(self.radii_of_gyration_m, spin, strict=True))
        )
        J = _cross((D[0], D[1], self.radius_m + D[2]), (v_x, v_y, W[2]))
        turning = sum(a * b for a, b in zip(L, omega, strict=True))
        return Moment(
            time_s=float(time_s),
            x_m=x,
            y_m=y,
            velocity_mps=(v_x, v_y),
            spin_radps=omega,
            core=core,
            slip_mps=contact_slip(v_x - W[0], v_y - W[1], omega[0], omega[1], self.radius_m),
            energy_jpkg=0.5 * (v_x**2 + v_y**2 + W[2] ** 2 + turning) + GRAVITY_MPS2 * D[2],
            contact_momentum_m2ps=(L[0] + J[0], L[1] + J[1], L[2] + J[2]),
        )

    def _rates(self, state: State, *, aloft: bool) -> tuple[float, ...]:
        """Rates of change per second.

        With D the offset and r = -R z - D the contact seen from the centre of mass, the load N
        over mass follows from the height of that centre: N - g = (w' x D + w x (w x D))_z, where
        w' = A N + B is linear in N.

        Source: [model-sheet] sections 2.3 and 2.5.
        """
        x, y, v_x, v_y, q_w, q_x, q_y, q_z, w_1, w_2, w_3, ring_um = state.tolist()
        core, omega, D = self._turned(state)
        R, g = self.radius_m, GRAVITY_MPS2
        W = _cross(omega, D)
        c_x, c_y = v_x - W[0], v_y - W[1]
        u_x, u_y = contact_slip(c_x, c_y, omega[0], omega[1], R)
        turn_rate = math.sqrt(w_1 * w_1 + w_2 * w_2 + w_3 * w_3) / (2 * math.pi)
        mu, ring_rate = self._friction(x, y, ring_um, turn_rate)
        share = mu * friction_share(u_x, u_y, self.creep_mps)
        drag_x, drag_y = air_drag_mps2(v_x, v_y, self.forces.drag_per_m)
        speed = math.hypot(c_x, c_y) or 1.0
        held = rolling_moment_m2ps2(
            omega[0], omega[1], 1 / speed, self.forces.rolling_resistance * g, R
        )
        pushed_x, pushed_y = self.forces.pull(x, y)
        free = self._turning(core, (w_1, w_2, w_3), (0.0, 0.0, 0.0) if aloft else (*held, 0.0))
        p = (-share * u_x, -share * u_y, 1.0)
        loaded = self._per_inertia(to_body(*core, *_cross((-D[0], -D[1], -R - D[2]), p)))
        if aloft:
            N = pushed_x = pushed_y = ring_rate = 0.0
        else:
            lifted = _cross(omega, W)[2] + _cross(to_lane(*core, *free), D)[2]
            N = max((g + lifted) / (1.0 - _cross(to_lane(*core, *loaded), D)[2]), 0.0)
        return (
            c_x,
            c_y,
            N * p[0] + drag_x + pushed_x,
            N * p[1] + drag_y + pushed_y,
            *quaternion_product(q_w, q_x, q_y, q_z, 0.0, 0.5 * w_1, 0.5 * w_2, 0.5 * w_3),
            free[0] + N * loaded[0],
            free[1] + N * loaded[1],
            free[2] + N * loaded[2],
            ring_rate,
        )

    def _friction(
        self, x: float, y: float, ring_um: float, turn_rate: float
    ) -> tuple[float, float]:
        """Friction coefficient, and rate of the oil on the ball's ring [um/s]: what was met comes
        round again once a turn."""
        if not isinstance(self.friction, FilmFriction):
            return self.friction(x, y), 0.0
        film_um = self.friction.film_at(x, y)
        met_um = self.friction.ring_share * film_um
        return self.friction.of_film(film_um + ring_um), turn_rate * (met_um - ring_um)

    def _turned(self, state: State) -> tuple[Quaternion, Vector, Vector]:
        """Unit quaternion of the core; spin and offset in lane axes."""
        q_w, q_x, q_y, q_z, w_1, w_2, w_3 = state[4:11].tolist()
        norm = math.sqrt(q_w * q_w + q_x * q_x + q_y * q_y + q_z * q_z)
        core = q_w / norm, q_x / norm, q_y / norm, q_z / norm
        return core, to_lane(*core, w_1, w_2, w_3), to_lane(*core, *self.offset_m)

    def _turning(self, core: Quaternion, spin: Vector, moment: Vector) -> Vector:
        """Rate of the spin in body axes by a moment in lane axes, and by the core itself."""
        k2_1, k2_2, k2_3 = (k * k for k in self.radii_of_gyration_m)
        w_1, w_2, w_3 = spin
        t_1, t_2, t_3 = to_body(*core, *moment)
        return self._per_inertia(
            (
                t_1 + (k2_2 - k2_3) * w_2 * w_3,
                t_2 + (k2_3 - k2_1) * w_3 * w_1,
                t_3 + (k2_1 - k2_2) * w_1 * w_2,
            )
        )

    def _per_inertia(self, moment: Vector) -> Vector:
        k_1, k_2, k_3 = self.radii_of_gyration_m
        return moment[0] / k_1**2, moment[1] / k_2**2, moment[2] / k_3**2


def _cross(a: Vector, b: Vector) -> Vector:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]
