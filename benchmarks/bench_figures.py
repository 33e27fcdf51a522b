"""Every figure once, quickly: that it can be measured, not how large it is."""

from __future__ import annotations

import math

import pytest

from benchmarks.bars import BARS, Bar, render_table
from benchmarks.figures import QUICK, measured


@pytest.fixture(scope="module")
def figures():
    return measured(QUICK)


def test_every_figure_that_has_a_bar_is_measured(figures):
    assert all(math.isfinite(figures[name]) and figures[name] > 0 for name in BARS)
    assert figures["instruction_set"] in ("avx512", "avx2", "sse", "neon")


def test_the_table_tells_every_figure_with_its_bars(figures):
    told = render_table(figures)
    assert all(name in told for name in BARS)


@pytest.mark.parametrize(
    ("bar", "measured", "verdict"),
    [
        (Bar(3.0, 1.5), 1.5, "aim met"),
        (Bar(3.0, 1.5), 3.0, "met"),
        (Bar(3.0, 1.5), 3.1, "NOT MET"),
        (Bar(2000, 4500, more=True), 4500, "aim met"),
        (Bar(2000, 4500, more=True), 2000, "met"),
        (Bar(2000, 4500, more=True), 1999, "NOT MET"),
        (Bar(2000, 4500, more=True), math.nan, "NOT MET"),
    ],
)
def test_a_bar_is_met_from_the_bar_on(bar, measured, verdict):
    assert bar.verdict(measured) == verdict
