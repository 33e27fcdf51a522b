"""Releases and lanes of the model sheet, as the slow oracle takes them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from nextpair.domain.units import DEGREE_RAD, INCH_M, MPH_MPS, RPM_RADPS
from nextpair.physics.reference import Start
from nextpair.physics.release import launch_spin_radps, launch_velocity_mps

NO_TURN = (1.0, 0.0, 0.0, 0.0)
FOOT_OF_PINS_M = 18.288


@dataclass(frozen=True, slots=True)
class Delivery:
    """A right-hander's release as a coach says it."""

    speed_mps: float
    angle_deg: float
    rev_rate_rpm: float
    rotation_deg: float
    tilt_deg: float

    @property
    def velocity_mps(self) -> tuple[float, float]:
        return launch_velocity_mps(self.speed_mps, self.angle_deg * DEGREE_RAD)

    @property
    def spin_radps(self) -> tuple[float, float, float]:
        rotation_rad, tilt_rad = self.rotation_deg * DEGREE_RAD, self.tilt_deg * DEGREE_RAD
        return launch_spin_radps(self.rev_rate_rpm * RPM_RADPS, rotation_rad, tilt_rad)

    def start(self, rg_in=(2.50, 2.50, 2.50), core=NO_TURN, x_m=0.0) -> Start:
        """The same ball at the foul line; a uniform core of RG 2.50 in unless said."""
        low, high, middle = (k * INCH_M for k in rg_in)
        return Start(x_m, self.velocity_mps, self.spin_radps, core, (low, high, middle))


A = Delivery(17.9 * MPH_MPS, 1.8, 416.0, 45.0, 0.0)
B = Delivery(17.9 * MPH_MPS, 1.8, 416.0, 45.0, 13.0)


def straight(speed_mps: float, radius_of_gyration_m: float) -> Start:
    """A ball that slides down the middle without spin."""
    k = radius_of_gyration_m
    return Start(0.0, (0.0, speed_mps), (0.0, 0.0, 0.0), NO_TURN, (k, k, k))


def two_zones(_x_m: float, y_m: float) -> float:
    """Friction 0.04 on oil, 0.20 beyond 12.192 m, with a sharp edge."""
    return 0.04 if y_m < 12.192 else 0.20


def uniform(friction: float):
    """The same friction everywhere."""
    return lambda _x_m, _y_m: friction


def waves(x_m: float, y_m: float) -> float:
    """Friction that comes and goes along and across the lane."""
    return 0.05 + 0.15 * math.sin(3 * x_m + 2 * y_m) ** 2
