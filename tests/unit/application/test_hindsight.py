"""What a first ball was to leave, before and after somebody saw where it came in."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import norm

from nextpair.application.hindsight import Expectation
from nextpair.domain.sight import ENTRY_ERROR_BOARDS

RNG = np.random.default_rng(4)
LEVELS = np.append(RNG.normal(2.0, 1.5, 40), [np.nan, np.nan, 9.0])
CHANCES = RNG.dirichlet(np.ones(5), len(LEVELS))
EXPECTED = Expectation({}, LEVELS, CHANCES)
REACHED = ~np.isnan(LEVELS)


def test_what_is_seen_favours_nobody():
    """Over all that may be seen of balls that reach the pins, chances are those of any of them:
    the law of total expectation, by the trapezoidal rule."""
    seen = np.linspace(-8.0, 16.0, 4801)
    density = norm.pdf(seen[:, None], LEVELS[REACHED], ENTRY_ERROR_BOARDS).mean(axis=1)
    mean = np.trapezoid(
        [d * EXPECTED.given(s) for d, s in zip(density, seen, strict=True)], seen, axis=0
    )
    assert np.trapezoid(density, seen) == pytest.approx(1.0)
    assert mean == pytest.approx(CHANCES[REACHED].mean(axis=0), abs=1e-6)


def test_a_ball_that_was_seen_reached_the_pins():
    far_off = EXPECTED.given(9.0)
    assert far_off == pytest.approx(CHANCES[-1], abs=1e-6)
    assert EXPECTED.given(60.0) == pytest.approx(CHANCES[-1]), "the nearest, however far"
    assert far_off.sum() == pytest.approx(1.0)


def test_where_none_was_to_reach_them_seeing_one_tells_nothing():
    gutters = Expectation({}, np.full(3, np.nan), CHANCES[:3])
    assert gutters.given(2.0) == pytest.approx(CHANCES[:3].mean(axis=0))
