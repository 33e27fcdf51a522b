"""Trade units in SI: used at the edges, so that everything inside is SI.

Sources: inch, pound and mile are exact by definition; the unit of oil is 0.0167 mL on one
square foot [facts, section 4].
"""

from __future__ import annotations

import math

INCH_M = 0.0254
FOOT_M = 0.3048
MPH_MPS = 0.44704
RPM_RADPS = 2.0 * math.pi / 60.0
DEGREE_RAD = math.pi / 180.0
POUND_KG = 0.45359237
OUNCE_KG = POUND_KG / 16.0
MICROINCH_UM = 0.0254
MICROMETRE_M = 1e-6
CENTIPOISE_PAS = 1e-3

OIL_UNIT_ML_PER_FT2 = 0.0167
OIL_UNIT_UM = OIL_UNIT_ML_PER_FT2 * 1e-6 / FOOT_M**2 * 1e6
"""Film thickness of one unit of oil, micrometres (0.1798)."""
