"""What a ball does to the film: how oil splits between lane and cover, and how fresh the cover is.

A ball that flares meets the lane with fresh cover every revolution and takes oil away; one that
does not flare meets it with its own oily ring and carries the oil along.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.ball import BALL_RADIUS_M, Ball, Cover
from nextpair.domain.errors import require_within
from nextpair.domain.units import MICROMETRE_M, POUND_KG
from nextpair.physics._jit import scalar
from nextpair.physics.constants import (
    COVER_ABSORPTION_S,
    COVER_MODULUS_PA,
    COVER_POISSON,
    FILM_REMOVAL,
    FILM_SPLIT_EXPONENT,
    GRAVITY_MPS2,
    LANE_MODULUS_PA,
    LANE_POISSON,
    REST_S,
    RETAINED_FILM_UM,
    WIPED_SHARE,
)
from nextpair.physics.contact import contact_modulus_pa, contact_radius_m, wetted_width_m
from nextpair.physics.layout import core_angles_rad

FloatArray = NDArray[np.float64]

USUAL_LOAD_N = 15.0 * POUND_KG * GRAVITY_MPS2
"""Weight of a usual ball; the patch grows only with its cube root."""
USUAL_PATCH_RADIUS_M = contact_radius_m(
    USUAL_LOAD_N,
    BALL_RADIUS_M,
    contact_modulus_pa(
        COVER_MODULUS_PA.value, COVER_POISSON.value, LANE_MODULUS_PA.value, LANE_POISSON.value
    ),
)

USUAL_SURFACE_RATIO = 0.65
"""Speed of a ball's surface over its own in the oil: 0.58 at the release, 0.69 at the oil's end.
Source: [model-sheet] section 4.1."""
USUAL_FILM_UM = 2.0
"""Mean film of 25 mL on 41 ft. Source: [model-sheet] check C18."""

USUAL_REST_S = REST_S.value
USUAL_ABSORPTION_S = COVER_ABSORPTION_S[Cover.HYBRID.value].value

_SPLIT_EXPONENT = FILM_SPLIT_EXPONENT.value


@dataclass(frozen=True, slots=True)
class WearLaw:
    """The numbers of wear that shots and film readings can calibrate.

    removal_share : share of a full film split that is reached, 0 (no wear) to 1.
    retained_um : film in the lane's roughness that takes no part.
    patch_radius_m : radius of the patch on which ball and lane touch.
    wiped_share : share of the oil on a ball that the towel takes between two of its shots: 0 for
        a bowler who never wipes.
    """

    removal_share: float = FILM_REMOVAL.value
    retained_um: float = RETAINED_FILM_UM.value
    patch_radius_m: float = USUAL_PATCH_RADIUS_M
    wiped_share: float = WIPED_SHARE.value

    def __post_init__(self) -> None:
        require_within("removal_share", self.removal_share, 0, 1, "")
        require_within("retained_um", self.retained_um, 0, 10, "um")
        require_within("patch_radius_m", self.patch_radius_m, 1e-4, 5e-3, "m")
        require_within("wiped_share", self.wiped_share, 0, 1, "")


USUAL_WEAR = WearLaw()


@scalar
def split_films_um(
    lane_um: float, ball_um: float, surface_ratio: float, removal_share: float, retained_um: float
) -> tuple[float, float]:
    """Film [um] left on the lane and on the ball after they met.

    Parameters
    ----------
    lane_um, ball_um : films [um] that come in on the lane and on the ball's track.
    surface_ratio : speed of the ball's surface over that of the lane, both past the contact [1].
    removal_share : share of a full split that is reached [1]: 0 leaves both films as they were.
    retained_um : part of the lane's film that takes no part [um].

    Keeps lane + surface_ratio x ball, the oil that flows through the contact.

    Source: [coyle-1986] film ratio = speed ratio**0.65; [model-sheet] section 4.1:
    h' = q / (1 + r**1.65), b' = r**0.65 h', q = h + r b.
    """
    mobile_um = max(lane_um - retained_um, 0.0)
    film_ratio = surface_ratio**_SPLIT_EXPONENT
    split_um = (mobile_um + surface_ratio * ball_um) / (1.0 + surface_ratio * film_ratio)
    return (
        lane_um + removal_share * (split_um - mobile_um),
        ball_um + removal_share * (film_ratio * split_um - ball_um),
    )


@scalar
def ring_overlap(flare_m: float, width_m: float) -> float:
    """Share of a new ring that lies on the one before, `flare_m` away on the cover [1].

    Source: [model-sheet] section 4.1: 1 - f_rev / w, and none from f_rev = w on.
    """
    return max(1.0 - flare_m / width_m, 0.0)


def absorption_s(cover: Cover) -> float:
    """Time [s] in which a cover soaks in all but 1/e of the oil on it.

    Source: [model-sheet] section 4.1, assumption.
    """
    return COVER_ABSORPTION_S[cover.value].value


def absorbed_share(rest_s: FloatArray, absorption_s: FloatArray) -> FloatArray:
    """Share of the oil on covers that soaks in while they rest.

    Parameters
    ----------
    rest_s : times [s], any shape.
    absorption_s : of the covers [s], see absorption_s.

    Source: [model-sheet] section 4.1: b <- b exp(-t / tau).
    """
    return -np.expm1(-rest_s / absorption_s)


def ring_film_share(
    flare_m_per_rev: float,
    law: WearLaw = USUAL_WEAR,
    *,
    surface_ratio: float = USUAL_SURFACE_RATIO,
    film_um: float = USUAL_FILM_UM,
) -> float:
    """Film that a ball's own ring brings round again, as a share of the lane's mobile film [1].

    0 for a ball that flares by a track's width or more a revolution, `surface_ratio`**0.65 for one
    that does not flare. This is the share that a ring settles at on an even film: turn by turn
    it is b <- o s(h, b) with the split s and the overlap o, and after five turns it is within 10 %
    of this.

    Parameters
    ----------
    flare_m_per_rev : distance from one ring to the next [m].
    law : the numbers of wear.
    surface_ratio : speed of the ball's surface over the ball's speed [1].
    film_um : film [um] that sets the width of the track.

    Source: [coyle-1986] and [model-sheet] section 4.1, the fixed point of split_films_um.
    """
    width_m = wetted_width_m(law.patch_radius_m, BALL_RADIUS_M, film_um * MICROMETRE_M)
    overlap = ring_overlap(flare_m_per_rev, width_m)
    film_ratio: float = surface_ratio**_SPLIT_EXPONENT
    given_up = law.removal_share / (1.0 + surface_ratio * film_ratio)
    if given_up == 0.0:
        return 0.0
    return overlap * given_up * film_ratio / ((1.0 - overlap) + overlap * given_up)


def flare_per_revolution_m(
    radii_of_gyration_m: tuple[float, float, float],
    pin_angle_rad: float,
    drilling_angle_rad: float,
    ball_radius_m: float,
) -> float:
    """How far [m] one oil ring lies from the next on the cover, at the release.

    The spin axis wanders through the ball as a free body's does: w' = J^-1 (J w x w). For a core
    with one low axis and two equal ones, this is 2 pi R sin(theta) cos(theta) (1 - k_lo^2/k_hi^2).

    Parameters
    ----------
    radii_of_gyration_m : about the low (pin), high and middle axis.
    pin_angle_rad : angle from the spin axis to the pin.
    drilling_angle_rad : of the high axis about the pin, from the direction of the spin axis.
    ball_radius_m : radius of the cover.

    Source: [model-sheet] sections 2.3 (Euler's equations) and 2.9.
    """
    low, high, middle = (k * k for k in radii_of_gyration_m)
    across = math.sin(pin_angle_rad)
    p_low = math.cos(pin_angle_rad)
    p_high = across * math.cos(drilling_angle_rad)
    p_middle = -across * math.sin(drilling_angle_rad)
    wander_rad_per_rad = math.hypot(
        (high - middle) / low * p_high * p_middle,
        (middle - low) / high * p_middle * p_low,
        (low - high) / middle * p_low * p_high,
    )
    return 2.0 * math.pi * ball_radius_m * wander_rad_per_rad


def ball_flare_m_per_rev(ball: Ball) -> float:
    """How far [m] one oil ring of a ball lies from the next.

    Source: [model-sheet] section 2.9, see flare_per_revolution_m.
    """
    pin_angle_rad, drilling_angle_rad = core_angles_rad(ball.layout)
    return flare_per_revolution_m(
        ball.radii_of_gyration_m, pin_angle_rad, drilling_angle_rad, BALL_RADIUS_M
    )
