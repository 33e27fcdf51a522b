"""What is not known of a lane before the first shot, as a few equally likely draws.

Every comparison uses the same draws, so that choices differ by what is chosen and not by luck.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.stats import norm, qmc

FloatArray = NDArray[np.float64]

DRY_FRICTION_SD = 0.07
"""Of the logarithm of dry friction: cover, lane and air together (assumption, tested by shots).
Damp air alone is worth about 5 %: no measurement of it is known ([model-sheet] section 3.5)."""
FILM_SD = 0.07
"""Of the logarithm of the film as laid against the pattern on paper (assumption)."""
WEAR_SD = 0.25
"""Of the logarithm of wear: how much oil a shot takes, and what towels leave (assumption). Who the
others are, what they throw and where they play is drawn in planning.crowd."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """d equally likely lanes: factors (d,) on dry friction, film and wear; the time in the game, 0
    at its first shot and 1 at its last; and the place among the traffics, 0 to 1."""

    dry_factor: FloatArray
    film_factor: FloatArray
    wear_factor: FloatArray
    time: FloatArray
    traffic: FloatArray

    def __len__(self) -> int:
        return len(self.time)


def lane_doubt(draws: int, seed: int) -> Doubt:
    """Low-discrepancy draws of the doubt, the same for the same seed."""
    rng = np.random.default_rng(seed)
    sampler = qmc.Halton(d=4, scramble=True, rng=rng)
    points = sampler.random(draws)
    normal = norm.ppf(points[:, :3])
    return Doubt(
        dry_factor=np.exp(DRY_FRICTION_SD * normal[:, 0]),
        film_factor=np.exp(FILM_SD * normal[:, 1]),
        wear_factor=np.exp(WEAR_SD * normal[:, 2]),
        time=points[:, 3],
        traffic=rng.permutation((np.arange(draws) + 0.5) / draws),
    )


def outer_doubt() -> Doubt:
    """Two lanes about one deviation of everything from the middle: one on which balls hook less
    than planned, one on which they hook more."""
    side = np.array([-1.0, 1.0])
    return Doubt(
        dry_factor=np.exp(DRY_FRICTION_SD * side),
        film_factor=np.exp(-FILM_SD * side),
        wear_factor=np.exp(WEAR_SD * side),
        time=np.array([0.25, 0.75]),
        traffic=np.array([0.25, 0.75]),
    )
