"""Colours of maps against colour science: conversions, evenness, colour-blind eyes.

Source of every expected number: tests/reference/data/colour.toml.
"""

from __future__ import annotations

import itertools
import re
import tomllib
from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest

from nextpair.reports.palette import (
    ACCENT,
    FILM_STEPS_UNITS,
    HALO,
    INK,
    OIL,
    PAPER,
    PATH_COLOURS,
    STRIKE_STEPS,
    STRIKES,
    film_colour,
    hex_colour,
    ramp_colour,
    strike_colour,
)
from nextpair.reports.strike_map import LINES, line_colour

PUBLISHED = tomllib.loads((Path(__file__).parent / "data" / "colour.toml").read_text("utf-8"))
EYES = {
    "all cones": np.eye(3),
    **{
        name: np.array(PUBLISHED["colour_blindness"][name])
        for name in ("protanopia", "deuteranopia", "tritanopia")
    },
}
SMALLEST_STEP = 5.0
"""A difference of about 2.3 in CIE Lab is just noticed side by side; twice that reads at arm's
length (common practice)."""


def linear_rgb(colour: str) -> np.ndarray:
    """Linear light of '#rrggbb' by the sRGB curve (IEC 61966-2-1)."""
    screen = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)]) / 255
    return np.where(screen <= 0.04045, screen / 12.92, ((screen + 0.055) / 1.055) ** 2.4)


def cie_lab(rgb: np.ndarray) -> np.ndarray:
    """L*, a*, b* of linear light (CIE 15)."""
    white = np.array(PUBLISHED["cie_lab"]["white_xyz"])
    share = np.clip(np.array(PUBLISHED["cie_lab"]["rgb_to_xyz"]) @ rgb, 0, None) / white
    cube = np.where(share > (6 / 29) ** 3, np.cbrt(share), share / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array([116 * cube[1] - 16, 500 * (cube[0] - cube[1]), 200 * (cube[1] - cube[2])])


def contrast(one: str, other: str) -> float:
    """Contrast of two colours (WCAG 2.2)."""
    weights = np.array(PUBLISHED["cie_lab"]["rgb_to_xyz"][1])
    light = sorted(float(weights @ linear_rgb(colour)) for colour in (one, other))
    return (light[1] + 0.05) / (light[0] + 0.05)


STEPS = {
    "oil": [film_colour(0.0), *(film_colour(units) for units in FILM_STEPS_UNITS)],
    "strikes": [strike_colour(0.0), *(strike_colour(chance) for chance in STRIKE_STEPS)],
}


@pytest.mark.parametrize("pair", PUBLISHED["oklab"]["conversions"], ids=lambda p: p["srgb"])
def test_a_colour_converts_as_published(pair):
    ours, published = hex_colour(tuple(pair["lab"])), pair["srgb"]
    for place in (1, 3, 5):
        assert abs(int(ours[place : place + 2], 16) - int(published[place : place + 2], 16)) <= 1


@pytest.mark.parametrize("steps", STEPS)
@pytest.mark.parametrize("eyes", EYES)
def test_more_is_always_darker_and_each_step_is_seen(eyes, steps):
    seen = [cie_lab(np.clip(EYES[eyes] @ linear_rgb(colour), 0, 1)) for colour in STEPS[steps]]
    lightness = [lab[0] for lab in seen]
    assert all(before - after > 3 for before, after in itertools.pairwise(lightness))
    differences = [float(np.linalg.norm(b - a)) for a, b in itertools.pairwise(seen)]
    assert min(differences) > SMALLEST_STEP


@pytest.mark.parametrize("ramp", [OIL, STRIKES], ids=["oil", "strikes"])
def test_a_ramp_is_even(ramp):
    # An independent yardstick: lightness of CIE 1976, not the space the ramp is made in.
    shares = np.linspace(0, 1, 11)
    lightness = [cie_lab(linear_rgb(ramp_colour(share, ramp)))[0] for share in shares]
    steps = -np.diff(lightness)
    assert steps.max() / steps.min() < 2.0


@pytest.mark.parametrize("chance", LINES)
def test_a_line_of_equal_strikes_stands_out_from_both_sides_of_it(chance):
    for side in (strike_colour(chance - 0.01), strike_colour(chance)):
        assert contrast(line_colour(chance), side) > PUBLISHED["contrast"]["graphics"]


def test_path_and_words_stand_out_from_the_halo_around_them():
    assert contrast(ACCENT, HALO) > PUBLISHED["contrast"]["text"]
    assert contrast(INK, HALO) > PUBLISHED["contrast"]["text"]
    assert contrast(INK, PAPER) > PUBLISHED["contrast"]["text"]


@pytest.mark.parametrize("eyes", EYES)
def test_paths_of_several_balls_are_told_apart_and_their_badges_read(eyes):
    seen = [cie_lab(np.clip(EYES[eyes] @ linear_rgb(colour), 0, 1)) for colour in PATH_COLOURS]
    for one, other in itertools.combinations(seen, 2):
        assert float(np.linalg.norm(one - other)) > 2 * SMALLEST_STEP
    for colour in PATH_COLOURS:
        assert contrast(colour, HALO) > PUBLISHED["contrast"]["text"]


def test_text_of_the_page_can_be_read_in_light_and_dark():
    css = (files("nextpair.reports") / "sheet.css").read_text("utf-8")
    schemes = [
        dict(re.findall(r"--(\w+): (#[0-9a-f]{6})", block))
        for block in re.findall(r":root \{(.*?)\}", css, re.DOTALL)[:2]
    ]
    assert len(schemes) == 2
    for colours in schemes:
        for ground in ("paper", "card", "tint"):
            for words in ("ink", "soft"):
                assert contrast(colours[words], colours[ground]) > PUBLISHED["contrast"]["text"]
        assert contrast(colours["accent"], colours["card"]) > PUBLISHED["contrast"]["text"]
