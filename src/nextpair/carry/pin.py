"""A pin: the profile of the rule book turned round its axis, and the parts it collides with."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.integrate import simpson
from scipy.interpolate import PchipInterpolator

from nextpair.domain.units import INCH_M, OUNCE_KG, POUND_KG

FloatArray = NDArray[np.float64]

HEIGHT_M = 15.0 * INCH_M
"""Source: [facts] section 2, READ."""
MASS_KG = 3.5 * POUND_KG
"""Middle of 3 lb 6 oz to 3 lb 10 oz. Source: [facts] section 2, READ."""
MASS_SD_KG = 1.0 * OUNCE_KG
"""Of the pins of one set, which may lie 4 oz apart. Source: [facts] section 2, READ; that four
standard deviations fill the range is an assumption."""
TOP_ARC_M = 1.273 * INCH_M
"""Source: [facts] section 2, READ."""
HEIGHTS_IN = (
    *(0.0, 0.75, 2.25, 3.375, 4.5, 5.875, 7.25, 8.625),
    *(9.375, 10.0, 10.875, 11.75, 12.625, 13.5),
)
DIAMETERS_IN = (
    *(2.031, 2.828, 3.906, 4.510, 4.766, 4.563, 3.703, 2.472),
    *(1.965, 1.797, 1.870, 2.094, 2.406, 2.547),
)
"""Profile. Source: [facts] section 2: from memory but for belly and neck, which are READ."""
BASE_M = 0.5 * DIAMETERS_IN[0] * INCH_M


class Solid(NamedTuple):
    """Mass properties of a solid of revolution, SI."""

    mass_kg: float
    centre_m: float
    """Height of the centre of gravity."""
    across_kgm2: float
    """Moment of inertia about an axis through the centre, across the pin."""
    along_kgm2: float
    """About the pin's own axis."""

    @property
    def topple_rad(self) -> float:
        """Tilt at which the centre stands over the rim of the base.

        Source: closed form, [model-sheet] section 5.1.
        """
        return math.atan2(BASE_M, self.centre_m)


class Part(NamedTuple):
    """One convex piece of the collision shape, about the pin's axis."""

    shape: str
    height_m: float
    """Of its middle."""
    radius_m: float
    half_height_m: float
    """Semi-axis of an ellipsoid, half the straight length of a capsule."""


PARTS = (
    Part("ellipsoid", 4.6677 * INCH_M, 2.3825 * INCH_M, 4.1815 * INCH_M),
    Part("ellipsoid", 1.8743 * INCH_M, 1.7617 * INCH_M, 1.8343 * INCH_M),
    Part("ellipsoid", 5.6553 * INCH_M, 1.7655 * INCH_M, 4.2751 * INCH_M),
    Part("capsule", 10.1838 * INCH_M, 0.9457 * INCH_M, 2.6170 * INCH_M),
    Part("ellipsoid", 13.1649 * INCH_M, 1.3018 * INCH_M, 1.9876 * INCH_M),
)
"""Together within 0.02 in of the profile at the belly, 0.07 in below the neck and 0.14 in at the
head. Source: [rack-study] section 3."""


def profile_radius_m(height_m: ArrayLike) -> FloatArray:
    """Radius of the pin at heights above its base, of their shape [m]; 0 above the top.

    Source: [facts] section 2; between its heights by a monotone cubic, the top an arc.
    """
    height = np.asarray(height_m, float)
    last = HEIGHTS_IN[-1] * INCH_M
    body = INCH_M * PchipInterpolator(HEIGHTS_IN, 0.5 * np.array(DIAMETERS_IN))(
        np.minimum(height, last) / INCH_M
    )
    above = np.maximum(height - (HEIGHT_M - TOP_ARC_M), 0.0)
    arc = np.sqrt(np.clip(TOP_ARC_M**2 - above**2, 0.0, None))
    return np.where(height > last, arc, body)


def parts_radius_m(height_m: ArrayLike) -> FloatArray:
    """Radius of the collision shape at heights above the base, of their shape [m].

    Source: closed form, the widest of ellipsoids and capsule.
    """
    height = np.asarray(height_m, float)
    widest = np.zeros_like(height)
    for part in PARTS:
        away = np.abs(height - part.height_m)
        if part.shape == "capsule":
            beyond = np.maximum(away - part.half_height_m, 0.0)
            radius = np.sqrt(np.clip(part.radius_m**2 - beyond**2, 0.0, None))
        else:
            share = 1.0 - (away / part.half_height_m) ** 2
            radius = part.radius_m * np.sqrt(np.clip(share, 0.0, None))
        widest = np.maximum(widest, radius)
    return widest


def solid_pin(mass_kg: float = MASS_KG) -> Solid:
    """A pin of uniform density.

    Source: closed form, discs of the profile stacked up; [model-sheet] section 5.1.
    """
    z = np.linspace(0.0, HEIGHT_M, 6001)
    r = profile_radius_m(z)
    slices = mass_kg * r**2 / simpson(r**2, x=z)
    centre_m = float(simpson(slices * z, x=z)) / mass_kg
    return Solid(
        mass_kg,
        centre_m,
        across_kgm2=float(simpson(slices * (r**2 / 4 + (z - centre_m) ** 2), x=z)),
        along_kgm2=float(simpson(slices * r**2 / 2, x=z)),
    )
