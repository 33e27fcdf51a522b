"""Figures of a season: over time, and by what events have in common.

One event is one value, whatever its games: they share lanes, oil and form. A value counts by its
tries, so that means are shares of all tries; the spread of events about the mean or the line, as
they were, says how sure it is (weighted least squares, Student's t). No interval is narrower than
the luck of the tries alone would make it.

Source: [draper-smith-1998] sections 1.4 and 9.2.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from nextpair.application.intervals import LIKELY
from nextpair.domain.season import TREND_DAYS, Estimate, Figure, Point, Trend
from nextpair.domain.standing import Interval

FEWEST_EVENTS = 5
"""That a trend is told of: a line through fewer leaves hardly anything to see its doubt by."""
SHARE_LIMITS, NO_LIMITS = (0.0, 1.0), (-np.inf, np.inf)
LIMITS: dict[Figure, tuple[float, float]] = {
    Figure.STRIKES: SHARE_LIMITS,
    Figure.SPARES: SHARE_LIMITS,
    Figure.FIELD_RELATIVE: NO_LIMITS,
}


def estimates_of(
    groups: Mapping[str, Sequence[Point]], limits: Interval = NO_LIMITS
) -> dict[str, Estimate]:
    """Each group's mean. How much events differ is taken from all groups together."""
    known = {name: points for name, points in groups.items() if points}
    squares, events = 0.0, 0
    for points in known.values():
        values, weights = _columns(points)
        squares += float(weights @ (values - np.average(values, weights=weights)) ** 2)
        events += len(points)
    freedom = events - len(known)
    variance = squares / freedom if freedom else 0.0
    return {name: _estimate(points, variance, freedom, limits) for name, points in known.items()}


def estimate_of(points: Sequence[Point], limits: Interval = NO_LIMITS) -> Estimate | None:
    """The mean of some events; None without any."""
    return estimates_of({"": points}, limits).get("")


def slope_of(
    at: Sequence[float], points: Sequence[Point]
) -> tuple[float, float, float, float] | None:
    """Slope, its low and high end, and the value at the weighted mean of `at`, of a straight line
    through points; None where they are too few or at one place."""
    if len(points) < FEWEST_EVENTS or len(set(at)) < 3:
        return None
    values, weights = _columns(points)
    places = np.asarray(at, float)
    middle = float(np.average(places, weights=weights))
    mean = float(np.average(values, weights=weights))
    reach = float(weights @ (places - middle) ** 2)
    slope = float(weights @ ((places - middle) * (values - mean))) / reach
    rest = values - mean - slope * (places - middle)
    freedom = len(points) - 2
    variance = float(weights @ rest**2) / freedom
    half = _half_width(variance, freedom, _luck(points)) / np.sqrt(reach)
    return slope, slope - half, slope + half, mean


def trend_of(figure: Figure, points: Sequence[Point]) -> Trend:
    """A figure over time, from first event to last."""
    points = tuple(sorted(points, key=lambda point: (point.date, point.event)))
    every = estimate_of(points, LIMITS[figure])
    at = [float(point.date.toordinal()) for point in points]
    found = slope_of(at, points)
    if found is None:
        return Trend(figure, points, every, None, None, None, _too_few(points))
    slope, low, high, mean = found
    middle = float(np.average(at, weights=[point.weight for point in points]))
    ends = (mean + slope * (at[0] - middle), mean + slope * (at[-1] - middle))
    return Trend(
        figure=figure,
        points=points,
        all=every,
        change=slope * TREND_DAYS,
        change_interval_80=(low * TREND_DAYS, high * TREND_DAYS),
        line=ends,
        words=_trend_words(low, high),
    )


def student(chance: float, freedom: int) -> float:
    """Quantile of Student's t."""
    from scipy import special

    return float(special.stdtrit(freedom, chance))


def _trend_words(low: float, high: float) -> str:
    if low > 0:
        return "It rises: the interval of its change lies above nothing."
    if high < 0:
        return "It falls: the interval of its change lies below nothing."
    return "No trend can be told: the interval of its change holds nothing as well."


def _too_few(points: Sequence[Point]) -> str:
    told = len(points)
    if told < FEWEST_EVENTS:
        return (
            f"No trend can be told of so few: {told} of the {FEWEST_EVENTS} events that it takes."
        )
    return "No trend can be told: the events lie on too few days."


def _estimate(
    points: Sequence[Point], variance: float, freedom: int, limits: Interval
) -> Estimate:
    values, weights = _columns(points)
    mean = float(np.average(values, weights=weights))
    luck = _luck(points)
    half = _half_width(variance, freedom, luck) / float(np.sqrt(weights.sum()))
    interval = (max(mean - half, limits[0]), min(mean + half, limits[1])) if half else None
    return Estimate(len(points), mean, interval, by_luck_alone=not freedom)


def _half_width(variance: float, freedom: int, luck: float) -> float:
    """Of an interval for a mean of weight 1."""
    from scipy import special

    by_luck = float(special.ndtri((1 + LIKELY) / 2)) * float(np.sqrt(luck))
    if not freedom:
        return by_luck
    return max(student((1 + LIKELY) / 2, freedom) * float(np.sqrt(variance)), by_luck)


def _luck(points: Sequence[Point]) -> float:
    """Variance of one try, in the mean over all of them."""
    return float(np.average([point.luck for point in points], weights=_columns(points)[1]))


def _columns(points: Sequence[Point]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    return (
        np.array([point.value for point in points], float),
        np.array([point.weight for point in points], float),
    )
