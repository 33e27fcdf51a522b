"""Two ways to step a ball with a real core in time, over many shots at once, in plain NumPy.

`Creeping` is a Runge-Kutta method of order four on friction that saturates with slip, as oracle
and kernel have it. `Projected` is the scheme of [model-sheet] section 2.6: the core turns freely
over a step, then one impulse takes the slip away, or as much of it as friction can.

States are tuples of arrays (n,): x, y, v_x, v_y, the core's quaternion, the spin in body axes.
Everything is per kilogram.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from nextpair.physics.constants import GRAVITY_MPS2
from nextpair.physics.reference import Start
from nextpair.physics.rigid_body import contact_slip, quaternion_product, to_body, to_lane

Array = NDArray[np.float64]
State = tuple[Array, ...]
FrictionMap = Callable[[Array, Array], Array]
"""Friction coefficient of places (x_m, y_m), all arrays (n,)."""

RADIUS_M = 0.1085
WATCHED_M = 2.0
"""Way before the end over which roll is looked at."""
LONGEST_S = 5.0


class Scheme(Protocol):
    """One step of a state over a time; `k2` are the squared radii of gyration, three arrays."""

    def step(self, state: State, k2: State, friction: FrictionMap, dt_s: float) -> State: ...


def moved(state: State, rates: Sequence[Array], dt_s: float) -> State:
    return tuple(part + dt_s * rate for part, rate in zip(state, rates, strict=True))


def runge_kutta(rates: Callable[[State], Sequence[Array]], state: State, dt_s: float) -> State:
    """The classical step of order four."""
    k1 = rates(state)
    k2 = rates(moved(state, k1, dt_s / 2))
    k3 = rates(moved(state, k2, dt_s / 2))
    k4 = rates(moved(state, k3, dt_s))
    mean = [(a + 2 * b + 2 * c + d) / 6 for a, b, c, d in zip(k1, k2, k3, k4, strict=True)]
    return moved(state, mean, dt_s)


def unit(state: State, first: int) -> State:
    """The state with its quaternion, from place `first` on, made a unit one again."""
    q = np.array(state[first : first + 4])
    return (*state[:first], *(q / np.sqrt((q * q).sum(axis=0))), *state[first + 4 :])


def turning(turn: State, torque: Sequence[Array], k2: State) -> list[Array]:
    """Rates of the core's quaternion and of the spin in body axes, by Euler's equations."""
    q, w = turn[:4], turn[4:]
    gyro = [
        (k2[(i + 1) % 3] - k2[(i + 2) % 3]) * w[(i + 1) % 3] * w[(i + 2) % 3] for i in range(3)
    ]
    spin = quaternion_product(*q, np.zeros_like(w[0]), *(0.5 * part for part in w))
    return [*spin, *((t + g) / k for t, g, k in zip(torque, gyro, k2, strict=True))]


def slip_of(state: State) -> tuple[Array, Array]:
    w_x, w_y, _ = to_lane(*state[4:8], *state[8:11])
    return contact_slip(state[2], state[3], w_x, w_y, RADIUS_M)


def energy_of(state: State, k2: State) -> Array:
    spin = sum(k * w * w for k, w in zip(k2, state[8:11], strict=True))
    return 0.5 * (state[2] ** 2 + state[3] ** 2 + spin)


@dataclass(frozen=True, slots=True)
class Creeping:
    """Friction times u / sqrt(u2 + creep2), by Runge-Kutta."""

    creep_mps: float

    def step(self, state: State, k2: State, friction: FrictionMap, dt_s: float) -> State:
        def rates(at: State) -> list[Array]:
            u_x, u_y = slip_of(at)
            slip = np.sqrt(u_x * u_x + u_y * u_y + self.creep_mps**2)
            pull = friction(at[0], at[1]) * GRAVITY_MPS2 / slip
            a_x, a_y = -pull * u_x, -pull * u_y
            torque = to_body(*at[4:8], RADIUS_M * a_y, -RADIUS_M * a_x, 0.0)
            return [at[2], at[3], a_x, a_y, *turning(at[4:11], torque, k2)]

        return unit(runge_kutta(rates, state, dt_s), 4)


@dataclass(frozen=True, slots=True)
class Projected:
    """Free turn, then the impulse that ends the slip, cut to what friction can give."""

    def step(self, state: State, k2: State, friction: FrictionMap, dt_s: float) -> State:
        x, y, v_x, v_y, *turn = state
        free = (np.zeros_like(x),) * 3
        turn = unit(runge_kutta(lambda at: turning(at, free, k2), tuple(turn), dt_s), 0)
        q = turn[:4]
        u_x, u_y = slip_of((x, y, v_x, v_y, *turn))
        yield_x, cross = _yield(q, k2, 1.0, 0.0)
        _, yield_y = _yield(q, k2, 0.0, 1.0)
        det = yield_x * yield_y - cross * cross
        p_x = (cross * u_y - yield_y * u_x) / det
        p_y = (cross * u_x - yield_x * u_y) / det
        most = friction(x, y) * GRAVITY_MPS2 * dt_s
        slides = np.hypot(p_x, p_y) > most
        share = np.where(slides, most / np.maximum(np.hypot(u_x, u_y), 1e-300), 0.0)
        p_x, p_y = np.where(slides, -share * u_x, p_x), np.where(slides, -share * u_y, p_y)
        kick = to_body(*q, RADIUS_M * p_y, -RADIUS_M * p_x, 0.0)
        spin = [w + part / k for w, part, k in zip(turn[4:], kick, k2, strict=True)]
        half = 0.5 * dt_s
        x, y = x + (v_x + half * p_x / dt_s) * dt_s, y + (v_y + half * p_y / dt_s) * dt_s
        return (x, y, v_x + p_x, v_y + p_y, *q, *spin)


def _yield(q: State, k2: State, p_x: float, p_y: float) -> tuple[Array, Array]:
    """Change of slip by a unit impulse at the contact: (1 + S J^-1 S^T) p."""
    body = to_body(*q, RADIUS_M * p_y, -RADIUS_M * p_x, 0.0)
    w_x, w_y, _ = to_lane(*q, *(part / k for part, k in zip(body, k2, strict=True)))
    return p_x - RADIUS_M * w_y, p_y + RADIUS_M * w_x


@dataclass(frozen=True, slots=True, eq=False)
class Outcome:
    """n balls at the end of the lane, all arrays (n,).

    energy_rise_jpkg : the largest rise of energy in one step.
    slip_in_roll_mps, wobble_mps2 : root mean square of slip, and range of the sideways pull, over
        the last WATCHED_M.
    """

    x_m: Array
    angle_left_deg: Array
    energy_rise_jpkg: Array
    slip_in_roll_mps: Array
    wobble_mps2: Array


def packed(starts: Sequence[Start]) -> tuple[State, State]:
    """Starts as one state, and their squared radii of gyration."""
    rows = [
        (s.x_m, 0.0, *s.velocity_mps, *s.core, *to_body(*s.core, *s.spin_radps)) for s in starts
    ]
    k2 = [[k * k for k in s.radii_of_gyration_m] for s in starts]
    return tuple(np.array(rows, float).T), tuple(np.array(k2, float).T)


def rolled(
    scheme: Scheme, starts: Sequence[Start], friction: FrictionMap, dt_s: float, end_m: float
) -> Outcome:
    """Roll all balls to `end_m`; place and angle there are linear within the last step."""
    state, k2 = packed(starts)
    count = len(starts)
    x_m, angle_deg, rise, slip2 = np.full(count, np.nan), *np.zeros((3, count))
    steps, low, high = np.zeros(count), np.full(count, np.inf), np.full(count, -np.inf)
    energy = energy_of(state, k2)
    for _ in range(int(LONGEST_S / dt_s)):
        after = scheme.step(state, k2, friction, dt_s)
        under_way = state[1] < end_m
        energy_after = energy_of(after, k2)
        rise = np.where(under_way, np.maximum(rise, energy_after - energy), rise)
        watched = under_way & (state[1] > end_m - WATCHED_M)
        u_x, u_y = slip_of(after)
        pull = (after[2] - state[2]) / dt_s
        slip2 += np.where(watched, u_x * u_x + u_y * u_y, 0.0)
        steps += watched
        low = np.where(watched, np.minimum(low, pull), low)
        high = np.where(watched, np.maximum(high, pull), high)
        arrived = under_way & (after[1] >= end_m)
        share = np.where(arrived, (end_m - state[1]) / (after[1] - state[1]), 0.0)
        at = [a + share * (b - a) for a, b in zip(state[:4], after[:4], strict=True)]
        x_m = np.where(arrived, at[0], x_m)
        angle_deg = np.where(arrived, np.degrees(np.arctan2(-at[2], at[3])), angle_deg)
        state, energy = after, energy_after
        if (state[1] >= end_m).all():
            break
    return Outcome(x_m, angle_deg, rise, np.sqrt(slip2 / steps), high - low)
