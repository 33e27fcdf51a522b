"""Contacts of ball and pin in MuJoCo, set to a restitution: frictionless, in a plane, weightless.

A contact is a spring and a damper (the engine's direct `solref`). It is stiff enough that bodies
press into each other by half a millimetre, which keeps the line of centres where it was; the step
keeps to sqrt(k) dt <= 0.2, below which the engine keeps to the restitution ([model-sheet] 5.4).
"""

from __future__ import annotations

import math
from typing import NamedTuple

import mujoco
import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.lane import PIN_RADIUS_M

SCENE = """
<mujoco>
  <option timestep="{step}" gravity="0 0 0" integrator="Euler"/>
  <worldbody>
    <body name="ball" pos="{ball_x} {ball_y} 0">
      <freejoint/>
      <inertial pos="0 0 0" mass="{ball_kg}" diaginertia="1 1 1"/>
      <geom name="cover" type="sphere" size="{ball_radius}"/>
    </body>
    <body name="pin">
      <freejoint/>
      <inertial pos="0 0 0" mass="{pin_kg}" diaginertia="1 1 1"/>
      <geom name="belly" type="sphere" size="{pin_radius}"/>
    </body>
  </worldbody>
  <contact>
    <pair geom1="cover" geom2="belly" condim="1" solref="{stiffness} {damping}"/>
  </contact>
</mujoco>
"""


class Contact(NamedTuple):
    """Velocities (3,) of ball and pin after one contact [m/s]."""

    ball_mps: NDArray[np.float64]
    pin_mps: NDArray[np.float64]


def restitution_of(damping_ratio: float) -> float:
    """Restitution of a damped spring that lets go when its force has fallen to nothing.

    Source: [schwager-2007].
    """
    zeta, s = damping_ratio, math.sqrt(1.0 - damping_ratio**2)
    return math.exp(-zeta / s * (math.pi - math.atan2(2 * zeta * s, 1 - 2 * zeta**2)))


def damping_ratio_for(restitution: float) -> float:
    """The damping ratio that gives a restitution."""
    return float(brentq(lambda zeta: restitution_of(zeta) - restitution, 1e-6, 0.7))


def contact_in_mujoco(
    *,
    restitution: float,
    ball_kg: float,
    pin_kg: float,
    velocity_mps: tuple[float, float],
    offset_m: float,
    gap_m: float = 0.005,
    stiffness_ps2: float = 1e8,
    step_s: float = 2e-5,
) -> Contact:
    """One ball against one pin at rest in the origin, `gap_m` before they touch.

    offset_m : the ball's centre right of the pin's at first contact.
    """
    before_m = math.sqrt((BALL_RADIUS_M + PIN_RADIUS_M) ** 2 - offset_m**2)
    speed = math.hypot(*velocity_mps)
    model = mujoco.MjModel.from_xml_string(
        SCENE.format(
            step=step_s,
            ball_x=offset_m - gap_m * velocity_mps[0] / speed,
            ball_y=-before_m - gap_m * velocity_mps[1] / speed,
            ball_kg=ball_kg,
            pin_kg=pin_kg,
            ball_radius=BALL_RADIUS_M,
            pin_radius=PIN_RADIUS_M,
            stiffness=-stiffness_ps2,
            damping=-2.0 * damping_ratio_for(restitution) * math.sqrt(stiffness_ps2),
        )
    )
    data = mujoco.MjData(model)
    data.qvel[:2] = velocity_mps
    for _ in range(int((2 * gap_m / speed + 0.01) / step_s)):
        mujoco.mj_step(model, data)
    return Contact(data.qvel[0:3].copy(), data.qvel[6:9].copy())
