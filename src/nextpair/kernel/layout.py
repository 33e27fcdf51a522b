"""Domain objects to contiguous arrays: the order of columns, written down once.

Everything here is in the bowler's own frame: the right-hander's lane. A left-hander's film is
turned round at this door, so that both hands are exact mirrors.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.ball import BALL_RADIUS_M, Ball
from nextpair.domain.bowler import Hand
from nextpair.domain.house import House
from nextpair.domain.lane import CELL_M, CELLS, END_PLANE_M
from nextpair.domain.typical import PAP_OVER_M, PAP_UP_M
from nextpair.physics.constants import CREEP_SPEED_MPS, GRAVITY_MPS2, ROLLING_RESISTANCE
from nextpair.physics.forces import drag_per_m
from nextpair.physics.friction import dry_friction, film_gain_per_um
from nextpair.physics.layout import axes_to_quaternion, core_axes, offset_in_spin_frame_m
from nextpair.physics.rigid_body import to_body
from nextpair.physics.roughness import surface_roughness_um
from nextpair.physics.wear import ball_flare_m_per_rev, ring_film_share

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
Film = NDArray[np.float64]

NODE_M: FloatArray = np.concatenate(([0.0], (np.arange(CELLS - 1) + 0.5) * CELL_M, [END_PLANE_M]))
"""Distances (121,) at which every shot's state is known: foul line, cell centres, end plane."""
NODES = len(NODE_M)
RADIUS = np.float32(BALL_RADIUS_M)
CREEP = np.float32(CREEP_SPEED_MPS.value)
GRAVITY = np.float32(GRAVITY_MPS2)


class Column(IntEnum):
    """Rows of the packed input array (len(Column), n), float32, one column a shot."""

    X = 0
    T = 1
    V_X = 2
    V_Y = 3
    Q_W = 4
    Q_X = 5
    Q_Y = 6
    Q_Z = 7
    J_X = 8
    J_Y = 9
    J_Z = 10
    INVERSE_LOW = 11
    INVERSE_HIGH = 12
    INVERSE_MIDDLE = 13
    FILM_GAIN = 14
    OIL_DECEL = 15
    DRY_DECEL = 16
    RING_SHARE = 17
    DRAG = 18
    ROLL_DECEL = 19
    LANDING_Y = 20
    FLIGHT_T = 21
    OFFSET_LOW = 22
    OFFSET_HIGH = 23
    OFFSET_MIDDLE = 24


class Result(IntEnum):
    """Rows of the packed output array (len(Result), n), float32."""

    X = 0
    T = 1
    V_X = 2
    V_Y = 3
    BREAK_X = 4
    BREAK_Y = 5
    ARROWS_X = 6
    EXIT_X = 7
    GUTTER_Y = 8
    TURNS = 9


class Trace(IntEnum):
    """Rows of a recorded path (len(Trace), 121, n), float32: the state at every node."""

    X = 0
    V_X = 1
    V_Y = 2
    SLIP = 3
    SURFACE_SPEED = 4
    AXIS_LOW = 5
    AXIS_HIGH = 6
    AXIS_MIDDLE = 7


@dataclass(frozen=True, slots=True)
class Lanes:
    """f lanes as shots meet them, in the bowler's frame.

    film_um : (f, 120, 39) films [um], column 0 at the bowler's own edge.
    length_m : (f,) pattern lengths, where exits are read [m].
    oil_friction : (f,) friction coefficient on full oil.
    pull_mps2 : (f, 2, 120, 39) pull of the lane's slopes to the bowler's side and down the lane
        [m/s2]; None where lanes are level.
    """

    film_um: Film
    length_m: FloatArray
    oil_friction: FloatArray
    pull_mps2: FloatArray | None = None

    def __len__(self) -> int:
        return len(self.film_um)


@dataclass(frozen=True, slots=True)
class Bodies:
    """m balls as the kernel needs them, on one kind of lane.

    k2_m2 : (m, 3) squared radii of gyration about low, high and middle axis [m2].
    core : (m, 4) quaternion from body axes to the frame whose z axis is the spin axis.
    film_gain_per_um, dry_friction : (m,) see physics.friction.
    ring_share : (m,) see physics.wear.ring_film_share: 0 for a ball that flares.
    drag_per_m, rolling_resistance : (m,) see physics.forces; 0 switches them off.
    offset_m : (m, 3) centre of mass from the ball's centre, along low, high and middle axis [m].
    """

    k2_m2: FloatArray
    core: FloatArray
    film_gain_per_um: FloatArray
    dry_friction: FloatArray
    ring_share: FloatArray
    drag_per_m: FloatArray
    rolling_resistance: FloatArray
    offset_m: FloatArray

    @classmethod
    def by_friction_alone(
        cls,
        k2_m2: FloatArray,
        core: FloatArray,
        film_gain_per_um: FloatArray,
        dry_friction: FloatArray,
    ) -> Bodies:
        """Balls that nothing but friction acts on, with their mass about their centre."""
        none = np.zeros(len(dry_friction))
        return cls(
            k2_m2, core, film_gain_per_um, dry_friction,
            ring_share=none, drag_per_m=none, rolling_resistance=none,
            offset_m=np.zeros((len(dry_friction), 3)),
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Shots:
    """n shots in the bowler's frame, each on one of the films and with one of the bodies.

    x_m : lay-down, metres to the bowler's side of the centre; launch angle positive to that side.
    loft_m : height from which the ball falls to the lane beyond the foul line.
    dry_factor : multiplies dry friction. film_factor : multiplies film thickness.
    """

    x_m: FloatArray
    launch_angle_rad: FloatArray
    speed_mps: FloatArray
    rev_rate_radps: FloatArray
    axis_rotation_rad: FloatArray
    axis_tilt_rad: FloatArray
    loft_m: FloatArray
    body: IntArray
    film: IntArray
    dry_factor: FloatArray
    film_factor: FloatArray

    def __len__(self) -> int:
        return len(self.x_m)


def bodies_of(
    balls: Sequence[Ball], house: House, pap_m: tuple[float, float] = (PAP_OVER_M, PAP_UP_M)
) -> Bodies:
    """Kernel arrays of balls on the lanes of a house.

    `pap_m` is where the bowler's positive axis point lies, over and up from the grip centre; it
    counts for a ball with static weights.
    """
    spin_axis = (0.0, 0.0, 1.0)
    cores = [axes_to_quaternion(*core_axes(ball.layout, spin_axis)) for ball in balls]
    offsets = [offset_in_spin_frame_m(ball.balance, *pap_m) for ball in balls]
    return Bodies(
        k2_m2=np.array([[k * k for k in ball.radii_of_gyration_m] for ball in balls]),
        core=np.array(cores),
        film_gain_per_um=np.array(
            [film_gain_per_um(surface_roughness_um(ball.surface)) for ball in balls]
        ),
        dry_friction=np.array(
            [dry_friction(ball.cover, house.surface, house.surface_age_years) for ball in balls]
        ),
        ring_share=np.array([ring_film_share(ball_flare_m_per_rev(ball)) for ball in balls]),
        drag_per_m=np.array([drag_per_m(ball.mass_kg, BALL_RADIUS_M) for ball in balls]),
        rolling_resistance=np.full(len(balls), ROLLING_RESISTANCE.value),
        offset_m=np.array([to_body(*core, *d) for core, d in zip(cores, offsets, strict=True)]),
    )


def own_frame(film: Film, hand: Hand) -> Film:
    """A film, or a stack of films (..., 120, 39), as the bowler sees it; and back again."""
    return film if hand is Hand.RIGHT else film[..., ::-1]


def at_nodes(cells: FloatArray) -> NDArray[np.float32]:
    """Values at cell centres (..., 120, 39) at the kernel's nodes (..., 121, 39).

    Source: closed form, linear interpolation between cell centres.
    """
    last = (END_PLANE_M - NODE_M[-2]) / CELL_M
    end = (1 - last) * cells[..., -2:-1, :] + last * cells[..., -1:, :]
    nodes = np.concatenate((cells[..., :1, :], cells[..., :-1, :], end), axis=-2)
    return np.ascontiguousarray(nodes, dtype=np.float32)
