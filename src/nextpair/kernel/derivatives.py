"""What moves a path: slopes of its marks and its entry to every number of the shot, the ball and
the lane, by central differences in one batch.

Everything is in the bowler's own frame: boards grow toward the bowler's side. The kernel's float32
is good to about 1e-4 boards, so the steps are long enough to move the offset by 0.01 board or more
and short enough that half the step gives the same slope; tests hold both against the slow oracle.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields, replace
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.lane import BOARD_M, END_PLANE_M, HEAD_PIN_M
from nextpair.domain.units import DEGREE_RAD, INCH_M, MPH_MPS, RPM_RADPS
from nextpair.kernel.layout import Bodies, Lanes, Shots
from nextpair.kernel.outcome import Status
from nextpair.kernel.roll import Paths, roll
from nextpair.physics.layout import GRIP_RADIUS_M, Quaternion, Vector
from nextpair.physics.rigid_body import quaternion_product, to_lane

FloatArray = NDArray[np.float64]
Batch = TypeVar("Batch", Bodies, Shots)

STEPS: Mapping[str, float] = {
    "x_m": 0.15 * BOARD_M,
    "launch_angle_rad": 0.03 * DEGREE_RAD,
    "speed_mps": 0.025 * MPH_MPS,
    "rev_rate_radps": 1.0 * RPM_RADPS,
    "axis_rotation_rad": 0.5 * DEGREE_RAD,
    "axis_tilt_rad": 1.0 * DEGREE_RAD,
    "dry_factor": 0.01,
    "film_factor": 0.01,
    "loft_m": 1.0 * INCH_M,
    "cross_mps2": 0.005,
    "oil_friction": 0.001,
    "rg_m": 0.01 * INCH_M,
    "differential_m": 0.0015 * INCH_M,
    "intermediate_m": 0.0015 * INCH_M,
    "pin_to_pap_m": 0.1 * INCH_M,
    "drilling_angle_rad": 3.0 * DEGREE_RAD,
    "val_angle_rad": 2.5 * DEGREE_RAD,
    "dry_friction": 0.01,
    "film_gain_per_um": 0.01,
}
"""Everything that slopes are taken to, and half the difference over which each is taken.

A name ends in its unit, or is a pure number. Steps of dry friction and film gain are shares of
their value: a gain is ten times as high on a polished cover as on a rough one. Speed and rev rate
have short steps, for a strong core wobbles on: how it stands at the pins turns with every mph.
"""
_SHARES = frozenset({"dry_friction", "film_gain_per_um"})


@dataclass(frozen=True, slots=True)
class Marks:
    """Where n shots go, or how far that moves; arrays (n,), boards toward the bowler's side.

    arrows_boards, exit_boards, break_boards : at the arrows, at the end of the oil, and closest to
        the bowler's gutter.
    head_pin_boards : where the path crosses the row of the head pin's centre.
    offset_boards, entry_angle_deg : see kernel.outcome.Impact, as if the lane had no gutters.
    """

    arrows_boards: FloatArray
    exit_boards: FloatArray
    break_boards: FloatArray
    head_pin_boards: FloatArray
    offset_boards: FloatArray
    entry_angle_deg: FloatArray


@dataclass(frozen=True, slots=True)
class Derivatives:
    """Slopes of the Marks of n shots to p parameters, each per one unit of the parameter's name.

    parameters : names, as in STEPS.
    slopes : Marks whose arrays are (p, n); NaN where a shot cannot be rolled.
    """

    parameters: tuple[str, ...]
    slopes: Marks

    def moved(self, changes: Mapping[str, float]) -> Marks:
        """How far every mark of the n shots moves if some parameters change a little, each by so
        many of its units."""
        weights = np.zeros(len(self.parameters))
        for name, change in changes.items():
            weights[self.parameters.index(name)] = change
        return Marks(
            *(weights @ np.asarray(getattr(self.slopes, field.name)) for field in fields(Marks))
        )


def derivatives(
    lanes: Lanes,
    bodies: Bodies,
    shots: Shots,
    steps: Mapping[str, float] = STEPS,
) -> Derivatives:
    """Slopes of n shots to the p parameters named in `steps`, as STEPS; the other arguments are
    those of `kernel.roll.roll`. Rolls 2 p n shots in one batch.

    A wide step gives the mean slope over that width, for changes that are not small.
    """
    width = np.stack([2.0 * _step(name, step, bodies, shots) for name, step in steps.items()])
    moved = [
        changed(lanes, bodies, _lofted(shots, name, 0.5 * whole), name, side * whole)
        for name, whole in zip(steps, width, strict=True)
        for side in (0.5, -0.5)
    ]
    paths = roll(*one_batch(moved))
    lost = np.isin(paths.status, (Status.STOPPED, Status.BAD_INPUT))

    def slope(values: FloatArray) -> FloatArray:
        ends = np.where(lost, np.nan, values).reshape(len(steps), 2, len(shots))
        return np.asarray((ends[:, 0] - ends[:, 1]) / width)

    marks = marks_of(paths)
    return Derivatives(
        tuple(steps), Marks(*(slope(getattr(marks, field.name)) for field in fields(Marks)))
    )


def marks_of(paths: Paths) -> Marks:
    """The marks of n paths."""
    impact = paths.lane_impact
    beyond = (paths.v_x_mps / paths.v_y_mps) * (HEAD_PIN_M - END_PLANE_M)
    return Marks(
        arrows_boards=paths.arrows_x_m / BOARD_M,
        exit_boards=paths.exit_x_m / BOARD_M,
        break_boards=paths.break_x_m / BOARD_M,
        head_pin_boards=(paths.x_m + beyond) / BOARD_M,
        offset_boards=impact.offset_boards,
        entry_angle_deg=impact.entry_angle_deg,
    )


def _step(name: str, step: float, bodies: Bodies, shots: Shots) -> FloatArray:
    """Half the difference for every shot (n,)."""
    if name in _SHARES:
        return np.asarray(step * getattr(bodies, name)[shots.body])
    return np.full(len(shots), step)


def _lofted(shots: Shots, name: str, step: FloatArray) -> Shots:
    """Shots that have room for a step down; slopes to the loft of a ball that is laid down are
    those of one lofted by the step."""
    if name != "loft_m":
        return shots
    return replace(shots, loft_m=np.maximum(shots.loft_m, step))


def changed(
    lanes: Lanes, bodies: Bodies, shots: Shots, name: str, change: float | FloatArray
) -> tuple[Lanes, Bodies, Shots]:
    """The same n shots with one parameter of STEPS changed, by one amount or by one each (n,), in
    the unit of its name; a lane by the first amount for all. No ball is lofted by less than
    nothing."""
    if name == "loft_m":
        return lanes, bodies, replace(shots, loft_m=np.maximum(shots.loft_m + change, 0.0))
    if hasattr(shots, name):
        return lanes, bodies, replace(shots, **{name: getattr(shots, name) + change})
    change = np.broadcast_to(change, len(shots))
    if name == "oil_friction":
        return replace(lanes, oil_friction=lanes.oil_friction + change[0]), bodies, shots
    if name == "cross_mps2":
        pull = _pull_of(lanes)
        pull[:, 0] += change[0]
        return replace(lanes, pull_mps2=pull), bodies, shots
    own = replace(shots, body=np.arange(len(shots)))
    each = Bodies(*(getattr(bodies, field.name)[shots.body] for field in fields(Bodies)))
    return lanes, _changed_body(each, name, change), own


def _pull_of(lanes: Lanes) -> FloatArray:
    """Pull of the slopes (f, 2, 120, 39), a copy; zero where lanes are level."""
    films, cells, boards = lanes.film_um.shape
    if lanes.pull_mps2 is None:
        return np.zeros((films, 2, cells, boards))
    return np.array(lanes.pull_mps2)


def _changed_body(each: Bodies, name: str, change: FloatArray) -> Bodies:
    """Bodies with one number of each changed."""
    if name in _SHARES:
        return replace(each, **{name: getattr(each, name) + change})
    if name in _AXES_MOVED:
        radii_m = np.sqrt(each.k2_m2) + np.outer(change, _AXES_MOVED[name])
        return replace(each, k2_m2=radii_m**2)
    turned = [
        _turned(name, tuple(core), float(own_change))
        for core, own_change in zip(each.core, change, strict=True)
    ]
    return replace(each, core=np.array(turned))


_AXES_MOVED = {
    "rg_m": (1.0, 1.0, 1.0),
    "differential_m": (0.0, 1.0, 1.0),
    "intermediate_m": (0.0, 0.0, -1.0),
}
"""How the radii of gyration about low, high and middle axis follow the numbers of a core."""
_LOW, _MID, _SPIN = (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 0.0, 1.0)
"""Body axes of the low and the middle RG, and the spin axis in the spin frame."""
ON_AXIS = 1e-6


def _turned(name: str, core: Quaternion, change: float) -> Quaternion:
    """A core turned as one number of its layout turns it. A pin on the spin axis tells no
    direction to move in: it moves along the high axis.

    Source: [model-sheet] section 6.3: theta = pin-to-PAP / R across spin axis and pin, delta about
    the pin, beta about the spin axis.
    """
    if name == "drilling_angle_rad":
        return quaternion_product(*core, *_turn(_LOW, change))
    if name == "val_angle_rad":
        return quaternion_product(*_turn(_SPIN, change), *core)
    x, y, _ = to_lane(*core, *_LOW)
    off_axis = math.hypot(x, y)
    across = to_lane(*core, *_MID)
    if off_axis > ON_AXIS:
        across = -y / off_axis, x / off_axis, 0.0
    return quaternion_product(*_turn(across, change / GRIP_RADIUS_M), *core)


def _turn(axis: Vector, angle_rad: float) -> Quaternion:
    """A turn about an axis of length one."""
    s = math.sin(0.5 * angle_rad)
    return math.cos(0.5 * angle_rad), s * axis[0], s * axis[1], s * axis[2]


def one_batch(variants: Sequence[tuple[Lanes, Bodies, Shots]]) -> tuple[Lanes, Bodies, Shots]:
    """All variants one after another, each with its own bodies; lanes that several share are kept
    once."""
    batches: list[Shots] = []
    kept: list[Lanes] = []
    bodies_before = 0
    for lanes, bodies, shots in variants:
        place = next((i for i, own in enumerate(kept) if own is lanes), len(kept))
        lanes_before = sum(len(own) for own in kept[:place])
        if place == len(kept):
            kept.append(lanes)
        batches.append(
            replace(shots, body=shots.body + bodies_before, film=shots.film + lanes_before)
        )
        bodies_before += len(bodies.dry_friction)
    sloped = any(lanes.pull_mps2 is not None for lanes in kept)
    return (
        Lanes(
            film_um=np.concatenate([lanes.film_um for lanes in kept]),
            length_m=np.concatenate([lanes.length_m for lanes in kept]),
            oil_friction=np.concatenate([lanes.oil_friction for lanes in kept]),
            pull_mps2=np.concatenate([_pull_of(lanes) for lanes in kept]) if sloped else None,
        ),
        _joined(Bodies, [bodies for _, bodies, _ in variants]),
        _joined(Shots, batches),
    )


def _joined(kind: type[Batch], parts: Sequence[Batch]) -> Batch:
    """Several sets of arrays, one after another."""
    names = [field.name for field in fields(kind)]
    return kind(*(np.concatenate([getattr(part, name) for part in parts]) for name in names))
