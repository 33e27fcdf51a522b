"""Shots of the model sheet as the compiled kernel takes them, and the same for the oracle."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.spatial.transform import Rotation

from nextpair.domain.ball import Layout
from nextpair.domain.lane import BOARDS, CELLS
from nextpair.domain.units import DEGREE_RAD, INCH_M, RPM_RADPS
from nextpair.kernel.layout import Bodies, Lanes, Shots
from nextpair.kernel.roll import STEPS, Paths, roll
from nextpair.physics.constants import OIL_FRICTION
from nextpair.physics.layout import GRIP_RADIUS_M, Quaternion, axes_to_quaternion, core_axes
from nextpair.physics.reference import Start
from reference.releases import Delivery

UPRIGHT = (0.0, 0.0, 1.0)
LENGTH_M = 12.0
"""Where exits are read; nothing here looks at exits."""


@dataclass(frozen=True, slots=True)
class Core:
    """Radii of gyration about low, high and middle axis, and how they lie about the spin axis."""

    rg_in: tuple[float, float, float]
    pin_to_axis_deg: float = 45.0
    drilling_deg: float = 60.0
    turn_deg: float = 0.0

    @property
    def quaternion(self) -> Quaternion:
        """From body axes to a frame whose z axis is the spin axis."""
        angle_m = self.pin_to_axis_deg * DEGREE_RAD * GRIP_RADIUS_M
        layout = Layout(angle_m, self.drilling_deg * DEGREE_RAD, self.turn_deg * DEGREE_RAD)
        return axes_to_quaternion(*core_axes(layout, UPRIGHT))

    @property
    def k2_m2(self) -> list[float]:
        """Squared radii of gyration."""
        return [(k * INCH_M) ** 2 for k in self.rg_in]


ROUND = Core((2.50, 2.50, 2.50))
STRONG = Core((2.48, 2.54, 2.515))


def start_of(delivery: Delivery, core: Core, x_m: float = 0.0) -> Start:
    """A delivery as the oracle takes it: the upright axis turned to the spin the shortest way."""
    return delivery.start(core.rg_in, on_axis(core.quaternion, delivery.spin_radps), x_m)


def on_axis(core: ArrayLike, spin_radps: ArrayLike) -> Quaternion:
    """A core in the spin frame turned to a spin in lane axes, the shortest way from upright."""
    spin = np.asarray(spin_radps, float)
    turn, _ = Rotation.align_vectors([spin if spin.any() else UPRIGHT], [UPRIGHT])
    x, y, z, w = (turn * Rotation.from_quat(np.roll(core, -1))).as_quat()
    return w, x, y, z


def bodies(cores: Sequence[Core], friction: float, film_gain_per_um: float = 1.0) -> Bodies:
    """Kernel arrays of balls with those cores and one cover."""
    return Bodies.by_friction_alone(
        k2_m2=np.array([core.k2_m2 for core in cores]),
        core=np.array([core.quaternion for core in cores]),
        film_gain_per_um=np.full(len(cores), film_gain_per_um),
        dry_friction=np.full(len(cores), friction),
    )


def shots(deliveries: Sequence[Delivery], x_m: Sequence[float] | float = 0.0) -> Shots:
    """One shot a delivery, each with the body and the film of its own number, if there are any."""
    columns = np.array(
        [
            (d.speed_mps, d.angle_deg, d.rev_rate_rpm, d.rotation_deg, d.tilt_deg)
            for d in deliveries
        ]
    ).T
    count = len(deliveries)
    return Shots(
        x_m=np.broadcast_to(np.asarray(x_m, float), count).copy(),
        launch_angle_rad=columns[1] * DEGREE_RAD,
        speed_mps=columns[0].copy(),
        rev_rate_radps=columns[2] * RPM_RADPS,
        axis_rotation_rad=columns[3] * DEGREE_RAD,
        axis_tilt_rad=columns[4] * DEGREE_RAD,
        body=np.zeros(count, np.int64),
        film=np.zeros(count, np.int64),
        dry_factor=np.ones(count),
        film_factor=np.ones(count),
        loft_m=np.zeros(count),
    )


def dry_lane() -> NDArray[np.float64]:
    """One lane without oil."""
    return np.zeros((1, CELLS, BOARDS))


def roll_in_kernel(
    films: NDArray[np.float64],
    balls: Bodies,
    thrown: Shots,
    *,
    oil_friction: float = OIL_FRICTION.value,
    pull_mps2: NDArray[np.float64] | None = None,
    steps: int = STEPS,
    record: bool = True,
) -> Paths:
    """Paths, with the state at every node unless `record` is false."""
    count = len(films)
    lanes = Lanes(films, np.full(count, LENGTH_M), np.full(count, oil_friction), pull_mps2)
    return roll(lanes, balls, thrown, record=record, steps=steps)
