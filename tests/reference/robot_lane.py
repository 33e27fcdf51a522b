"""One lane and one ball that could have taken the robot's shots, as a few numbers.

Nothing here knows the model: it asks `nextpair.roll` where shots end, as any program would.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

import nextpair as npair
from nextpair.domain.ball import Ball, Cover, Layout, Surface
from nextpair.domain.event import DressedLane
from nextpair.domain.house import House, LaneSurface, LaneTrait
from nextpair.domain.lane import BOARDS, CENTRE_BOARD, mirrored_board
from nextpair.domain.pattern import MeasuredFilm, Pattern
from nextpair.domain.units import CENTIPOISE_PAS, FOOT_M, INCH_M, POUND_KG
from nextpair.kernel.roll import Paths
from reference.record import load_entry

FloatArray = NDArray[np.float64]

AUTHORITY = "robot_shots"
SLOWEST_MPH = 18.0
"""Speed of the shots that are taken at their full weight."""
CONFOUNDED_BOARDS_PER_MPH = 1.0
"""Doubt about the entry board of a faster shot: speed and wear of the lane rose together."""
AXIS_TILT_DEG = 12.0
CROWN_EDGE_BOARDS = 1.5
"""Boards over which the film rises by a factor e on the outside of the crown."""
END_FT = 5.0
END_SHARE = 0.4
"""Share of its film that the pattern still has this far before its end."""

BALL = Ball(
    name="Robot's ball",
    mass_kg=15 * POUND_KG,
    rg_m=2.50 * INCH_M,
    differential_m=0.0,
    intermediate_m=0.0,
    cover=Cover.SOLID,
    surface=Surface(2000),
    layout=Layout(4 * INCH_M, 1.0, 0.7),
)
"""The ball is not told; a core without differential leaves no ripple of its turns in the angle."""


@dataclass(frozen=True, slots=True)
class Number:
    """One number: what it is, the range it is held to, and its value where it is not fitted."""

    name: str
    words: str
    unit: str
    low: float
    high: float
    held: float
    why: str


FAMILY = (
    Number("length_ft", "length of the pattern", "ft", 32, 56, 40, "lanes are oiled so far"),
    Number("outside_um", "film outside, in front", "µm", 0, 5, 0.5, "up to 28 units"),
    Number("edge_board", "edge of the crown", "board", 3, 16, 10, "where the crown falls off"),
    Number("viscosity_cp", "viscosity of the oil", "cP", 12, 81, 34.68, "the rule for lane oil"),
    Number("rev_rate_rpm", "rev rate", "rpm", 250, 600, 400, "strong releases"),
    Number("wear_per_mph", "film gone by the faster shots", "1/mph", -0.2, 0.9, 0.3, "any"),
    Number("dry_factor", "dry friction, times the table's", "", 0.5, 1.5, 1, "0.11 to 0.33"),
    Number("inside_um", "film inside, in front", "µm", 1, 30, 6, "up to 167 units"),
    Number("axis_rotation_deg", "axis rotation", "deg", 20, 90, 45, "any hook"),
)
NAMES = tuple(number.name for number in FAMILY)
FITTED = NAMES[:6]
"""The others are held: the shots hardly tell dry friction beside the length, axis rotation beside
the rev rate, or how thick a film is that is full oil either way."""
LOW = np.array([number.low for number in FAMILY], float)
RANGE = np.array([number.high for number in FAMILY]) - LOW
HELD = np.array([number.held for number in FAMILY], float)


@dataclass(frozen=True, slots=True)
class RobotShots:
    """n shots as published: settings, where the ball entered and at what angle; arrays (n,)."""

    laydown_board: FloatArray
    trajectory_deg: FloatArray
    speed_mph: FloatArray
    entry_board: FloatArray
    entry_angle_deg: FloatArray

    def __len__(self) -> int:
        return len(self.speed_mph)

    def __getitem__(self, chosen: NDArray[np.bool_]) -> RobotShots:
        return RobotShots(*(getattr(self, name)[chosen] for name in self.__slots__))

    @property
    def settings(self) -> list[tuple[float, float, float]]:
        """Lay-down, trajectory and speed of each shot."""
        columns = (self.laydown_board, self.trajectory_deg, self.speed_mph)
        return list(zip(*(column.tolist() for column in columns), strict=True))

    @property
    def measured(self) -> FloatArray:
        """Entry board and angle (n, 2)."""
        return np.stack((self.entry_board, self.entry_angle_deg), axis=1)

    @property
    def sigma(self) -> FloatArray:
        """One standard deviation of entry board and angle (n, 2): the repeats', and for the
        board of a faster shot what wear may have done to it."""
        repeats = load_entry(AUTHORITY, "repeats")
        confounded = CONFOUNDED_BOARDS_PER_MPH * (self.speed_mph - SLOWEST_MPH)
        boards = np.hypot(repeats["entry_boards"], confounded)
        return np.stack((boards, np.full(len(self), repeats["entry_deg"])), axis=1)


def published_shots() -> RobotShots:
    """The nine shots."""
    entry = load_entry(AUTHORITY, "shots")
    return RobotShots(*(np.array(entry[name], float) for name in RobotShots.__slots__))


def robot_lane(values: dict[str, float], speed_mph: float) -> DressedLane:
    """The lane as a shot of that speed met it.

    Across, the film rises from outside to inside on a smooth step about the edge of the crown,
    alike on both sides. Down the lane it falls in a straight line to END_SHARE of itself, and
    over the last END_FT to nothing.
    """
    nearest = np.minimum(np.arange(1, BOARDS + 1), mirrored_board(np.arange(1, BOARDS + 1)))
    crown = 1.0 / (1.0 + np.exp((values["edge_board"] - nearest) / CROWN_EDGE_BOARDS))
    across_um = values["outside_um"] + (values["inside_um"] - values["outside_um"]) * crown
    left_um = across_um * (1.0 - values["wear_per_mph"] * (speed_mph - SLOWEST_MPH))
    length_ft = values["length_ft"]
    film = MeasuredFilm(
        distance_m=(0.0, (length_ft - END_FT) * FOOT_M, length_ft * FOOT_M),
        thickness_um=tuple(tuple((share * left_um).tolist()) for share in (1.0, END_SHARE, 0.0)),
    )
    viscosity_pas = values["viscosity_cp"] * CENTIPOISE_PAS
    pattern = Pattern("Robot's", length_ft * FOOT_M, viscosity_pas, film=film)
    traits = (LaneTrait(1, friction=values["dry_factor"]),)
    return DressedLane(1, House("Robot's", 1, LaneSurface.WOOD, 0.0, traits=traits), pattern)


def rolled(values: FloatArray, shots: RobotShots, ball: Ball = BALL) -> Paths:
    """The paths of n shots for p sets of numbers (p, 9), set by set, in one roll of p x n."""
    sets, n = len(values), len(shots)
    lanes: list[DressedLane] = []
    for numbers in values.tolist():
        named = dict(zip(NAMES, numbers, strict=True))
        worn = {speed: robot_lane(named, speed) for speed in set(shots.speed_mph.tolist())}
        lanes += [worn[speed] for speed in shots.speed_mph.tolist()]
    releases = npair.Releases(
        hand="right",
        laydown_board=np.tile(shots.laydown_board, sets),
        launch_angle_deg=np.tile(-shots.trajectory_deg, sets),
        speed_mph=np.tile(shots.speed_mph, sets),
        rev_rate_rpm=np.repeat(values[:, NAMES.index("rev_rate_rpm")], n),
        axis_rotation_deg=np.repeat(values[:, NAMES.index("axis_rotation_deg")], n),
        axis_tilt_deg=AXIS_TILT_DEG,
    )
    return npair.roll(lanes, ball, releases)


def entries(values: FloatArray, shots: RobotShots, ball: Ball = BALL) -> FloatArray:
    """Entry board and angle [deg] (p, n, 2) of n shots for p sets of numbers (p, 9).

    The board is the ball centre's at its first contact with the head pin, or level with the head
    pin where it misses, on a lane without gutters: so it stays smooth in the numbers.
    """
    impact = rolled(values, shots, ball).lane_impact
    ends = np.stack((CENTRE_BOARD - impact.offset_boards, impact.entry_angle_deg), axis=1)
    return ends.reshape(len(values), len(shots), 2)
