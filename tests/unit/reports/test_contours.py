"""Outlines of regions: held against areas that geometry knows."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nextpair.reports.contours import Outline, outlines, simplified

GRID = [place / 10 for place in range(-30, 31)]


def area(outline: Outline) -> float:
    """Signed area by the shoelace formula; an outline with its inside on the left is positive."""
    turned = [*outline[1:], outline[0]]
    return sum(x * b - a * y for (x, y), (a, b) in zip(outline, turned, strict=True)) / 2


def mapped(height):  # type: ignore[no-untyped-def]
    return [[height(x, y) for x in GRID] for y in GRID]


def test_a_cone_is_cut_in_a_circle():
    found = outlines(mapped(lambda x, y: -math.hypot(x, y)), GRID, GRID, -2.0)
    assert len(found) == 1
    assert area(found[0]) == pytest.approx(math.pi * 4, rel=5e-3)
    assert all(math.hypot(x, y) == pytest.approx(2.0, abs=0.01) for x, y in found[0])


def test_a_ring_has_a_hole_that_turns_the_other_way():
    found = outlines(mapped(lambda x, y: -abs(math.hypot(x, y) - 1.5)), GRID, GRID, -0.5)
    areas = sorted(area(outline) for outline in found)
    assert areas == pytest.approx([-math.pi, math.pi * 4], rel=0.02)


@given(st.floats(-2.9, 2.9))
def test_a_slope_is_cut_straight_and_closed_along_the_edge_of_the_map(level):
    found = outlines(mapped(lambda x, _y: x), GRID, GRID, level)
    assert sum(area(outline) for outline in found) == pytest.approx(6 * (3 - level), abs=1e-6)


def test_nothing_and_everything():
    flat = mapped(lambda _x, _y: 1.0)
    assert outlines(flat, GRID, GRID, 2.0) == []
    assert [area(outline) for outline in outlines(flat, GRID, GRID, 0.5)] == pytest.approx([36.0])


@pytest.mark.parametrize(("low", "regions"), [(0.2, 2), (0.6, 1)])
def test_a_saddle_is_joined_where_its_middle_is_high_enough(low, regions):
    found = outlines([[1.0, low], [low, 1.0]], [0.0, 1.0], [0.0, 1.0], 0.7)
    assert len(found) == regions


@given(st.lists(st.floats(0, 10), min_size=9, max_size=9), st.floats(0.5, 9.5))
def test_regions_shrink_as_the_level_rises(values, level):
    rows = [values[:3], values[3:6], values[6:]]
    lower, upper = (
        sum(area(outline) for outline in outlines(rows, [0.0, 1.0, 2.0], [0.0, 1.0, 2.0], height))
        for height in (level, level + 0.5)
    )
    assert -1e-9 <= upper <= lower + 1e-9 <= 4.0 + 1e-6


def test_a_simpler_outline_stays_within_its_tolerance():
    circle = [
        (2 * math.cos(turn / 50 * math.pi), 2 * math.sin(turn / 50 * math.pi))
        for turn in range(100)
    ]
    simple = simplified(circle, 0.05)
    assert len(simple) < 30
    assert set(simple) <= set(circle)
    assert area(simple) == pytest.approx(area(circle), rel=0.03)


def test_points_on_a_straight_side_are_dropped():
    square = [(0.0, 0.0), (0.5, 0.0), (1.0, 0.0), (1.0, 1.0), (0.5, 1.0), (0.0, 1.0)]
    assert set(simplified(square, 1e-9)) == {(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)}
