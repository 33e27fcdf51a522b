"""Trends, means and chances of a season against SciPy, and what intervals hold."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from scipy import optimize, stats

from nextpair.application.goals_progress import cash_chance, mean_chance
from nextpair.application.season_events import Tally
from nextpair.application.season_trends import SHARE_LIMITS, estimates_of, slope_of, trend_of
from nextpair.domain.season import TREND_DAYS, Figure, Point

FIRST = date(2026, 1, 10)
LIKELY = 0.8
SEASONS = 1500
THREE_ERRORS = 3 * np.sqrt(LIKELY * (1 - LIKELY) / SEASONS)
"""Of a share counted over so many simulated seasons."""
MOST_TOO_WIDE, MOST_TOO_WIDE_OF_TWO = 0.06, 0.12
"""An interval is never narrower than luck alone makes it, so that it holds more where events do
not differ at all: the larger of two widths is taken, and two events hardly know the other one."""


def points_of(values, weights=None, luck=0.0, days=14):
    weights = np.ones(len(values)) if weights is None else weights
    return [
        Point(FIRST + timedelta(days * number), float(value), float(weight), luck)
        for number, (value, weight) in enumerate(zip(values, weights, strict=True))
    ]


def test_the_slope_of_equal_events_is_scipys():
    rng = np.random.default_rng(5)
    values = 0.4 + 0.05 * rng.normal(size=9)
    points = points_of(values)
    at = [float(point.date.toordinal()) for point in points]
    slope, low, high, _ = slope_of(at, points)
    told = stats.linregress(at, values)
    reach = stats.t.ppf(0.9, len(values) - 2) * told.stderr
    assert (slope, low, high) == pytest.approx(
        (told.slope, told.slope - reach, told.slope + reach)
    )


def test_the_slope_of_unequal_events_is_that_of_weighted_least_squares():
    rng = np.random.default_rng(6)
    weights = rng.integers(20, 150, size=8)
    values = rng.normal(0.5, 0.06, size=8)
    points = points_of(values, weights)
    at = np.array([float(point.date.toordinal()) for point in points])
    (by, _), covariance = optimize.curve_fit(
        lambda x, slope, mean: mean + slope * (x - at.mean()), at, values, p0=(0.0, 0.5),
        sigma=weights**-0.5,
    )  # fmt: skip
    reach = stats.t.ppf(0.9, 6) * np.sqrt(covariance[0, 0])
    slope, low, high, _ = slope_of(list(at), points)
    assert (slope, low, high) == pytest.approx((by, by - reach, by + reach), rel=1e-5)


def test_the_mean_of_one_group_is_students():
    values = [0.31, 0.44, 0.38, 0.52]
    found = estimates_of({"": points_of(values)})[""]
    low, high = stats.t.interval(LIKELY, 3, np.mean(values), stats.sem(values))
    assert found.interval_80 == pytest.approx((low, high))


def test_the_doubt_of_groups_is_that_of_their_common_spread():
    """As in a one-way layout: every group's deviation is the root of the mean square within."""
    groups = {"a": [0.2, 0.3], "b": [0.5, 0.7, 0.6], "c": [0.4]}
    found = estimates_of({name: points_of(values) for name, values in groups.items()})
    within = sum(((np.array(values) - np.mean(values)) ** 2).sum() for values in groups.values())
    for name, values in groups.items():
        reach = stats.t.ppf(0.9, 3) * np.sqrt(within / 3 / len(values))
        mean = np.mean(values)
        assert found[name].interval_80 == pytest.approx((mean - reach, mean + reach))


def simulated(rng, events, slope=0.0, event_sd=0.05):
    """Strikes of a season: events differ by more than luck, and have 3 to 10 games of about 11
    racks."""
    points = []
    for number in range(events):
        tried = 11 * int(rng.integers(3, 11))
        true = np.clip(0.45 + slope * number + event_sd * rng.normal(), 0.05, 0.95)
        day = FIRST + timedelta(14 * number)
        points.append(Tally(int(rng.binomial(tried, true)), tried).point(day, str(number)))
    return points


@pytest.mark.parametrize(("events", "event_sd"), [(5, 0.0), (6, 0.06), (20, 0.06), (20, 0.12)])
def test_trends_hold_the_true_slope_four_times_in_five(events, event_sd):
    rng = np.random.default_rng(events)
    slope = 0.004
    held = 0
    for _ in range(SEASONS):
        told = trend_of(Figure.STRIKES, simulated(rng, events, slope, event_sd))
        low, high = told.change_interval_80
        held += low <= slope / 14 * TREND_DAYS <= high
    assert LIKELY - THREE_ERRORS <= held / SEASONS <= LIKELY + THREE_ERRORS + MOST_TOO_WIDE


@pytest.mark.parametrize(("events", "event_sd"), [(2, 0.0), (4, 0.06), (12, 0.06), (12, 0.12)])
def test_means_hold_the_truth_four_times_in_five(events, event_sd):
    rng = np.random.default_rng(events)
    held = 0
    for _ in range(SEASONS):
        points = simulated(rng, events, event_sd=event_sd)
        low, high = estimates_of({"": points}, SHARE_LIMITS)[""].interval_80
        held += low <= 0.45 <= high
    too_wide = MOST_TOO_WIDE_OF_TWO if events == 2 else MOST_TOO_WIDE
    assert LIKELY - THREE_ERRORS <= held / SEASONS <= LIKELY + THREE_ERRORS + too_wide


def test_racks_taken_for_independent_would_not_hold_it():
    """Why events are counted as one each: their own spread is what the interval must know."""
    rng = np.random.default_rng(3)
    held = 0
    for _ in range(SEASONS):
        points = simulated(rng, 12, event_sd=0.12)
        tried = sum(point.weight for point in points)
        mean = sum(point.value * point.weight for point in points) / tried
        held += abs(mean - 0.45) <= stats.norm.ppf(0.9) * np.sqrt(mean * (1 - mean) / tried)
    assert held / SEASONS < 0.6


@pytest.mark.parametrize(
    ("made", "tried", "more", "coming"), [(2, 6, 1, 3), (0, 4, 2, 5), (3, 3, 4, 4)]
)
def test_the_chance_of_cashes_is_beta_binomial(made, tried, more, coming):
    told = stats.betabinom.sf(more - 1, coming, made + 0.5, tried - made + 0.5)
    assert cash_chance(made, tried, more, coming) == pytest.approx(told)


def test_no_more_cashes_needed_is_sure_and_more_than_events_to_come_impossible():
    assert cash_chance(2, 5, 0, 3) == pytest.approx(1.0)
    assert cash_chance(2, 5, 4, 3) == 0.0


def target_of(chance, done, weight_to_come):
    return optimize.brentq(lambda at: mean_chance(done, weight_to_come, at) - chance, -2, 3)


@pytest.mark.parametrize("chance", [0.2, 0.8])
def test_the_chance_to_reach_a_mean_comes_as_often_as_told(chance):
    """Of seasons half bowled, with the target that has this chance by what is bowled."""
    rng = np.random.default_rng(11)
    reached = 0
    for _ in range(SEASONS):
        points = simulated(rng, 12, event_sd=0.12)
        done, rest = points[:6], points[6:]
        to_come = sum(point.weight for point in rest)
        target = target_of(chance, done, to_come)
        tried = sum(point.weight for point in points)
        reached += sum(point.value * point.weight for point in points) / tried >= target
    assert reached / SEASONS == pytest.approx(chance, abs=THREE_ERRORS)
