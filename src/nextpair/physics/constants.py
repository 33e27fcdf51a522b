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

OIL_FRICTION = SourcedConstant(
    0.021, "1", 0.006, "[de-vicente-2005] soft contact under 35 cP; [robot-targeting] prefers it"
)
"""Friction coefficient on full oil of the mean commercial viscosity, at 21 degrees C."""

SMALLEST_OIL_FRICTION, LARGEST_OIL_FRICTION = 0.01, 0.06
"""Range of friction on full oil. Source: [model-sheet] section 3.1."""

MEAN_OIL_VISCOSITY_PAS = SourcedConstant(
    0.03468, "Pa s", 0.015, "[uc-davis-2012] mean of commercial lane oils"
)
"""Viscosity at which friction on full oil has its usual value."""

VISCOSITY_TEMPERATURE_C = 21.0
"""Where viscosity on paper is told. Source: [viscosity-rule-2007] 70 degrees F."""

VISCOSITY_LOSS_PER_C = SourcedConstant(
    0.05, "1/degree C", 0.01, "[model-sheet] section 3.5: 0.04 to 0.07, assumption"
)
"""Share of its viscosity that an oil loses for each degree it is warmer."""

OIL_FRICTION_EXPONENT = SourcedConstant(0.65, "1", 0.05, "[de-vicente-2005] first term")
"""Power of viscosity that friction on full oil follows."""

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

RA_TO_RMS = SourcedConstant(
    1.25, "1", 0.05, "[model-sheet] section 3.1: rms of a Gaussian surface"
)
"""Root-mean-square roughness over mean roughness Ra."""

WORKED_SHARE = {
    "hand": SourcedConstant(
        0.25,
        "1",
        0.1,
        "[hand-pad-test-2019] 3000 to 1651 by a 500 pad: fitted to this one reading",
    ),
    "spinner": SourcedConstant(0.9, "1", 0.05, "[model-sheet] section 3.4, assumption"),
}
"""How far one abrasive takes a surface toward its own roughness, by tool."""

PLAYED_ROUGHNESS_UM = SourcedConstant(
    0.33, "um", 0.06, "[played-surface-2020] 1000 grit wears to 4000 or 5000: 13 to 11 microinch"
)
"""Where play takes a sanded cover in the end; [model-sheet] section 3.4 supposed 15 microinch."""

SMOOTHING_GAMES = SourcedConstant(
    6.0,
    "games",
    2.0,
    "[model-sheet] section 3.4: 60 to 150 shots; [facts] section 8: 5 to 10 games",
)
"""Games over which most of that happens."""

CREEP_SPEED_MPS = SourcedConstant(0.05, "m/s", 0.03, "[model-sheet] section 2.6, assumption")
"""Slip at which friction has reached 0.7 of its sliding value: sliding goes over into rolling."""

DRAG_COEFFICIENT = SourcedConstant(0.45, "1", 0.1, "[model-sheet] section 2.5: a free sphere")
"""Air drag of a ball; how the lane and the spin change it was not measured."""

AIR_DENSITY_KGPM3 = SourcedConstant(1.2, "kg/m3", 0.03, "[model-sheet] check C17")
"""Density of the air in a house."""

ROLLING_RESISTANCE = SourcedConstant(0.003, "1", 0.002, "[model-sheet] section 2.5, assumption")
"""Moment against rolling over weight times radius; tested by the speed lost in the pit's roll."""

LANE_FRICTION_FACTOR = {
    "wood": SourcedConstant(1.0, "1", 0.05, "[model-sheet] section 3.5, assumption"),
    "overlay": SourcedConstant(0.95, "1", 0.05, "[model-sheet] section 3.5, assumption"),
    "synthetic": SourcedConstant(0.85, "1", 0.05, "[model-sheet] section 3.5, assumption"),
}
"""Factor on dry friction by lane surface when new."""

COVER_MODULUS_PA = SourcedConstant(1e9, "Pa", 5e8, "[model-sheet] section 2.10, assumption")
"""Young's modulus of a cover of 72 Shore D and more."""

COVER_POISSON = SourcedConstant(0.4, "1", 0.03, "[model-sheet] check C23, assumption")
"""Poisson's ratio of a cover."""

LANE_MODULUS_PA = SourcedConstant(8e9, "Pa", 3e9, "[model-sheet] section 2.10, assumption")
"""Young's modulus of the lane's surface."""

LANE_POISSON = SourcedConstant(0.3, "1", 0.05, "[model-sheet] check C23, assumption")
"""Poisson's ratio of the lane's surface."""

FILM_SPLIT_EXPONENT = SourcedConstant(0.65, "1", 0.05, "[coyle-1986] confirmed on rolls")
"""Power of the ratio of surface speeds that the ratio of the two films follows at a split."""

FILM_REMOVAL = SourcedConstant(0.6, "1", 0.1, "[model-sheet] section 4.1: 0.3 to 0.7, assumption")
"""Share of a full film split that is reached; tested by film readings before and after play."""

RETAINED_FILM_UM = SourcedConstant(0.2, "um", 0.1, "[model-sheet] section 4.1, assumption")
"""Film in the valleys of the lane's roughness, which takes no part in a split."""

COVER_ABSORPTION_S = {
    "plastic": SourcedConstant(1e6, "s", 5e5, "[model-sheet] section 4.1, assumption: days"),
    "urethane": SourcedConstant(3600.0, "s", 1800.0, "[model-sheet] section 4.1, assumption"),
    "pearl": SourcedConstant(600.0, "s", 300.0, "[model-sheet] section 4.1, assumption"),
    "hybrid": SourcedConstant(500.0, "s", 250.0, "[model-sheet] section 4.1, assumption"),
    "solid": SourcedConstant(400.0, "s", 200.0, "[model-sheet] section 4.1, assumption"),
}
"""Time in which a cover soaks in all but 1/e of the oil on it. Resin takes minutes: the rules ask
for 135 s and more for a drop; tested by weighing a towel after several waits."""

WIPED_SHARE = SourcedConstant(0.9, "1", 0.08, "common practice: a towel every shot; assumption")
"""Share of the oil on a ball that the towel takes; tested by a second towel."""

REST_S = SourcedConstant(60.0, "s", 30.0, "[model-sheet] section 4.1: 30 to 60 s and wiping")
"""Time from a shot to the towel: the ball's way back and the bowler's turn."""
