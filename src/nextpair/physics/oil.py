"""Lane oil: how viscous it is at the lane's temperature, and the friction it gives by itself.

Friction on full oil is the drag of shearing it, so it rises with viscosity: a heavier or a colder
oil holds the ball a little more. On a lane without oil none of this matters, and the temperature
acts on the ball through viscosity only.
"""

from __future__ import annotations

import math

from nextpair.physics.constants import (
    LARGEST_OIL_FRICTION,
    MEAN_OIL_VISCOSITY_PAS,
    OIL_FRICTION,
    OIL_FRICTION_EXPONENT,
    SMALLEST_OIL_FRICTION,
    VISCOSITY_LOSS_PER_C,
    VISCOSITY_TEMPERATURE_C,
)


def oil_viscosity_pas(viscosity_at_21_c_pas: float, temperature_c: float) -> float:
    """Dynamic viscosity [Pa s] at a temperature [degrees C] of an oil known at 21 degrees.

    Good for rooms, about 5 to 40 degrees; 2 % a degree off for an unusual oil.

    Source: [model-sheet] section 3.5: eta_21 exp(-0.05 (T - 21)), assumption; tested against the
    viscosity-temperature line of [astm-d341].
    """
    warmer_c = temperature_c - VISCOSITY_TEMPERATURE_C
    return viscosity_at_21_c_pas * math.exp(-VISCOSITY_LOSS_PER_C.value * warmer_c)


def oil_friction(viscosity_at_21_c_pas: float, temperature_c: float) -> float:
    """Friction coefficient [1] on full oil, from its viscosity [Pa s] on paper, at 21 degrees, and
    the temperature [degrees C] at the lanes.

    Held within 0.01 to 0.06, beyond which nothing is known of a ball on a lane.

    Source: [de-vicente-2005] friction of a lubricated soft contact goes as viscosity to 0.65;
    [model-sheet] section 3.1 for its size, taken at the mean commercial oil of [uc-davis-2012].
    """
    against_mean_ratio = (
        oil_viscosity_pas(viscosity_at_21_c_pas, temperature_c) / MEAN_OIL_VISCOSITY_PAS.value
    )
    friction = OIL_FRICTION.value * math.pow(against_mean_ratio, OIL_FRICTION_EXPONENT.value)
    return min(max(friction, SMALLEST_OIL_FRICTION), LARGEST_OIL_FRICTION)
