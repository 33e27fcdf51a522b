"""What few numbers say of many more: intervals of shares and of means."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.errors import require
from nextpair.domain.statistics import MeanPins, Share

LIKELY = 0.8
"""Share of what is believed that an interval holds."""
HALF_OF_80 = 1.2816
"""Standard deviations from the middle of a normal distribution to the end of its middle 80 %."""
HALF_COUNT = 0.5
RESAMPLES = 2000
SEED = 7


def share_interval(made: int, tried: int, share: float = LIKELY) -> tuple[float, float, float]:
    """Mean, low and high of the share that `made` of `tried` is a sample of; as much of what is
    believed lies below as above.

    Half a success and half a failure are added (Jeffreys' prior). Where none was made the interval
    begins at 0, where all were it ends at 1. Raises InvalidValueError where more were made than
    tried.

    Source: [brown-cai-dasgupta-2001].
    """
    require(0 <= made <= tried, "made", made, f"0 to {tried}, as many as were tried")
    require(0 < share < 1, "share", share, "between 0 and 1")
    from scipy import special  # takes as long to load as the pages do

    successes, failures = made + HALF_COUNT, tried - made + HALF_COUNT
    outside = (1 - share) / 2
    low, high = special.betaincinv(successes, failures, [outside, 1 - outside])
    mean = successes / (successes + failures)
    return mean, float(low) if made else 0.0, float(high) if made < tried else 1.0


def mean_interval(
    values: Sequence[float], share: float = LIKELY, seed: int = SEED
) -> tuple[float, float, float]:
    """Mean, low and high of the mean that the values are a sample of, by the bootstrap.

    Percentiles of resampled means, smoothed by what resampling takes off the spread of so few,
    and taken further out as far as Student's t is beyond the normal. Raises InvalidValueError
    unless two values or more differ.

    Source: [hesterberg-2015] smoothed bootstrap and expanded percentile interval.
    """
    sample = np.asarray(values, float)
    require(len(set(values)) > 1, "values", len(values), "two values or more that differ")
    require(0 < share < 1, "share", share, "between 0 and 1")
    means = _resampled_means(sample, np.random.default_rng(seed))
    from scipy import special

    reach = special.stdtrit(len(sample) - 1, (1 + share) / 2)
    low, high = np.quantile(means, special.ndtr([-reach, reach]))
    return float(sample.mean()), float(low), float(high)


def share_of(made: int, tried: int) -> Share:
    """A share with its interval; without one where nothing was tried."""
    if not tried:
        return Share(0, 0, None, None)
    mean, low, high = share_interval(made, tried)
    return Share(made, tried, mean, (low, high))


def mean_of(values: Sequence[float], most_pins: float, least_pins: float = 0.0) -> MeanPins:
    """A mean with its interval, which ends at the least and the most there can be; without one
    where no two values differ."""
    if len(set(values)) < 2:
        return MeanPins(len(values), values[0] if values else None, None)
    mean, low, high = mean_interval(values)
    return MeanPins(len(values), mean, (max(low, least_pins), min(high, most_pins)))


def _resampled_means(sample: NDArray[np.float64], rng: np.random.Generator) -> NDArray[np.float64]:
    """Means of samples drawn from this one, as many values each: drawn as how often each of its
    different values comes. Their mean square is that of an unbiased one."""
    found, times = np.unique(sample, return_counts=True)
    drawn = rng.multinomial(len(sample), times / len(sample), RESAMPLES)
    smoothing = rng.normal(0.0, sample.std(ddof=1) / len(sample), RESAMPLES)
    means: NDArray[np.float64] = drawn @ found / len(sample) + smoothing
    return means
