"""The bad case: the mean of the worst tenth of what may happen."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nextpair.domain.errors import require

FloatArray = NDArray[np.float64]

BAD_SHARE = 0.1
"""The share of cases, worst first, that the bad case is the mean of."""


def worst_tenth(pins: ArrayLike) -> FloatArray:
    """Mean of the worst tenth along the last axis of equally likely cases (..., n) -> (...).

    Where a tenth is no whole number of cases the last one counts in part. Source: closed form,
    the tail mean of a discrete distribution.
    """
    cases = np.asarray(pins, float)
    require(cases.ndim > 0 and cases.shape[-1] > 0, "pins", cases.shape, "at least one case")
    most = BAD_SHARE * cases.shape[-1]
    counted = np.clip(most - np.arange(cases.shape[-1]), 0.0, 1.0)
    return np.asarray(np.sort(cases, axis=-1) @ counted / most)
