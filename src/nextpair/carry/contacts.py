"""What happens where bodies of a rack touch: the physical numbers, and the dampers that give them.

A contact is a spring and a damper per unit of effective mass, so how long it lasts and how much
speed it gives back do not depend on the bodies. The damper follows from the restitution in closed
form; the engine's finite step shifts the result by a percent or two, so every damper is tuned
once, when a rack is built, on two bodies in the engine itself.
"""

from __future__ import annotations

import math
from functools import cache
from typing import NamedTuple

import mujoco
from scipy.optimize import brentq

STEPS_A_CONTACT = 8
"""Steps of the engine in one contact. Source: [rack-study] section 3."""


class Contacts(NamedTuple):
    """Restitutions and frictions of a rack; what `fitted` marks is fitted in docs/adr/0011."""

    contact_s: float = 1e-3
    """How long two bodies touch. Source: [rack-study] section 5, assumption."""
    ball_pin_restitution: float = 0.70
    """Source: [facts] section 2, from memory: 0.650 to 0.780 allowed."""
    pin_pin_restitution: float = 0.45
    """Fitted."""
    deck_restitution: float = 0.45
    ball_deck_restitution: float = 0.30
    kickback_restitution: float = 0.48
    """Fitted."""
    pit_restitution: float = 0.15
    """Source: [rack-study] section 3, assumptions."""
    ball_pin_friction: float = 0.20
    pin_pin_friction: float = 0.18
    """Fitted."""
    deck_friction: float = 0.37
    """Fitted."""
    ball_deck_friction: float = 0.20
    kickback_friction: float = 0.30
    pit_friction: float = 0.80
    """Source: [rack-study] section 3, assumptions."""


class Damper(NamedTuple):
    """Spring [1/s2] and damper [1/s] of a contact, per unit of effective mass."""

    stiffness_ps2: float
    damping_ps: float

    @property
    def solref(self) -> str:
        """As the engine reads it: its direct format."""
        return f"{-self.stiffness_ps2:.9g} {-self.damping_ps:.9g}"


def restitution_of(damping_ratio: float) -> float:
    """Restitution of a damped spring that lets go when its force has fallen to nothing [1].

    Source: [schwager-2007], [model-sheet] section 5.4.
    """
    zeta, s = damping_ratio, math.sqrt(1.0 - damping_ratio**2)
    return math.exp(-zeta / s * (math.pi - math.atan2(2 * zeta * s, 1 - 2 * zeta**2)))


def damping_ratio_for(restitution: float) -> float:
    """The damping ratio that gives a restitution of 0.1 to 1 [1].

    Source: [schwager-2007], solved for the ratio.
    """
    return float(brentq(lambda zeta: restitution_of(zeta) - restitution, 1e-9, 0.97))


@cache
def damper_for(restitution: float, contact_s: float) -> Damper:
    """Spring and damper of a contact that lasts `contact_s` and gives back `restitution`.

    The damping is corrected once by what two bodies in the engine give back at the step that
    racks are rolled at.
    """
    stiffness_ps2 = (math.pi / contact_s) ** 2

    def damper(nominal: float) -> Damper:
        ratio = damping_ratio_for(nominal)
        return Damper(stiffness_ps2, 2.0 * ratio * math.sqrt(stiffness_ps2))

    achieved = measured_restitution(damper(restitution), contact_s / STEPS_A_CONTACT)
    return damper(min(restitution + (restitution - achieved), 0.99))


def measured_restitution(damper: Damper, step_s: float) -> float:
    """Mean restitution of two bodies that meet head on in the engine, over phases of its step.

    Source: [todorov-2012], direct contact parameters.
    """
    phases = 16
    return sum(_rebound(damper, step_s, phase / phases) for phase in range(phases)) / phases


def _rebound(damper: Damper, step_s: float, phase: float) -> float:
    speed_mps, radius_m, gap_steps = 4.0, 0.06, 4
    gap_m = speed_mps * step_s * (gap_steps + phase)
    model = mujoco.MjModel.from_xml_string(
        f"""
        <mujoco>
          <option timestep="{step_s}" gravity="0 0 0" cone="elliptic" integrator="implicitfast"/>
          <default><geom type="sphere" size="{radius_m}" solref="{damper.solref}"
            solimp="{IMPEDANCE}"/></default>
          <worldbody>
            <body><freejoint/><geom mass="1.6"/></body>
            <body pos="{2 * radius_m + gap_m} 0 0"><freejoint/><geom mass="6.8"/></body>
          </worldbody>
        </mujoco>"""
    )
    data = mujoco.MjData(model)
    data.qvel[0] = speed_mps
    for _ in range(4 * STEPS_A_CONTACT + gap_steps):
        mujoco.mj_step(model, data)
    return float(data.qvel[6] - data.qvel[0]) / speed_mps


IMPEDANCE = "0.99 0.99 0.001"
"""Share of the reference acceleration that a contact reaches. Source: [rack-study] section 3."""
