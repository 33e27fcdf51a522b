"""Physical constants, each with value, unit, spread and source. No other module repeats one."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SourcedConstant:
    """A number with its unit, one standard deviation of doubt, and who says so."""

    value: float
    unit: str
    spread: float
    source: str


GRAVITY_MPS2 = 9.80665
"""Standard gravity. Source: [bipm-si] standard value."""

OIL_FRICTION = SourcedConstant(0.03, "1", 0.008, "[model-sheet] section 3.1")
"""Friction coefficient on full oil."""

DRY_FRICTION = {
    "plastic": SourcedConstant(0.12, "1", 0.02, "[model-sheet] section 3.1, assumption"),
    "urethane": SourcedConstant(0.16, "1", 0.02, "[model-sheet] section 3.1, assumption"),
    "pearl": SourcedConstant(0.19, "1", 0.02, "[model-sheet] section 3.1, assumption"),
    "hybrid": SourcedConstant(0.205, "1", 0.02, "[model-sheet] section 3.1, assumption"),
    "solid": SourcedConstant(0.22, "1", 0.02, "[model-sheet] section 3.1, assumption"),
}
"""Friction coefficient on a dry lane by cover."""

CRITICAL_FILM_RATIO = SourcedConstant(0.7, "1", 0.2, "[bongaerts-2007] transition, Lambda 0.7")
"""Film over combined roughness at which friction has fallen to 1/e of its dry excess."""

LANE_ROUGHNESS_UM = SourcedConstant(0.3, "um", 0.15, "[model-sheet] section 3.1, assumption")
"""Roughness of the lane bed."""

RA_TO_RMS = SourcedConstant(1.25, "1", 0.05, "[model-sheet] section 3.1: rms of a Gaussian surface")
"""Root-mean-square roughness over mean roughness Ra."""

CREEP_SPEED_MPS = SourcedConstant(0.05, "m/s", 0.03, "[model-sheet] section 2.6, assumption")
"""Slip at which friction has reached 0.7 of its sliding value: sliding goes over into rolling."""

LANE_FRICTION_FACTOR = {
    "wood": SourcedConstant(1.0, "1", 0.05, "[model-sheet] section 3.5, assumption"),
    "overlay": SourcedConstant(0.95, "1", 0.05, "[model-sheet] section 3.5, assumption"),
    "synthetic": SourcedConstant(0.85, "1", 0.05, "[model-sheet] section 3.5, assumption"),
}
"""Factor on dry friction by lane surface when new."""
