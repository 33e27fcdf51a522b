"""One rack in the engine: stands, topples, bounces, mirrors, makes no energy."""

from __future__ import annotations

import math

import mujoco
import numpy as np
import pytest

from nextpair.carry.contacts import Contacts, damper_for, measured_restitution
from nextpair.carry.pin import MASS_KG, solid_pin
from nextpair.carry.rack import Hit, Rack, exact_setting, spotted_setting
from nextpair.carry.scene import FOOT_RADIUS_M
from nextpair.domain.units import MPH_MPS, POUND_KG
from nextpair.physics.constants import GRAVITY_MPS2
from nextpair.scoring.leaves import FULL_RACK, mirrored_leave, parse_leave

BALL_KG = 15.0 * POUND_KG
SPEED_MPS = 17.0 * MPH_MPS
POCKET = Hit(2.8, 5.0, SPEED_MPS, BALL_KG)
BYSTANDER = Hit(19.0, 0.0, 1e-3, BALL_KG)
HEAD_PIN = 1
RACK = Rack()


def after(rack: Rack, hit: Hit, seconds: float, spotted: int = FULL_RACK, setting=None) -> None:
    """Let a rack run for a while."""
    rack.set_up(hit, exact_setting() if setting is None else setting, spotted)
    while rack.data.time < seconds:
        rack.step()


def wake_all(rack: Rack) -> None:
    """As if something had touched every pin."""
    rack._wake(np.flatnonzero(rack._hangs))


def test_woken_pins_stand_still():
    """A second on their feet: no tilt, no drift worth a hair."""
    RACK.set_up(BYSTANDER, exact_setting())
    wake_all(RACK)
    before = RACK.data.qpos.reshape(-1, 7)[1:].copy()
    while RACK.data.time < 1.0:
        RACK.step()
    moved = np.abs(RACK.data.qpos.reshape(-1, 7)[1:] - before).max()
    assert moved < 2e-5
    assert RACK.standing() == FULL_RACK


@pytest.mark.parametrize(("share", "falls"), [(0.93, False), (1.07, True)])
@pytest.mark.parametrize("toward_rad", [0.0, 0.2, 0.4])
def test_a_pin_topples_beyond_its_angle(share: float, falls: bool, toward_rad: float):
    """About the closed-form angle, give or take what twelve feet differ from a circle."""
    tilt_rad = share * solid_pin().topple_rad
    RACK.set_up(BYSTANDER, exact_setting(), HEAD_PIN)
    wake_all(RACK)
    place = RACK.data.qpos[7:14]
    axis = np.array([math.cos(toward_rad), math.sin(toward_rad), 0.0])
    place[3:] = math.cos(tilt_rad / 2), *(math.sin(tilt_rad / 2) * axis)
    mujoco.mj_kinematics(RACK.model, RACK.data)
    spheres = RACK.model.geom_type == mujoco.mjtGeom.mjGEOM_SPHERE
    feet = spheres & (RACK.model.geom_bodyid == 2)
    place[2] -= RACK.data.geom_xpos[feet, 2].min() - FOOT_RADIUS_M
    while RACK.data.time < 2.0:
        RACK.step()
    assert (RACK.standing() == 0) == falls


def test_the_steps_are_the_engines_own():
    """Without the change of friction, step by step what the engine's own step gives."""
    rack = Rack()
    rack._rate_ps = 0.0
    after(rack, POCKET, 0.02)
    wake_all(rack)
    twin = mujoco.MjData(rack.model)
    mujoco.mj_copyData(twin, rack.model, rack.data)
    rack.model.pair_solreffriction[:] = 0.0
    for _ in range(200):
        rack.step()
        mujoco.mj_step(rack.model, twin)
    np.testing.assert_array_equal(rack.data.qpos, twin.qpos)
    np.testing.assert_array_equal(rack.data.qvel, twin.qvel)


@pytest.mark.parametrize("restitution", [0.15, 0.30, 0.45, 0.70, 0.78])
def test_two_bodies_bounce_as_told(restitution: float):
    contact_s = Contacts().contact_s
    damper = damper_for(restitution, contact_s)
    assert measured_restitution(damper, contact_s / 8) == pytest.approx(restitution, abs=0.02)


def test_a_rack_makes_no_energy():
    rng = np.random.default_rng(4)
    for offset in (-2.0, 0.3, 2.8, 4.5):
        RACK.set_up(Hit(offset, 5.0, SPEED_MPS, BALL_KG), spotted_setting(rng))
        wake_all(RACK)
        lowest = energy_j(RACK)
        start = lowest
        while RACK.data.time < 0.6:
            RACK.step()
            now = energy_j(RACK)
            # The springs of the first contact give back what they held: half of its normal part,
            # a tenth of all, by the restitution, less what rubs meanwhile.
            assert now < lowest + 0.05 * start
            lowest = min(lowest, now)


def energy_j(rack: Rack) -> float:
    """Of motion and of height, whole scene."""
    moving = rack.model.body_mass[1:] > 0
    motion = rack.data.qvel.reshape(-1, 6)[moving]
    mass, inertia = rack.model.body_mass[1:], rack.model.body_inertia[1:]
    height = rack.data.qpos.reshape(-1, 7)[:, 2]
    return float(
        (0.5 * mass * (motion[:, :3] ** 2).sum(axis=1)).sum()
        + (0.5 * inertia * motion[:, 3:] ** 2).sum()
        + (mass * GRAVITY_MPS2 * height).sum()
    )


def test_a_mirrored_rack_goes_the_mirrored_way():
    """Until rounding grows: the crash doubles a difference every few milliseconds."""
    setting = spotted_setting(np.random.default_rng(8))
    hit = POCKET._replace(side_rotation_radps=6.0)
    image = hit._replace(
        offset_boards=-hit.offset_boards, angle_deg=-hit.angle_deg, side_rotation_radps=-6.0
    )
    after(RACK, hit, 0.04, setting=setting)
    seen = RACK.data.qpos.reshape(-1, 7)[:, :3].copy()
    after(RACK, image, 0.04, setting=setting.mirrored())
    order = [0, 1, 3, 2, 6, 5, 4, 10, 9, 8, 7]
    np.testing.assert_allclose(
        RACK.data.qpos.reshape(-1, 7)[order, :3] * (-1, 1, 1), seen, atol=2e-6
    )


def test_leaves_mirror_too():
    hits = [
        (POCKET._replace(offset_boards=o), np.random.default_rng(n))
        for n, o in enumerate((6.9, 7.5, 8.0))
    ]
    for hit, rng in hits:
        setting = spotted_setting(rng)
        left = RACK.roll(hit, setting).standing
        image = hit._replace(offset_boards=-hit.offset_boards, angle_deg=-hit.angle_deg)
        assert RACK.roll(image, setting.mirrored()).standing == mirrored_leave(left)


def test_only_what_is_spotted_stands():
    three_ten = parse_leave("3-10")
    missed = RACK.roll(Hit(-12.0, 0.0, SPEED_MPS, BALL_KG), exact_setting(), three_ten)
    assert missed.standing == three_ten
    hit = RACK.roll(Hit(5.7, 0.0, SPEED_MPS, BALL_KG), exact_setting(), parse_leave("3"))
    assert hit.standing == 0


def test_heavier_pins_are_heavier():
    setting = exact_setting()._replace(mass_kg=np.full(10, 1.1 * MASS_KG))
    RACK.set_up(POCKET, setting)
    assert RACK.model.body_mass[2:].sum() == pytest.approx(11 * MASS_KG)
