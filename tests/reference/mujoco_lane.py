"""A ball on a lane in MuJoCo: a rigid-body engine that shares no line of code with the program.

Nothing of the program's equations goes in: only a sphere's radius, its mass, three moments of
inertia, where its centre of mass lies, and Coulomb's coefficient of the place where it stands.

Settings, after the engine's own manual (chapter "Modeling", sections on contact parameters and
friction) and [model-sheet] section 5.4:

- condim 3: sliding friction alone, no torsional and no rolling friction, unless rolling
  resistance is asked for.
- cone "elliptic": friction is the same in every direction, which a pyramid's is not.
- impratio 10: sliding is held ten times as hard as penetration, so that a rolling ball creeps by
  less than a millimetre a second.
- solref (4 ms, 1): a critically damped contact. The ball starts resting in it, 0.16 mm deep, so
  that the load is the weight from the first step on.
- integrator RK4, step 0.2 ms: at 0.05 ms the place at the pins is another by less than 0.05 mm.
"""

from __future__ import annotations

import math
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
  <option timestep="{step}" gravity="{pull} -{gravity}" integrator="RK4" cone="elliptic"
          impratio="10" solver="Newton" tolerance="1e-12"/>
  <worldbody>
    <geom name="lane" type="plane" size="0 0 1" quat="{lean}"/>
    <body name="ball">
      <freejoint/>
      <inertial pos="{centre}" mass="{mass}" diaginertia="{inertia}"/>
      <geom name="cover" type="sphere" size="{radius}"/>
    </body>
  </worldbody>
  <contact>
    <pair geom1="lane" geom2="cover" condim="{dimensions}" solref="{contact} 1"
          friction="1 1 0 {rolling} {rolling}"/>
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


@dataclass(frozen=True, slots=True)
class Extras:
    """What else may act on the engine's ball.

    centre_m : centre of mass in body axes, from the middle of the sphere.
    pull_mps2 : gravity's part along the lane, to the right and down it, as on a tilted lane.
    lean_rad : turn of the lane about its length, right edge down.
    drag_per_m : deceleration by the air over the square of speed.
    rolling_resistance : moment against rolling over weight and radius; the engine's own rolling
        friction, a Coulomb law in the rate of rolling (condim 6).
    loft_m : height from which the ball falls.
    """

    centre_m: tuple[float, float, float] = (0.0, 0.0, 0.0)
    pull_mps2: tuple[float, float] = (0.0, 0.0)
    lean_rad: float = 0.0
    drag_per_m: float = 0.0
    rolling_resistance: float = 0.0
    loft_m: float = 0.0


PLAIN = Extras()


def scene(start: Start, radius_m: float, extras: Extras) -> mujoco.MjModel:
    """The engine's model of one ball on an endless lane."""
    inertia = (MASS_KG * k * k for k in start.radii_of_gyration_m)
    return mujoco.MjModel.from_xml_string(
        SCENE.format(
            step=STEP_S,
            pull=" ".join(f"{float(part)!r}" for part in extras.pull_mps2),
            gravity=GRAVITY_MPS2,
            lean=f"{math.cos(extras.lean_rad / 2)!r} 0 {math.sin(extras.lean_rad / 2)!r} 0",
            mass=MASS_KG,
            radius=radius_m,
            contact=CONTACT_S,
            dimensions=6 if extras.rolling_resistance else 3,
            rolling=extras.rolling_resistance * radius_m,
            centre=" ".join(f"{float(part)!r}" for part in extras.centre_m),
            inertia=" ".join(f"{float(part)!r}" for part in inertia),
        )
    )


def roll_in_mujoco(
    start: Start,
    friction: Friction,
    *,
    end_m: float,
    radius_m: float,
    extras: Extras = PLAIN,
) -> Rolled:
    """Roll one ball by the engine from the foul line to `end_m`.

    friction : Coulomb's coefficient by place, set anew before every step.

    `start.velocity_mps` is that of the centre of mass.
    """
    model = scene(start, radius_m, extras)
    data = mujoco.MjData(model)
    w, x, y, z = start.core
    to_lane = Rotation.from_quat((x, y, z, w))
    lean_m = to_lane.apply(extras.centre_m)
    middle_mps = np.array([*start.velocity_mps, 0.0]) - np.cross(start.spin_radps, lean_m)
    height_m = radius_m + (extras.loft_m or -GRAVITY_MPS2 * CONTACT_S**2)
    data.qpos[:] = (start.x_m, 0.0, height_m, *start.core)
    data.qvel[:] = (*middle_mps[:2], 0.0, *to_lane.inv().apply(start.spin_radps))
    rows = np.empty((int(LONGEST_S / STEP_S), 14))
    for step, row in enumerate(rows):
        row[0], row[1:8], row[8:] = data.time, data.qpos, data.qvel
        if row[2] > end_m:
            rows = rows[: step + 1]
            break
        model.pair_friction[0, :2] = friction(row[1], row[2])
        if extras.drag_per_m:
            speed = np.linalg.norm(data.qvel[:3])
            data.xfrc_applied[1, :3] = -MASS_KG * extras.drag_per_m * speed * data.qvel[:3]
        mujoco.mj_step(model, data)
    else:
        raise AssertionError(f"the ball has not come to {end_m} m in {LONGEST_S} s")
    spin = Rotation.from_quat(np.roll(rows[:, 4:8], -1, axis=1)).apply(rows[:, 11:])
    slip_x = rows[:, 8] - radius_m * spin[:, 1]
    slip_y = rows[:, 9] + radius_m * spin[:, 0]
    return Rolled(rows[:, 0], rows[:, 1:3], rows[:, 8:10], spin, np.hypot(slip_x, slip_y))
