"""Releases as arrays: what a bowler does with a line, and with the scatter about it.

Everything here is in the bowler's own frame; own boards count from the bowler's own side.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nextpair.domain.bowler import Hand, Release, Scatter
from nextpair.domain.event import DressedLane
from nextpair.domain.lane import BOARD_M, CENTRE_BOARD, mirrored_board
from nextpair.kernel.layout import Lanes, Shots
from nextpair.physics.constants import OIL_FRICTION
from nextpair.physics.oil import oil_friction
from nextpair.physics.topography import own_pull, slope_pull_mps2

FloatArray = NDArray[np.float64]

FEET = np.arange(60)
"""Whole feet at which a path is told."""


@dataclass(frozen=True, slots=True)
class LaneKind:
    """What a lane is besides its film, in the bowler's frame.

    friction : factor on the house's dry friction. pull_mps2 : (2, 120, 39) or None, see Lanes.
    """

    length_m: float
    oil_friction: float = OIL_FRICTION.value
    friction: float = 1.0
    pull_mps2: FloatArray | None = None

    def is_like(self, other: LaneKind) -> bool:
        """Whether another lane is the same but for its film."""
        return (self.length_m, self.oil_friction, self.friction) == (
            other.length_m,
            other.oil_friction,
            other.friction,
        ) and np.array_equal(_slopes(self.pull_mps2), _slopes(other.pull_mps2))

    def under(self, film_um: FloatArray) -> Lanes:
        """The lane under one film (120, 39), or under each of several (f, 120, 39), in the
        bowler's frame."""
        films = np.ascontiguousarray(film_um.reshape(-1, *film_um.shape[-2:]))
        count = len(films)
        pull = self.pull_mps2
        return Lanes(
            film_um=films,
            length_m=np.full(count, self.length_m),
            oil_friction=np.full(count, self.oil_friction),
            pull_mps2=None if pull is None else np.broadcast_to(pull, (count, *pull.shape)),
        )


def _slopes(pull_mps2: FloatArray | None) -> FloatArray:
    """Pulls of a lane's slopes, one zero for a level one."""
    return np.zeros(1) if pull_mps2 is None else pull_mps2


def lane_kind(lane: DressedLane, hand: Hand) -> LaneKind:
    """A lane as a bowler of that hand meets it; the right edge lower pulls to the right."""
    trait = lane.house.trait(lane.number)
    return LaneKind(
        length_m=lane.pattern.length_m,
        oil_friction=oil_friction(lane.pattern.viscosity_pas, lane.house.temperature_c),
        friction=lane.house.friction_of(lane.number),
        pull_mps2=own_pull(slope_pull_mps2(trait), hand),
    )


def own_board(board: float, hand: Hand) -> float:
    """A board counted from the right edge, counted from the bowler's own side; and back again."""
    return board if hand is Hand.RIGHT else mirrored_board(board)


def own_x_m(own_boards: ArrayLike) -> FloatArray:
    """Metres toward the bowler's own side of boards counted from that side.

    Source: closed form, boards of one width.
    """
    return np.asarray((CENTRE_BOARD - np.asarray(own_boards, float)) * BOARD_M)


def own_boards_of(x_m: ArrayLike) -> FloatArray:
    """Boards counted from the bowler's own side, of metres toward that side.

    Source: closed form, boards of one width.
    """
    return np.asarray(CENTRE_BOARD - np.asarray(x_m, float) / BOARD_M)


def shots_of(
    release: Release,
    kind: LaneKind,
    *,
    own_laydown: ArrayLike,
    launch_angle_rad: ArrayLike,
    speed_change_mps: ArrayLike = 0.0,
    rev_change_radps: ArrayLike = 0.0,
    rotation_change_rad: ArrayLike = 0.0,
    body: ArrayLike = 0,
    film: ArrayLike = 0,
    dry_factor: ArrayLike = 1.0,
    film_factor: ArrayLike = 1.0,
) -> Shots:
    """Shots of one bowler; all arguments are broadcast against each other and made flat."""
    columns = np.broadcast_arrays(
        own_x_m(own_laydown),
        launch_angle_rad,
        release.speed_mps + np.asarray(speed_change_mps, float),
        np.maximum(release.rev_rate_radps + np.asarray(rev_change_radps, float), 0.0),
        release.axis_rotation_rad + np.asarray(rotation_change_rad, float),
        release.axis_tilt_rad,
        release.loft_m,
        body,
        film,
        kind.friction * np.asarray(dry_factor, float),
        film_factor,
    )
    x, angle, speed, revs, rotation, tilt, loft, bodies, films, dry, oil = (
        np.ascontiguousarray(column).reshape(-1) for column in columns
    )
    return Shots(
        x_m=x.astype(float),
        launch_angle_rad=angle.astype(float),
        speed_mps=speed,
        rev_rate_radps=revs,
        axis_rotation_rad=rotation,
        axis_tilt_rad=tilt.astype(float),
        loft_m=loft.astype(float),
        body=bodies.astype(np.int64),
        film=films.astype(np.int64),
        dry_factor=dry,
        film_factor=oil.astype(float),
    )


@dataclass(frozen=True, slots=True)
class Form:
    """d ways in which a bowler's release on the day may differ from the file; arrays (d,)."""

    speed_mps: FloatArray
    rev_rate_radps: FloatArray
    axis_rotation_rad: FloatArray

    def __len__(self) -> int:
        return len(self.speed_mps)


def usual_form(days: int) -> Form:
    """As the file says, on so many days."""
    return Form(np.zeros(days), np.zeros(days), np.zeros(days))


@dataclass(frozen=True, slots=True)
class Errors:
    """n release errors: what a bowler adds to what was meant, shot by shot; arrays (n,)."""

    laydown_boards: FloatArray
    launch_angle_rad: FloatArray
    speed_mps: FloatArray
    rev_rate_radps: FloatArray
    axis_rotation_rad: FloatArray

    def __len__(self) -> int:
        return len(self.speed_mps)


NO_ERRORS = Errors(*(np.zeros(1) for _ in range(5)))
"""One shot as it is meant."""


def release_errors(scatter: Scatter, shots: int, seed: int) -> Errors:
    """Low-discrepancy normal errors of n shots, the same for the same seed."""
    # Loading it takes as long as all the rest of one shot, which has no use for it.
    from scipy.stats import norm, qmc

    sampler = qmc.Halton(d=5, scramble=True, rng=np.random.default_rng(seed))
    normal = norm.ppf(sampler.random(shots))
    return Errors(
        laydown_boards=scatter.laydown_boards * normal[:, 0],
        launch_angle_rad=scatter.launch_angle_rad * normal[:, 1],
        speed_mps=scatter.speed_mps * normal[:, 2],
        rev_rate_radps=scatter.rev_rate_radps * normal[:, 3],
        axis_rotation_rad=scatter.axis_rotation_rad * normal[:, 4],
    )


def erring_shots(
    release: Release,
    kind: LaneKind,
    errors: Errors,
    *,
    own_laydown: ArrayLike,
    launch_angle_rad: ArrayLike,
    speed_change_mps: ArrayLike = 0.0,
    rev_change_radps: ArrayLike = 0.0,
    rotation_change_rad: ArrayLike = 0.0,
    **others: ArrayLike,
) -> Shots:
    """Shots of one bowler as they come out of the hand: what is meant, with an error each."""
    return shots_of(
        release,
        kind,
        own_laydown=np.asarray(own_laydown) + errors.laydown_boards,
        launch_angle_rad=np.asarray(launch_angle_rad) + errors.launch_angle_rad,
        speed_change_mps=np.asarray(speed_change_mps) + errors.speed_mps,
        rev_change_radps=np.asarray(rev_change_radps) + errors.rev_rate_radps,
        rotation_change_rad=np.asarray(rotation_change_rad) + errors.axis_rotation_rad,
        **others,
    )
