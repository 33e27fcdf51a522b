"""Colours of maps: two ramps of our own, even to the eye. Oil goes from dry sand to ink blue, the
chance of a strike from pale shell to dark plum.

A ramp is a curve through OKLab walked at constant speed, with lightness falling all the way, so
it survives grey print and colour-blind eyes. Film is drawn in steps of about a half more oil each.

Source: the OKLab matrices are B. Ottosson, "A perceptual color space for image processing"
(2020), from memory; checked in the tests against the published CSS conversions.
"""

from __future__ import annotations

import itertools
from bisect import bisect_right
from functools import cache
from math import dist

FILM_STEPS_UNITS = (1.0, 2.0, 3.0, 5.0, 8.0, 12.0, 18.0, 27.0, 40.0, 60.0)
"""Film thickness where the next colour begins; thinner than the first counts as dry."""

STRIKE_STEPS = (0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9)
"""Chance of a strike where the next colour begins."""

ACCENT = "#b4341c"
"""The path of a ball: a red-orange that stands clear of both ends of the ramp."""
HALO = "#fffaf0"
PAPER = "#fffdf8"
INK = "#14233b"
PATH_COLOURS = (ACCENT, "#5a2a83", "#1a1a1a", "#a0186a")
"""Paths of several balls: each also has its own width, badge and letter."""

Lab = tuple[float, float, float]
Ramp = tuple[Lab, Lab, Lab]
"""Its pale end, the colour that bends it, its dark end."""

OIL: Ramp = ((0.945, 0.004, 0.040), (0.640, -0.085, -0.005), (0.285, -0.012, -0.105))
"""Dry sand by sea green to ink blue."""
STRIKES: Ramp = ((0.962, 0.010, 0.020), (0.660, 0.130, 0.055), (0.300, 0.085, -0.040))
"""Shell by clay to plum."""


def film_colour(units: float) -> str:
    """Colour of a film of so many units of oil, '#rrggbb'."""
    return ramp_colour(bisect_right(FILM_STEPS_UNITS, units) / len(FILM_STEPS_UNITS))


def strike_colour(probability: float) -> str:
    """Colour of a chance of a strike, '#rrggbb'."""
    return ramp_colour(bisect_right(STRIKE_STEPS, probability) / len(STRIKE_STEPS), STRIKES)


def ramp_colour(share: float, ramp: Ramp = OIL) -> str:
    """Colour at a share of a ramp's length, 0 (pale) to 1 (dark), '#rrggbb'."""
    lengths = _walked(ramp)
    steps = len(lengths) - 1
    walked = min(max(share, 0.0), 1.0) * lengths[-1]
    step = min(bisect_right(lengths, walked) - 1, steps - 1)
    within = (walked - lengths[step]) / (lengths[step + 1] - lengths[step])
    return hex_colour(_curve((step + within) / steps, ramp))


def hex_colour(lab: Lab) -> str:
    """An OKLab colour (L, a, b) as '#rrggbb'; what a screen cannot show is clipped."""
    lightness, a, b = lab
    long = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3
    medium = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3
    short = (lightness - 0.0894841775 * a - 1.2914855480 * b) ** 3
    linear = (
        4.0767416621 * long - 3.3077115913 * medium + 0.2309699292 * short,
        -1.2684380046 * long + 2.6097574011 * medium - 0.3413193965 * short,
        -0.0041960863 * long - 0.7034186147 * medium + 1.7076147010 * short,
    )
    return "#" + "".join(f"{round(255 * _screen(light)):02x}" for light in linear)


def _screen(light: float) -> float:
    """Linear light to the value a screen is sent (IEC 61966-2-1, the sRGB curve)."""
    clipped = min(max(light, 0.0), 1.0)
    if clipped <= 0.0031308:
        return 12.92 * clipped
    return 1.055 * float(clipped ** (1 / 2.4)) - 0.055


def _curve(t: float, ramp: Ramp) -> Lab:
    """A quadratic curve from the pale to the dark end of a ramp."""
    pale, bend, dark = (1 - t) ** 2, 2 * t * (1 - t), t * t
    lightness, a, b = (pale * p + bend * m + dark * d for p, m, d in zip(*ramp, strict=True))
    return lightness, a, b


@cache
def _walked(ramp: Ramp) -> tuple[float, ...]:
    """Length of the curve up to each of its points."""
    points = [_curve(step / 200, ramp) for step in range(201)]
    lengths = [0.0]
    for before, after in itertools.pairwise(points):
        lengths.append(lengths[-1] + dist(before, after))
    return tuple(lengths)
