"""Friction between cover and lane: from film thickness over combined roughness.

The law is a mixed-lubrication law: full oil friction where the film is thick against the
roughness, dry friction where there is none, and a smooth passage between. It saturates with slip,
so that sliding goes over into rolling without a switch.
"""

from __future__ import annotations

import math
from itertools import pairwise

from nextpair.domain.ball import Cover, Surface
from nextpair.domain.house import LaneSurface
from nextpair.domain.units import MICROINCH_UM
from nextpair.physics._jit import exp_negative, inverse_sqrt, scalar, sqrt
from nextpair.physics.constants import (
    CRITICAL_FILM_RATIO,
    DRY_FRICTION,
    LANE_FRICTION_FACTOR,
    LANE_ROUGHNESS_UM,
    RA_TO_RMS,
)

ROUGHNESS_BY_GRIT_UIN = (
    (360.0, 60.0),
    (500.0, 48.0),
    (1000.0, 33.0),
    (2000.0, 22.0),
    (3000.0, 17.0),
    (4000.0, 13.0),
    (5000.0, 11.0),
)
"""Mean roughness of a fresh surface. Source: [model-sheet] section 3.4, assumption."""
POLISHED_ROUGHNESS_UIN = 7.0
SMOOTHED_ROUGHNESS_UIN = 15.0
"""Where play takes a sanded cover in the end. Source: [model-sheet] section 3.4, assumption."""
SMOOTHING_GAMES = 6.0
"""Games over which most of that happens. Source: [facts] section 8, from memory."""
SURFACE_AGE_YEARS = 20.0
"""Years over which a hard new synthetic lane becomes as grippy as wood (assumption)."""


@scalar
def friction_coefficient(
    film_um: float, film_gain_per_um: float, oil_friction: float, dry_excess: float
) -> float:
    """Friction coefficient [1] while sliding.

    Parameters
    ----------
    film_um : oil film on the lane [um], 0 or more.
    film_gain_per_um : 1 / (critical film ratio x combined roughness) [1/um].
    oil_friction : coefficient on full oil [1].
    dry_excess : coefficient on a dry lane less the one on full oil [1].

    Source: [model-sheet] section 3.1: mu_f + (mu_d - mu_f) exp(-(Lambda/Lambda_c)**1.5).
    """
    ratio = film_um * film_gain_per_um
    return oil_friction + dry_excess * exp_negative(ratio * sqrt(ratio))


@scalar
def friction_share(slip_x_mps: float, slip_y_mps: float, creep_mps: float) -> float:
    """Factor [s/m] that turns a slip velocity into the direction and share of full friction.

    Tends to 1/|slip| in sliding and to 1/creep near rolling.

    Source: [model-sheet] section 2.6: F = -mu N u / sqrt(u**2 + eps**2).
    """
    return inverse_sqrt(slip_x_mps * slip_x_mps + slip_y_mps * slip_y_mps + creep_mps * creep_mps)


def fresh_roughness_um(grit: int | None) -> float:
    """Mean roughness Ra [um] of a fresh surface; log-log between the tabled grits.

    Source: [model-sheet] section 3.4, assumption.
    """
    if grit is None:
        return POLISHED_ROUGHNESS_UIN * MICROINCH_UM
    for (low, rough), (high, smooth) in pairwise(ROUGHNESS_BY_GRIT_UIN):
        if grit <= high:
            share = math.log(grit / low) / math.log(high / low)
            return rough * math.pow(smooth / rough, share) * MICROINCH_UM
    return ROUGHNESS_BY_GRIT_UIN[-1][1] * MICROINCH_UM


def surface_roughness_um(surface: Surface) -> float:
    """Mean roughness Ra [um] of a cover after some games on its surface.

    A sanded cover smooths toward a played one; a polished one dulls toward it.

    Source: [model-sheet] section 3.4: Ra_inf + (Ra - Ra_inf) exp(-n/N), assumption.
    """
    fresh_um = fresh_roughness_um(surface.grit)
    if surface.games == 0:
        return fresh_um
    played_um = min(SMOOTHED_ROUGHNESS_UIN * MICROINCH_UM, fresh_um)
    if surface.grit is None:
        played_um = 0.5 * (fresh_um + SMOOTHED_ROUGHNESS_UIN * MICROINCH_UM)
    return played_um + (fresh_um - played_um) * math.exp(-surface.games / SMOOTHING_GAMES)


def film_gain_per_um(roughness_um: float) -> float:
    """1 / (critical film ratio x combined rms roughness) [1/um] of cover and lane.

    Source: [model-sheet] section 3.1: sigma_q = sqrt((1.25 Ra)**2 + sigma_lane**2).
    """
    combined_um = math.hypot(RA_TO_RMS.value * roughness_um, LANE_ROUGHNESS_UM.value)
    return 1.0 / (CRITICAL_FILM_RATIO.value * combined_um)


def dry_friction(cover: Cover, lane: LaneSurface, age_years: float) -> float:
    """Friction coefficient [1] of a cover on a dry lane of that kind and age.

    A synthetic lane starts hard and gains grip with age; wood and overlay do not change.

    Source: [model-sheet] sections 3.1 and 3.5, assumption; tested by shots on a lane of known age.
    """
    factor = LANE_FRICTION_FACTOR[lane.value].value
    if lane is LaneSurface.SYNTHETIC:
        factor += (1.0 - factor) * min(age_years / SURFACE_AGE_YEARS, 1.0)
    return DRY_FRICTION[cover.value].value * factor
