"""One rack: a ball rolled at ten pins as rigid bodies, in MuJoCo.

A pin that nothing has touched hangs where it was set and meets no deck: ten standing pins would
cost more than the crash. From its first touch on it has weight and stands on its feet. What has
fallen into the pit is taken away. Three tenths of a second after the hit the bodies are slow, and
contacts and steps are made twice as long.

Friction below its limit is a rate of its own: the engine would else damp slip as it damps the
bounce, and a lively contact would hardly rub at all ([rack-study] section 2).
"""

from __future__ import annotations

import math
from typing import NamedTuple

import mujoco
import numpy as np
from numpy.typing import NDArray

from nextpair.carry.contacts import Contacts
from nextpair.carry.deck import (
    MIRRORED_PIN,
    PIN_X_M,
    PIN_Y_M,
    PIT_DEPTH_M,
    PIT_Y_M,
    SPOTTING_M,
    FloatArray,
)
from nextpair.carry.pin import MASS_KG, MASS_SD_KG, solid_pin
from nextpair.carry.scene import BALL_RG_M, MEETS_BODIES, friction_rate_ps, rack_scene
from nextpair.domain.ball import BALL_RADIUS_M, CONTACT_M
from nextpair.domain.lane import BOARD_M, PIN_RADIUS_M
from nextpair.domain.units import DEGREE_RAD
from nextpair.physics.constants import GRAVITY_MPS2
from nextpair.scoring.leaves import FULL_RACK, PINS

RUN_UP_M = 0.03
"""Way before first contact at which a ball starts, longer than any pin is off its spot."""
RESTITUTION_SD = 0.05
FRICTION_SD = 0.15
"""Of damping and friction from pin to pin, as shares. Source: assumption; a set of pins of one
age, filmed, would tell."""

SOFTER_S = 0.3
"""Time after which contacts last twice as long."""
SWEEP_S = 3.0
"""When the sweep comes down: what stands then is the leave. Common practice, from memory."""
LOOK_STEPS = 20
"""Steps between looks at what has come to rest."""
TOPPLE_J = 0.035
"""Energy that lifts a pin over the rim of its base: nothing with less can make a pin fall.
Source: [model-sheet] section 5.1."""
CALM_J = 0.002
"""A standing pin with less does not wobble any more."""
FALLEN_COS = math.cos(45.0 * DEGREE_RAD)

_FIRST_BODY = 1
"""The engine's number of the ball's body; pin i is body i + 2."""


class Hit(NamedTuple):
    """How a ball comes to the pins, as one row of `Rolls`."""

    offset_boards: float
    angle_deg: float
    speed_mps: float
    ball_kg: float
    roll_share: float = 1.0
    side_rotation_radps: float = 0.0


class Setting(NamedTuple):
    """What differs from rack to rack, each (10,) for pins 1 to 10 unless said."""

    x_m: FloatArray
    y_m: FloatArray
    turn_rad: FloatArray
    """About the pin's own axis."""
    mass_kg: FloatArray
    damping: FloatArray
    """Factors of the damping of ball and pins (11,), ball first."""
    friction: FloatArray
    """Factors of the friction of ball and pins (11,), ball first."""

    def mirrored(self) -> Setting:
        """The same rack seen in a mirror along the lane's centre line."""
        pins = MIRRORED_PIN
        bodies = np.append(0, pins + 1)
        return Setting(
            -self.x_m[pins],
            self.y_m[pins],
            math.pi - self.turn_rad[pins],
            self.mass_kg[pins],
            self.damping[bodies],
            self.friction[bodies],
        )


class Outcome(NamedTuple):
    """What one ball left."""

    standing: int
    exit_x_m: float


def exact_setting() -> Setting:
    """Ten like pins on their spots."""
    return Setting(
        PIN_X_M.copy(),
        PIN_Y_M.copy(),
        np.zeros(PINS),
        np.full(PINS, MASS_KG),
        np.ones(PINS + 1),
        np.ones(PINS + 1),
    )


def spotted_setting(rng: np.random.Generator) -> Setting:
    """Pins as a machine sets them: off spot, turned anyhow, of a set that is not all alike."""
    off_spot_m = SPOTTING_M * np.sqrt(rng.random(PINS))
    toward = 2.0 * math.pi * rng.random(PINS)
    return Setting(
        PIN_X_M + off_spot_m * np.cos(toward),
        PIN_Y_M + off_spot_m * np.sin(toward),
        2.0 * math.pi * rng.random(PINS),
        MASS_KG + MASS_SD_KG * rng.standard_normal(PINS),
        np.exp(RESTITUTION_SD * rng.standard_normal(PINS + 1)),
        np.exp(FRICTION_SD * rng.standard_normal(PINS + 1)),
    )


class Rack:
    """A rack that can be rolled at again and again; keeps no state from roll to roll."""

    def __init__(self, contacts: Contacts | None = None) -> None:
        self.contacts = contacts or Contacts()
        self.model = mujoco.MjModel.from_xml_string(rack_scene(self.contacts))
        self.data = mujoco.MjData(self.model)
        self.centre_m = solid_pin().centre_m
        model = self.model
        self._body_of = model.geom_bodyid.copy()
        self._meets = model.geom_contype.copy()
        self._solref = model.geom_solref.copy()
        self._pair_solref = model.pair_solref.copy()
        self._friction = model.geom_friction.copy()
        self._pin_inertia = model.body_inertia[2].copy()
        self._step_s = float(model.opt.timestep)
        self._rate_ps = friction_rate_ps(self.contacts)

    def roll(self, hit: Hit, setting: Setting, spotted: int = FULL_RACK) -> Outcome:
        """Roll one ball at the pins of `spotted`, until the sweep comes or nothing can fall."""
        self.set_up(hit, setting, spotted)
        exit_x_m = math.nan
        x_before, y_before = self.data.qpos[:2]
        while self.data.time < SWEEP_S:
            for _ in range(LOOK_STEPS):
                self.step()
            x, y = self.data.qpos[:2]
            if y_before < PIT_Y_M <= y:
                share = (PIT_Y_M - y_before) / (y - y_before)
                exit_x_m = float(x_before + share * (x - x_before))
            x_before, y_before = x, y
            if self.data.time > SOFTER_S and self.model.opt.timestep == self._step_s:
                self._soften()
            self._take_away_what_fell_into_the_pit()
            if self._is_over():
                break
        return Outcome(self.standing(), exit_x_m)

    def set_up(self, hit: Hit, setting: Setting, spotted: int = FULL_RACK) -> None:
        """Spot the pins and put the ball just before it meets them."""
        model, data = self.model, self.data
        self._gone = np.zeros(PINS + 1, bool)
        self._untouched = np.append(False, spotted >> np.arange(PINS) & 1 == 1)
        self._hangs = np.append(False, self._untouched)[self._body_of]
        body = np.maximum(self._body_of - _FIRST_BODY, 0)
        model.geom_contype[:] = self._meets
        model.body_gravcomp[_FIRST_BODY:] = self._untouched
        model.geom_solref[:] = self._solref
        model.geom_solref[:, 1] *= setting.damping[body]
        model.pair_solref[:] = self._pair_solref
        model.geom_friction[:] = self._friction
        model.geom_friction[:, 0] *= setting.friction[body]
        model.opt.timestep = self._step_s
        model.body_mass[_FIRST_BODY:] = [hit.ball_kg, *setting.mass_kg]
        model.body_inertia[_FIRST_BODY] = hit.ball_kg * BALL_RG_M**2
        model.body_inertia[_FIRST_BODY + 1 :] = (
            self._pin_inertia * (setting.mass_kg / MASS_KG)[:, np.newaxis]
        )
        mujoco.mj_setConst(model, data)
        mujoco.mj_resetData(model, data)
        model.geom_contype[self._hangs] &= MEETS_BODIES
        self._place_ball(hit)
        places = data.qpos.reshape(-1, 7)[1:]
        places[:, 0], places[:, 1], places[:, 2] = setting.x_m, setting.y_m, self.centre_m
        places[:, 3], places[:, 6] = np.cos(0.5 * setting.turn_rad), np.sin(0.5 * setting.turn_rad)
        for absent in np.flatnonzero(~self._untouched[1:]) + 1:
            self._take_away(int(absent))

    def _place_ball(self, hit: Hit) -> None:
        angle_rad = hit.angle_deg * DEGREE_RAD
        across, along = -math.sin(angle_rad), math.cos(angle_rad)
        offset_m = hit.offset_boards * BOARD_M
        before_m = math.sqrt(max(CONTACT_M**2 - offset_m**2, 0.0))
        place, motion = self.data.qpos[:3], self.data.qvel[:6]
        place[:] = offset_m - RUN_UP_M * across, -before_m - RUN_UP_M * along, BALL_RADIUS_M
        spin_radps = hit.roll_share * hit.speed_mps / BALL_RADIUS_M
        motion[:3] = hit.speed_mps * across, hit.speed_mps * along, 0.0
        motion[3:] = -spin_radps * along, spin_radps * across, hit.side_rotation_radps

    def step(self) -> None:
        """One step of the engine with friction as said above; wakes the pins that are touched.

        Source: [todorov-2012], the stages of its own step.
        """
        model, data = self.model, self.data
        mujoco.mj_fwdKinematics(model, data)
        mujoco.mj_makeM(model, data)
        mujoco.mj_factorM(model, data)
        mujoco.mj_collision(model, data)
        if data.ncon:
            data.contact.solreffriction[:, 1] = -self._rate_ps * self._step_s / model.opt.timestep
        mujoco.mj_makeConstraint(model, data)
        mujoco.mj_island(model, data)
        mujoco.mj_projectConstraint(model, data)
        mujoco.mj_fwdVelocity(model, data)
        mujoco.mj_fwdActuation(model, data)
        mujoco.mj_fwdAcceleration(model, data)
        mujoco.mj_fwdConstraint(model, data)
        mujoco.mj_implicit(model, data)
        if data.ncon:
            touched = data.contact.geom[self._hangs[data.contact.geom]]
            if touched.size:
                self._wake(touched)

    def _wake(self, touched: NDArray[np.int32]) -> None:
        for body in set(self._body_of[touched].tolist()):
            self._untouched[body - _FIRST_BODY] = False
            self.model.body_gravcomp[body] = 0.0
            own = self._body_of == body
            self.model.geom_contype[own] = self._meets[own]
            self._hangs[own] = False

    def _soften(self) -> None:
        model = self.model
        model.opt.timestep = 2.0 * self._step_s
        for solref in (model.geom_solref, model.pair_solref):
            solref[:] *= (0.25, 0.5)

    def _take_away_what_fell_into_the_pit(self) -> None:
        places = self.data.qpos.reshape(-1, 7)
        fallen = (places[:, 2] < -0.4 * PIT_DEPTH_M) & (places[:, 1] > PIT_Y_M) & ~self._gone
        for body in np.flatnonzero(fallen):
            self._take_away(int(body))

    def _take_away(self, body: int) -> None:
        """Put a body aside, where it meets nothing and does not move."""
        self._gone[body] = True
        self.model.geom_contype[self._body_of == _FIRST_BODY + body] = 0
        self.model.body_gravcomp[_FIRST_BODY + body] = 1.0
        self.data.qpos.reshape(-1, 7)[body, :3] = 0.0, 5.0 + body, -5.0
        self.data.qvel.reshape(-1, 6)[body] = 0.0

    def _uprightness(self) -> FloatArray:
        """Cosine of every pin's tilt (10,)."""
        turn = self.data.qpos.reshape(-1, 7)[1:, 3:]
        cosine: FloatArray = 1.0 - 2.0 * (turn[:, 1] ** 2 + turn[:, 2] ** 2)
        return cosine

    def _stands(self) -> NDArray[np.bool_]:
        height = self.data.qpos.reshape(-1, 7)[1:, 2]
        stands: NDArray[np.bool_] = (
            (self._uprightness() > FALLEN_COS) & (height > 0.5 * self.centre_m) & ~self._gone[1:]
        )
        return stands

    def standing(self) -> int:
        """Bit mask of the pins that stand."""
        return sum(1 << int(pin) for pin in np.flatnonzero(self._stands()))

    def _energy_j(self) -> FloatArray:
        """Of motion and of height above the deck, of ball and pins (11,)."""
        motion = self.data.qvel.reshape(-1, 6)
        mass_kg = self.model.body_mass[_FIRST_BODY:]
        energy: FloatArray = 0.5 * mass_kg * (motion[:, :3] ** 2).sum(axis=1)
        energy += 0.5 * (self.model.body_inertia[_FIRST_BODY:] * motion[:, 3:] ** 2).sum(axis=1)
        above_m = np.maximum(self.data.qpos.reshape(-1, 7)[1:, 2] - PIN_RADIUS_M, 0.0)
        energy[1:] += np.where(self._stands(), 0.0, mass_kg[1:] * GRAVITY_MPS2 * above_m)
        return energy

    def _is_over(self) -> bool:
        """Whether nothing stands, or nothing that moves can make anything fall."""
        stands = self._stands()
        if not stands.any():
            return True
        energy = self._energy_j()
        wobbles = (energy[1:] > CALM_J) | (self._uprightness() < math.cos(2.0 * DEGREE_RAD))
        if (stands & wobbles & ~self._untouched[1:]).any():
            return False
        loose = ~np.append(False, stands) & ~self._gone
        height = self.data.qpos.reshape(-1, 7)[:, 2]
        rises = self.data.qvel.reshape(-1, 6)[:, 2] > 0.5
        return not (loose & (energy > TOPPLE_J) & ((height > 0.0) | rises)).any()
