"""How long syncs took and how many were answered: told as a run ends, kept in build/load.json."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, ClassVar


class Latency:
    """The figures of every fleet of a run."""

    figures: ClassVar[dict[str, dict[str, Any]]] = {}

    @classmethod
    def tell(cls, name: str, times_ms: Sequence[float], took_s: float) -> None:
        """Note the times of one fleet, shortest first, and how long all of it took."""
        cls.figures[name] = {
            "syncs": len(times_ms),
            "median_ms": round(_quantile(times_ms, 0.5), 1),
            "p99_ms": round(_quantile(times_ms, 0.99), 1),
            "worst_ms": round(times_ms[-1], 1),
            "syncs_a_second": round(len(times_ms) / took_s),
        }


def _quantile(ordered: Sequence[float], share: float) -> float:
    """The smallest value that so large a share does not exceed."""
    return ordered[math.ceil(share * len(ordered)) - 1]
