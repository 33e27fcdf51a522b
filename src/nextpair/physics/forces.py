"""What acts on a ball besides friction: air, rolling resistance, and the way down from the hand.

All are small beside friction, and all change where a ball ends by a board or so.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nextpair.physics._jit import scalar, sqrt
from nextpair.physics.constants import (
    AIR_DENSITY_KGPM3,
    DRAG_COEFFICIENT,
    GRAVITY_MPS2,
)

STICKING_SHARE = 0.25
"""About c / (1 + c) of any ball: the share of the slip's velocity at which slip ends."""


def drag_per_m(
    mass_kg: float,
    radius_m: float,
    drag_coefficient: float = DRAG_COEFFICIENT.value,
    air_density_kgpm3: float = AIR_DENSITY_KGPM3.value,
) -> float:
    """Deceleration by the air over the square of speed [1/m].

    Source: [model-sheet] section 2.5: F = 0.5 rho C_d A v**2, A = pi R**2.
    """
    return 0.5 * air_density_kgpm3 * drag_coefficient * math.pi * radius_m**2 / mass_kg


@scalar
def air_drag_mps2(v_x: float, v_y: float, per_m: float) -> tuple[float, float]:
    """Sideways and down-lane acceleration [m/s2] by the air.

    Source: [model-sheet] section 2.5: a = -k |v| v.
    """
    slowing = -per_m * sqrt(v_x * v_x + v_y * v_y)
    return slowing * v_x, slowing * v_y


@scalar
def rolling_moment_m2ps2(
    omega_x: float, omega_y: float, slowness_spm: float, resistance_mps2: float, radius_m: float
) -> tuple[float, float]:
    """Moment against rolling over mass, sideways and down-lane [m2/s2].

    In pure rolling this is the coefficient x weight x radius; a ball that turns slower than it
    rolls is held back by that much less.

    Parameters
    ----------
    omega_x, omega_y : spin in lane axes [rad/s].
    slowness_spm : one over the ball's speed [s/m].
    resistance_mps2 : rolling resistance x gravity [m/s2].

    Source: [model-sheet] section 2.5: M = -c_rr N R in the direction of roll.
    """
    hold = -resistance_mps2 * radius_m * radius_m * slowness_spm
    return hold * omega_x, hold * omega_y


@scalar
def flight_s(loft_m: float) -> float:
    """Time [s] from the hand to the lane of a ball let go level at a height.

    Source: closed form, free fall: t = sqrt(2 H / g).
    """
    return sqrt(2.0 * loft_m / GRAVITY_MPS2)


def landing_m(v_y: ArrayLike, loft_m: float) -> NDArray[np.float64]:
    """Distance [m] at which balls of these down-lane speeds [m/s] come down from a height.

    Source: closed form, free fall.
    """
    return np.asarray(v_y, float) * flight_s(loft_m)


@scalar
def landing_share(pull_per_s: float, flight_s: float, most_share: float) -> float:
    """Share of the slip's velocity that the ball loses as it comes down [1].

    The load that the lane did not bear on the way down comes back at once: friction's blow is the
    friction of the flight's duration, and never more than brings the slip to an end.

    Parameters
    ----------
    pull_per_s : friction deceleration over slip where it lands [1/s].
    flight_s : time from the hand to the lane [s].
    most_share : STICKING_SHARE.

    Source: [model-sheet] section 2.5: tangential impulse mu J_n with J_n = m v_z, no rebound.
    """
    return min(pull_per_s * flight_s, most_share)
