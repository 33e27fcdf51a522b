"""Intervals of shares and means: against SciPy's distributions, and by how often they hold."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from nextpair.application.intervals import mean_interval, mean_of, share_interval, share_of
from nextpair.domain.errors import InvalidValueError

SAMPLES = 1500
STANDARD_ERROR = math.sqrt(0.8 * 0.2 / SAMPLES)


@pytest.mark.parametrize(("made", "tried"), [(7, 9), (1, 2), (1, 40), (39, 40), (4374, 7155)])
@pytest.mark.parametrize("share", [0.5, 0.8, 0.95])
def test_a_shares_interval_is_that_of_its_beta_distribution(made, tried, share):
    believed = stats.beta(made + 0.5, tried - made + 0.5)
    mean, low, high = share_interval(made, tried, share)
    assert mean == pytest.approx(believed.mean(), rel=1e-12)
    assert (low, high) == pytest.approx(believed.interval(share), rel=1e-9)


def test_what_never_or_always_happened_may_go_on_so():
    _, low, high = share_interval(0, 4)
    assert (low, high) == (0, pytest.approx(stats.beta(0.5, 4.5).ppf(0.9)))
    _, low, high = share_interval(4, 4)
    assert (low, high) == (pytest.approx(stats.beta(4.5, 0.5).ppf(0.1)), 1)


def test_nothing_tried_says_nothing():
    told = share_of(0, 0)
    assert (told.mean_share, told.share_interval_80) == (None, None)


@pytest.mark.parametrize(("made", "tried"), [(3, 2), (-1, 2)])
def test_no_more_can_be_made_than_were_tried(made, tried):
    with pytest.raises(InvalidValueError, match="made"):
        share_interval(made, tried)


@pytest.mark.parametrize("tried", [5, 12, 40])
def test_over_all_true_shares_the_interval_holds_four_times_in_five(tried):
    """Shares drawn evenly, counts drawn from them: the interval holds the true share as often as
    it says, within three standard errors and the half count that its prior adds at the ends."""
    rng = np.random.default_rng(11)
    true = rng.uniform(0, 1, SAMPLES)
    made = rng.binomial(tried, true)
    ends = {count: share_interval(count, tried)[1:] for count in range(tried + 1)}
    held = np.mean([ends[k][0] <= p <= ends[k][1] for k, p in zip(made, true, strict=True)])
    assert 0.8 - 3 * STANDARD_ERROR <= held <= 0.84 + 3 * STANDARD_ERROR


@pytest.mark.parametrize("count", [3, 6, 20])
def test_a_means_interval_holds_four_times_in_five(count):
    """Scores of games, near normal with the spread that tours show: 27 pins."""
    rng = np.random.default_rng(3)
    held = 0
    for seed in range(SAMPLES):
        _, low, high = mean_interval(rng.normal(200, 27, count).tolist(), seed=seed)
        held += low <= 200 <= high
    assert held / SAMPLES == pytest.approx(0.8, abs=0.04)  # a twentieth of what it says


def test_a_means_interval_comes_near_students_where_values_are_many():
    values = np.random.default_rng(5).normal(9, 1, 400)
    error = values.std(ddof=1) / math.sqrt(len(values))
    _, low, high = mean_interval(values.tolist())
    student = stats.t(len(values) - 1).ppf(0.9) * error
    # The tenth and the nine-tenths of 2,000 means are known to a twentieth of their spread.
    assert (low, high) == pytest.approx(
        (values.mean() - student, values.mean() + student), abs=error / 8
    )


def test_values_that_do_not_differ_have_a_mean_and_no_interval():
    assert mean_of([9.0, 9.0], 10).mean_pins == 9.0
    assert mean_of([9.0, 9.0], 10).pins_interval_80 is None
    assert mean_of([], 10).mean_pins is None
    with pytest.raises(InvalidValueError, match="values"):
        mean_interval([9.0, 9.0])


def test_no_first_ball_takes_more_than_ten():
    assert mean_of([9.0, 10.0, 10.0], 10).pins_interval_80[1] == 10


def test_the_same_values_have_the_same_interval():
    values = [8.0, 10.0, 9.0, 10.0]
    assert mean_interval(values) == mean_interval(values)
