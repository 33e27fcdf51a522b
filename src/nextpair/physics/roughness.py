"""Roughness of a cover: what an abrasive leaves, how far a tool gets toward it, and play.

On a spinner a cover goes through every step down to the abrasive named. A pad by hand only
scratches what is there: it gets a quarter of the way. Play then takes the edges off.
"""

from __future__ import annotations

import math
from itertools import pairwise

from nextpair.domain.ball import Surface
from nextpair.domain.units import MICROINCH_UM
from nextpair.physics.constants import PLAYED_ROUGHNESS_UM, SMOOTHING_GAMES, WORKED_SHARE

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


def fresh_roughness_um(grit: int | None) -> float:
    """Mean roughness Ra [um] that an abrasive, or polish (None), leaves after every step before
    it; log-log between the tabled grits.

    Source: [model-sheet] section 3.4, assumption; tested by a roughness gauge.
    """
    if grit is None:
        return POLISHED_ROUGHNESS_UIN * MICROINCH_UM
    for (low, rough), (high, smooth) in pairwise(ROUGHNESS_BY_GRIT_UIN):
        if grit <= high:
            share = math.log(grit / low) / math.log(high / low)
            return rough * math.pow(smooth / rough, share) * MICROINCH_UM
    return ROUGHNESS_BY_GRIT_UIN[-1][1] * MICROINCH_UM


def worked_roughness_um(before_um: float, abrasive_um: float, worked_share: float) -> float:
    """Mean roughness Ra [um] after work with one abrasive on a surface that was rougher or
    smoother: part of the way from one to the other.

    Source: [model-sheet] section 3.4: Ra + eta (Ra_pad - Ra).
    """
    return before_um + worked_share * (abrasive_um - before_um)


def surface_roughness_um(surface: Surface) -> float:
    """Mean roughness Ra [um] of a cover after some games on its surface.

    A sanded cover smooths toward a played one; a polished one dulls half-way toward it.

    Source: [model-sheet] section 3.4: Ra_inf + (Ra - Ra_inf) exp(-n/N), assumption.
    """
    made_um = _made_roughness_um(surface)
    if surface.games == 0:
        return made_um
    played_um = min(PLAYED_ROUGHNESS_UM.value, made_um)
    if surface.grit is None and made_um < PLAYED_ROUGHNESS_UM.value:
        played_um = 0.5 * (made_um + PLAYED_ROUGHNESS_UM.value)
    return played_um + (made_um - played_um) * math.exp(-surface.games / SMOOTHING_GAMES.value)


def _made_roughness_um(surface: Surface) -> float:
    """Mean roughness Ra [um] when the work was just done."""
    abrasive_um = fresh_roughness_um(surface.grit)
    if surface.under is None:
        return abrasive_um
    return worked_roughness_um(
        surface_roughness_um(surface.under), abrasive_um, WORKED_SHARE[surface.by.value].value
    )
