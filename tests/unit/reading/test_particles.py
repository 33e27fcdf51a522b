"""Draws from beliefs whose answers stand in closed form."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import kstest, norm

from nextpair.reading.particles import tempered

DRAWS = 4000


def drawn(log_likelihood, mean=0.0, sd=1.0, numbers=1, draws=DRAWS):
    rng = np.random.default_rng(3)
    return tempered(np.full(numbers, mean), np.full(numbers, sd), log_likelihood, rng, draws)


@pytest.mark.parametrize(("mean", "sd", "seen", "error"), [(0, 1, 2, 0.5), (-1, 0.1, 3, 0.2)])
def test_a_normal_belief_meets_a_normal_reading(mean, sd, seen, error):
    """Closed form: precisions add up."""
    draws = drawn(lambda x: norm.logpdf(seen, x[:, 0], error), mean, sd)[:, 0]
    precision = 1 / sd**2 + 1 / error**2
    after = (mean / sd**2 + seen / error**2) / precision, precision**-0.5
    assert draws.mean() == pytest.approx(after[0], abs=0.1 * after[1])
    assert draws.std() == pytest.approx(after[1], rel=0.06)


def test_a_belief_that_saw_nothing_is_the_one_before():
    draws = drawn(lambda x: np.zeros(len(x)))[:, 0]
    assert kstest(draws, "norm").pvalue > 0.01


def test_two_numbers_of_which_only_the_sum_was_seen_are_a_ridge():
    """Closed form: with unit beliefs and an error of 0.1, correlation is -1 / (1 + 0.01)."""
    draws = drawn(lambda x: norm.logpdf(1.0, x.sum(axis=1), 0.1), numbers=2)
    assert np.corrcoef(draws.T)[0, 1] == pytest.approx(-1 / 1.01, abs=0.005)
    assert draws.sum(axis=1).mean() == pytest.approx(2 / 2.01, abs=0.01)


def test_two_explanations_are_both_kept():
    """The size of a number was seen, not its sign."""
    draws = drawn(lambda x: norm.logpdf(1.5, np.abs(x[:, 0]), 0.1))[:, 0]
    assert 0.35 < (draws > 0).mean() < 0.65
    assert np.abs(draws).mean() == pytest.approx(1.5 / 1.01, abs=0.02)


def test_forty_numbers_are_drawn_by_five_hundred_particles():
    """As of 16 lanes. Closed form: mean 0.5 and deviation 0.71 of each; a tenth of that is less
    than shots can tell."""
    draws = drawn(lambda x: norm.logpdf(1.0, x, 1.0).sum(axis=1), numbers=40, draws=512)
    assert draws.mean() == pytest.approx(0.5, abs=0.07)
    assert draws.std(axis=0).mean() == pytest.approx(0.5**0.5, rel=0.1)
