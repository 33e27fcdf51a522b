"""Friction between cover and lane: from film thickness over combined roughness.

The law is a mixed-lubrication law: full oil friction where the film is thick against the
roughness, dry friction where there is none, and a smooth passage between. It saturates with slip,
so that sliding goes over into rolling without a switch.
"""

from __future__ import annotations

import math

from nextpair.domain.ball import Cover
from nextpair.domain.house import LaneSurface
from nextpair.physics._jit import exp_negative, inverse_sqrt, scalar, sqrt
from nextpair.physics.constants import (
    CRITICAL_FILM_RATIO,
    DRY_FRICTION,
    LANE_FRICTION_FACTOR,
    LANE_ROUGHNESS_UM,
    RA_TO_RMS,
)

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


def film_gain_per_um(roughness_um: float) -> float:
    """1 / (critical film ratio x combined rms roughness) [1/um] of cover and lane.

    Source: [model-sheet] section 3.1: sigma_q = sqrt((1.25 Ra)**2 + sigma_lane**2).
    """
    combined_um = math.hypot(RA_TO_RMS.value * roughness_um, LANE_ROUGHNESS_UM.value)
    return 1.0 / (CRITICAL_FILM_RATIO.value * combined_um)


def dry_friction(cover: Cover, lane: LaneSurface, age_years: float) -> float:
    """Friction coefficient [1] of a cover on a dry lane of that kind and age.

    A synthetic lane starts hard and gains grip with age; wood and overlay do not change. The
    temperature at the lanes acts through the oil's viscosity only, and damp air not at all: no
    measurement of either on a dry lane is known, so both belong to the doubt about dry friction.

    Source: [model-sheet] sections 3.1 and 3.5, assumption; that a hard synthetic lane grips less
    than wood is a trade statement of [lane-surfaces-2019]; tested by shots on a lane of known age.
    """
    factor = LANE_FRICTION_FACTOR[lane.value].value
    if lane is LaneSurface.SYNTHETIC:
        factor += (1.0 - factor) * min(age_years / SURFACE_AGE_YEARS, 1.0)
    return DRY_FRICTION[cover.value].value * factor
