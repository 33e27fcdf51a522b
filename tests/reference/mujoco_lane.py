"""A ball on a lane in MuJoCo: a rigid-body engine that shares no line of code with the program.

Nothing of the program's equations goes in: only a sphere's radius, its mass, three moments of
inertia, where its centre of mass lies, and Coulomb's coefficient of the place where it stands.

Settings, after the engine's own manual (chapter "Modeling", sections on contact parameters and
friction) and [model-sheet] section 5.4:

- condim 3: sliding friction alone, no torsional and no rolling friction.
- cone "elliptic": friction is the same in every direction, which a pyramid's is not.
- impratio 10: sliding is held ten times as hard as penetration, so that a rolling ball creeps by
  less than a millimetre a second.
- solref (4 ms, 1): a critically damped contact. The ball starts resting in it, 0.16 mm deep, so
  that the load is the weight from the first step on.
- integrator RK4, step 0.2 ms: at 0.05 ms the place at the pins is another by less than 0.05 mm.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import mujoco
import numpy as np
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from nextpair.physics.reference import Friction, Start

STEP_S = 2e-4
LONGEST_S = 8.0
CONTACT_S = 0.004
MASS_KG = 6.804
GRAVITY_MPS2 = 9.80665
SCENE = """
<mujoco>
  <option timestep="{step}" gravity="0 0 -{gravity}" integrator="RK4" cone="elliptic"
          impratio="10" solver="Newton" tolerance="1e-12"/>
  <worldbody>
    <geom name="lane" type="plane" size="0 0 1"/>
    <body name="ball">
      <freejoint/>
      <inertial pos="{centre}" mass="{mass}" diaginertia="{inertia}"/>
      <geom name="cover" type="sphere" size="{radius}"/>
    </body>
  </worldbody>
  <contact>
    <pair geom1="lane" geom2="cover" condim="3" solref="{contact} 1"/>
  </contact>
</mujoco>
"""


@dataclass(frozen=True, slots=True, eq=False)
class Rolled:
    """One ball in lane axes, a row a step of the engine, up to the first beyond the end.

    place_m, velocity_mps (n, 2) of the ball's middle; spin_radps (n, 3); slip_mps (n,).
    """

    time_s: NDArray[np.float64]
    place_m: NDArray[np.float64]
    velocity_mps: NDArray[np.float64]
    spin_radps: NDArray[np.float64]
    slip_mps: NDArray[np.float64]

    def at(self, distance_m: float, values: NDArray[np.float64]) -> NDArray[np.float64]:
        """One of the arrays where the ball passes a distance, linear within a step."""
        down_m = self.place_m[:, 1]
        step = int(np.searchsorted(down_m, distance_m))
        share = (distance_m - down_m[step - 1]) / (down_m[step] - down_m[step - 1])
        return np.asarray(values[step - 1] + share * (values[step] - values[step - 1]))


def scene(start: Start, radius_m: float, centre_m: tuple[float, float, float]) -> mujoco.MjModel:
    """The engine's model of one ball on an endless lane."""
    inertia = (MASS_KG * k * k for k in start.radii_of_gyration_m)
    return mujoco.MjModel.from_xml_string(
        SCENE.format(
            step=STEP_S,
            gravity=GRAVITY_MPS2,
            mass=MASS_KG,
            radius=radius_m,
            contact=CONTACT_S,
            centre=" ".join(f"{float(part)!r}" for part in centre_m),
            inertia=" ".join(f"{float(part)!r}" for part in inertia),
        )
    )


def roll_in_mujoco(
    start: Start,
    friction: Friction,
    *,
    end_m: float,
    radius_m: float,
    centre_m: tuple[float, float, float] = (0.0, 0.0, 0.0),
    force_n: Callable[[NDArray[np.float64]], NDArray[np.float64]] | None = None,
) -> Rolled:
    """Roll one ball by the engine from the foul line to `end_m`.

    friction : Coulomb's coefficient by place, set anew before every step.
    centre_m : centre of mass in body axes, from the middle of the sphere.
    force_n : another force on the centre of mass, from its velocity (3,).

    `start.velocity_mps` is that of the centre of mass.
    """
    model = scene(start, radius_m, centre_m)
    data = mujoco.MjData(model)
    w, x, y, z = start.core
    to_lane = Rotation.from_quat((x, y, z, w))
    lean_m = to_lane.apply(centre_m)
    middle_mps = np.array([*start.velocity_mps, 0.0]) - np.cross(start.spin_radps, lean_m)
    sunk_m = GRAVITY_MPS2 * CONTACT_S**2
    data.qpos[:] = (start.x_m - lean_m[0], -lean_m[1], radius_m - sunk_m, *start.core)
    data.qvel[:] = (*middle_mps, *to_lane.inv().apply(start.spin_radps))
    rows = np.empty((int(LONGEST_S / STEP_S), 14))
    for step, row in enumerate(rows):
        row[0], row[1:8], row[8:] = data.time, data.qpos, data.qvel
        if row[2] > end_m:
            rows = rows[: step + 1]
            break
        model.pair_friction[0, :2] = friction(row[1], row[2])
        if force_n is not None:
            data.xfrc_applied[1, :3] = force_n(row[8:11])
        mujoco.mj_step(model, data)
    else:
        raise AssertionError(f"the ball has not come to {end_m} m in {LONGEST_S} s")
    spin = Rotation.from_quat(np.roll(rows[:, 4:8], -1, axis=1)).apply(rows[:, 11:])
    slip_x = rows[:, 8] - radius_m * spin[:, 1]
    slip_y = rows[:, 9] + radius_m * spin[:, 0]
    return Rolled(rows[:, 0], rows[:, 1:3], rows[:, 8:10], spin, np.hypot(slip_x, slip_y))
