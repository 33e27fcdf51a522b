"""What library patterns say of themselves, against what the trade means by those words.

The ranges, with their sources, are in data/pattern_shapes.toml.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import numpy as np
import pytest

from nextpair.domain.bowler import Hand
from nextpair.domain.lane import CELL_M, CENTRE_BOARD
from nextpair.domain.pattern import Shape
from nextpair.domain.units import FOOT_M
from nextpair.files import load_library
from nextpair.physics.dressing import film_of
from nextpair.physics.film import (
    SportClass,
    film_line_units,
    film_units,
    pattern_ratio,
    rule_of_31_exit_board,
    sport_class,
    volume_ml,
)

SHAPES = tomllib.loads((Path(__file__).parent / "data/pattern_shapes.toml").read_text("utf-8"))
LIBRARY = {pattern.name: pattern for pattern in load_library()}
OPENING = re.compile(r"(Short|Medium|Long) and ([a-z-]+), (light|medium|heavy) volume: \S")
EXIT = re.compile(r"near board (\d+)")
GRIT = re.compile(r"(\d{3,4}) (?:to|grit)")
LONGEST_OPENING = 76
"""What stands on one line of a list 80 columns wide."""


def within(value: float, limits: list[float]) -> bool:
    low, high = limits
    return low <= value <= high


@pytest.fixture(params=LIBRARY)
def pattern(request):
    return LIBRARY[request.param]


def test_the_library_is_wide():
    films = {name: film_of(pattern) for name, pattern in LIBRARY.items()}
    lengths_ft = [pattern.length_m / FOOT_M for pattern in LIBRARY.values()]
    volumes_ml = [volume_ml(film) for film in films.values()]
    ratios = [pattern_ratio(films[name], LIBRARY[name].length_m) for name in LIBRARY]
    assert len(LIBRARY) >= 12
    assert (min(lengths_ft), max(lengths_ft)) == pytest.approx((32, 52))
    assert min(volumes_ml) < 19 < 31 < max(volumes_ml) < 32.5
    assert min(ratios) < 1.6 < 9 < max(ratios) <= 10
    assert {pattern.shape for pattern in LIBRARY.values()} == set(Shape)
    assert any(pattern.buff_m for pattern in LIBRARY.values())


def test_its_first_sentence_is_true_of_its_film(pattern):
    match = OPENING.match(pattern.description)
    assert match, pattern.description
    length, shape, volume = match.groups()
    assert within(pattern.length_m / FOOT_M, SHAPES["length_ft"][length])
    assert shape == pattern.shape
    assert within(volume_ml(film_of(pattern)), SHAPES["volume_ml"][volume])
    assert pattern.description.index(". ") < LONGEST_OPENING


def test_its_ratio_is_that_of_its_shape(pattern):
    ratio = pattern_ratio(film_of(pattern), pattern.length_m)
    assert within(ratio, SHAPES["ratio"][pattern.shape])


def test_oil_rises_to_the_middle_as_its_shape_says(pattern):
    fact = SHAPES["steepest_rise"]
    own_side = np.array(film_line_units(film_of(pattern), fact["at_ft"] * FOOT_M)[1:CENTRE_BOARD])
    rises = np.diff(own_side)
    assert rises.min() >= 0.0, "never less oil toward the middle in the heads"
    assert within(rises.max() / own_side.max(), fact[pattern.shape])
    if fact[pattern.shape][0] > 0.0:
        first_wet_board = int(rises.argmax()) + 3
        assert SHAPES["step_board"]["lowest"] <= first_wet_board
        assert first_wet_board <= SHAPES["step_board"]["highest"]


def test_only_a_reversed_pattern_ends_with_more_oil_outside(pattern):
    fact = SHAPES["late_oil"]
    late = film_line_units(
        film_of(pattern), pattern.length_m - fact["feet_before_the_end"] * FOOT_M
    )
    outside, inside = (
        np.mean(late[first - 1 : last])
        for first, last in (fact["outside_boards"], fact["inside_boards"])
    )
    assert (outside > inside) == (pattern.shape == "reversed")


def test_past_the_heads_its_oil_gets_thinner_down_the_lane(pattern):
    fact = SHAPES["down_the_lane"]
    past_the_heads = film_of(pattern)[int(fact["from_ft"] * FOOT_M / CELL_M) :]
    risen = past_the_heads - np.minimum.accumulate(past_the_heads, axis=0)
    thins = risen.max() <= fact["largest_rise"] * past_the_heads.max()
    assert thins == (pattern.shape != "reversed"), "more oil late is what makes it a reversed one"


def test_its_exit_is_the_rule_of_31s(pattern):
    exits = [int(board) for board in EXIT.findall(pattern.description)]
    assert exits == [pytest.approx(rule_of_31_exit_board(pattern.length_m, Hand.RIGHT))]


def test_surfaces_it_names_are_surfaces(pattern):
    grits = [int(grit) for grit in GRIT.findall(pattern.description)]
    assert grits
    assert all(360 <= grit <= 5000 for grit in grits)


def test_both_hands_find_the_same_lane(pattern):
    film_um = film_of(pattern)
    np.testing.assert_allclose(film_um, film_um[:, ::-1], rtol=1e-12)


def test_its_oil_does_not_end_at_a_cliff(pattern):
    # Taper and buff are there for this: the last half foot of oil is thin everywhere.
    film_um = film_of(pattern)
    last = round(pattern.length_m / CELL_M) - 1
    assert (film_um[last + 1 :] < 1e-9).all()
    assert film_um[last].max() < 0.15 * film_um.max()


def test_sport_patterns_keep_the_three_unit_rule(pattern):
    fact = SHAPES["three_units"]
    film_um = film_of(pattern)
    first, last = fact["boards"]
    thickest_units = film_units(film_um).max(axis=0)[first - 1 : last]
    is_sport = sport_class(pattern_ratio(film_um, pattern.length_m)) is SportClass.SPORT
    assert not is_sport or thickest_units.min() >= fact["units"]


def test_names_are_two_words_and_the_length(pattern):
    words = pattern.name.split()
    assert len(words) == 3
    assert float(words[2]) == pytest.approx(pattern.length_m / FOOT_M)
