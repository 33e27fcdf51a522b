"""How the lanes really are, and where people really play: as the plan takes it, or otherwise."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from nextpair.physics.wear import USUAL_WEAR, WearLaw

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Condition:
    """The lanes and the people of an event, as far as they may differ from the plan's.

    dressed : films (120, 39) [um] as laid, in the lane's frame, by lane; a lane that is left out
        is as its pattern says.
    dry_factor : factor on dry friction; people choose their lines on it and throw on it.
    law : the numbers of wear.
    habits : boards by which somebody likes to leave the oil inside (+) or outside (-) of the rule
        of 31, by name; 0 for those who are left out.
    """

    dressed: Mapping[int, FloatArray] = field(default_factory=dict)
    dry_factor: float = 1.0
    law: WearLaw = USUAL_WEAR
    habits: Mapping[str, float] = field(default_factory=dict)


AS_PLANNED = Condition()
