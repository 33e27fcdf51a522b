"""Findings, and draws that are equally likely."""

from __future__ import annotations

import pytest

from nextpair.domain.belief import Draws, Estimate, Finding
from nextpair.domain.errors import InvalidValueError


def finding(more_probability: float, sd: float = 3.5) -> Finding:
    return Finding(
        name="dry friction",
        unit="%",
        words="less friction than planned",
        planned=Estimate(100.0, 7.0, 91.0, 109.0),
        found=Estimate(96.0, sd, 92.0, 100.0),
        more_probability=more_probability,
    )


def test_a_finding_is_sure_of_the_likelier_side():
    assert finding(0.2).sure_probability == pytest.approx(0.8)
    assert finding(0.7).sure_probability == pytest.approx(0.7)


def test_half_the_spread_gone_is_half_learned():
    assert finding(0.5).learned_share == pytest.approx(0.5)
    assert finding(0.5, sd=7.0).learned_share == 0.0


def test_draws_are_had_by_name():
    draws = Draws(("dry", "film"), ((1.0, 2.0), (3.0, 4.0), (5.0, 6.0)))
    assert len(draws) == 3
    assert draws.column("film") == (2.0, 4.0, 6.0)


@pytest.mark.parametrize(
    ("names", "rows"),
    [(("a", "a"), ((1.0, 2.0),)), (("a",), ()), (("a", "b"), ((1.0, 2.0), (3.0,)))],
)
def test_draws_that_are_no_table_are_refused(names, rows):
    with pytest.raises(InvalidValueError):
        Draws(names, rows)


def test_an_unknown_that_was_not_drawn_is_refused():
    with pytest.raises(InvalidValueError, match="film"):
        Draws(("dry", "film"), ((1.0, 2.0),)).column("weather")
