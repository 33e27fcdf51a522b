"""Looks into a rack while a ball meets its pins: restitution, heading, the ball's own way out."""

from __future__ import annotations

import math

import mujoco
import numpy as np

from nextpair.carry.contacts import Contacts
from nextpair.carry.deck import PIT_Y_M
from nextpair.carry.rack import Hit, Rack, Setting, exact_setting
from nextpair.domain.lane import BOARD_M, CENTRE_BOARD
from nextpair.scoring.leaves import FULL_RACK, parse_leave

BALL, HEAD_PIN = 1, 2
"""The engine's numbers of the bodies; the others follow the head pin."""
PINS_ONLY = 4
"""A bit of collision masks in which the ball meets pins and pins meet nothing else."""
STIFF = 1e4
"""Makes pins so hard to turn that they move as discs do."""


class DiscRack(Rack):
    """A rack whose pins do not turn when they are hit."""

    def __init__(self, contacts: Contacts) -> None:
        super().__init__(contacts)
        self._pin_inertia = STIFF * self._pin_inertia


def restitution(rack: Rack, hit: Hit) -> float:
    """Speed at which ball and head pin part where they touched over that at which they met,
    along the line of contact."""
    rack.set_up(hit, exact_setting(), parse_leave("1"))
    data, met_mps, parting_mps = rack.data, math.nan, math.nan
    while data.time < 0.02:
        before = data.qvel.copy()
        rack.step()
        touching = [
            n
            for n in range(data.ncon)
            if set(rack.model.geom_bodyid[data.contact.geom[n]]) == {BALL, HEAD_PIN}
        ]
        if touching:
            normal, point = data.contact.frame[touching[0]][:3], data.contact.pos[touching[0]]
            if math.isnan(met_mps):
                met_mps = _closing_mps(rack, before, normal, point)
            parting_mps = -_closing_mps(rack, data.qvel, normal, point)
        elif not math.isnan(met_mps):
            break
    return parting_mps / met_mps


def _closing_mps(rack: Rack, velocity: np.ndarray, normal: np.ndarray, point: np.ndarray) -> float:
    """How fast the two bodies come together at a point, whichever way the normal points."""
    across = np.zeros((3, rack.model.nv))
    speeds = []
    for body in (BALL, HEAD_PIN):
        mujoco.mj_jac(rack.model, rack.data, across, None, point, body)
        speeds.append(across @ velocity)
    toward = normal * np.sign(normal @ (rack.data.xpos[HEAD_PIN] - rack.data.xpos[BALL]))
    return float(toward @ (speeds[0] - speeds[1]))


def heading_after_head_pin_deg(rack: Rack, hit: Hit) -> float:
    """Direction of the ball after the head pin alone, positive toward the left."""
    rack.set_up(hit, exact_setting(), parse_leave("1"))
    while rack.data.time < 0.015:
        rack.step()
    right_mps, along_mps = rack.data.qvel[:2]
    return math.degrees(math.atan2(-right_mps, along_mps))


def way_of_ball_alone(rack: Rack, hit: Hit, pin_kg: float) -> tuple[int, float]:
    """Pins that the ball itself touches, as a mask, and the board at which it leaves the deck,
    when pins meet the ball and nothing else."""
    setting: Setting = exact_setting()._replace(mass_kg=np.full(10, pin_kg))
    rack.set_up(hit, setting, FULL_RACK)
    model, data, touched = rack.model, rack.data, 0
    pins = model.geom_bodyid >= HEAD_PIN
    model.geom_contype[pins], model.geom_conaffinity[pins] = 0, PINS_ONLY
    model.geom_contype[model.geom_bodyid == BALL] |= PINS_ONLY
    x_before = y_before = 0.0
    while data.qpos[1] < PIT_Y_M and data.time < 1.0:
        x_before, y_before = data.qpos[:2]
        mujoco.mj_step(model, data)
        for body in model.geom_bodyid[data.contact.geom.ravel()]:
            touched |= 1 << int(body - HEAD_PIN) if body >= HEAD_PIN else 0
    x, y = data.qpos[:2]
    exit_m = x_before + (x - x_before) * (PIT_Y_M - y_before) / (y - y_before)
    return touched, float(CENTRE_BOARD - exit_m / BOARD_M)
