"""Where ball and lane touch: a small round patch, and the width of oil that it wets."""

from __future__ import annotations

import math

from nextpair.physics._jit import scalar, sqrt


def contact_modulus_pa(
    cover_modulus_pa: float,
    cover_poisson_ratio: float,
    lane_modulus_pa: float,
    lane_poisson_ratio: float,
) -> float:
    """Joint modulus [Pa] of cover and lane, two elastic bodies that touch.

    Source: [johnson-1985] chapter 4: 1/E* = (1 - nu_a**2)/E_a + (1 - nu_b**2)/E_b.
    """
    cover_per_pa = (1.0 - cover_poisson_ratio**2) / cover_modulus_pa
    lane_per_pa = (1.0 - lane_poisson_ratio**2) / lane_modulus_pa
    return 1.0 / (cover_per_pa + lane_per_pa)


def contact_radius_m(load_n: float, ball_radius_m: float, modulus_pa: float) -> float:
    """Radius [m] of the round patch on which a ball touches a flat lane.

    Source: [johnson-1985] chapter 4: a**3 = 3 N R / (4 E*).
    """
    return math.cbrt(3.0 * load_n * ball_radius_m / (4.0 * modulus_pa))


def peak_pressure_pa(load_n: float, patch_radius_m: float) -> float:
    """Pressure [Pa] in the middle of that patch.

    Source: [johnson-1985] chapter 4: p0 = 3 N / (2 pi a**2).
    """
    return 3.0 * load_n / (2.0 * math.pi * patch_radius_m**2)


@scalar
def wetted_width_m(patch_radius_m: float, ball_radius_m: float, film_m: float) -> float:
    """Full width [m] of lane that a ball wets: where its gap to the lane is less than the film.

    Source: [model-sheet] section 2.10: w = 2 sqrt(a**2 + 2 R h).
    """
    return 2 * sqrt(patch_radius_m * patch_radius_m + 2 * ball_radius_m * film_m)
