"""Times of things that are compared: run by turns, so that a busy machine is fair to all."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping

import numpy as np
from numpy.typing import NDArray

Work = Callable[[], object]


def by_turns(
    works: Mapping[str, Work], runs: int, clock: Callable[[], float] = time.process_time
) -> dict[str, NDArray[np.float64]]:
    """Seconds (runs,) of each work; every one is done once before, to be compiled.

    The clock counts this process's seconds on a core, unless told otherwise.
    """
    for work in works.values():
        work()
    took_s: dict[str, list[float]] = {name: [] for name in works}
    for _ in range(runs):
        for name, work in works.items():
            start_s = clock()
            work()
            took_s[name].append(clock() - start_s)
    return {name: np.array(seconds) for name, seconds in took_s.items()}
