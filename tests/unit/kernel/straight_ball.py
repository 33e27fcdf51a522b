"""A ball without spin and without a core: it rolls straight, so that geometry says where."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.lane import BOARDS, CELLS
from nextpair.kernel.layout import Bodies, Lanes, Shots
from nextpair.physics.constants import OIL_FRICTION

DRY_LANE = np.zeros((1, CELLS, BOARDS))


def lanes_under(
    film_um: np.ndarray, length_m: ArrayLike, sideways_pull_mps2: ArrayLike = 0.0
) -> Lanes:
    """Lanes of ordinary oil under films (f, 120, 39), each leaning evenly to the own side."""
    count = len(film_um)
    pull = np.zeros((count, 2, CELLS, BOARDS))
    pull[:, 0] = np.broadcast_to(sideways_pull_mps2, count)[:, None, None]
    return Lanes(
        film_um=film_um,
        length_m=np.broadcast_to(np.asarray(length_m, float), count),
        oil_friction=np.full(count, OIL_FRICTION.value),
        pull_mps2=pull if np.any(sideways_pull_mps2) else None,
    )


def straight_ball(dry_friction: float = 0.2) -> Bodies:
    """A uniform sphere."""
    return Bodies.by_friction_alone(
        k2_m2=np.full((1, 3), 0.4 * BALL_RADIUS_M**2),
        core=np.array([[1.0, 0.0, 0.0, 0.0]]),
        film_gain_per_um=np.array([1.0]),
        dry_friction=np.array([dry_friction]),
    )


def straight_shots(
    x_m: ArrayLike, launch_angle_rad: ArrayLike = 0.0, **others: ArrayLike
) -> Shots:
    """Shots without revs at 8 m/s; every argument is one number or one a shot."""
    usual: dict[str, ArrayLike] = {
        "speed_mps": 8.0,
        "rev_rate_radps": 0.0,
        "axis_rotation_rad": 0.0,
        "axis_tilt_rad": 0.0,
        "loft_m": 0.0,
        "body": 0,
        "film": 0,
        "dry_factor": 1.0,
        "film_factor": 1.0,
    }
    named = {"x_m": x_m, "launch_angle_rad": launch_angle_rad, **usual, **others}
    spread = np.broadcast_arrays(*(np.atleast_1d(value) for value in named.values()))
    whole = ("body", "film")
    return Shots(
        **{
            name: np.array(column, np.int64 if name in whole else np.float64)
            for name, column in zip(named, spread, strict=True)
        }
    )
