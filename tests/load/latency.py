"""How long syncs took, told at the end of the run and kept in build/load.json."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, ClassVar


class Latency:
    """The figures of every fleet of a run."""

    figures: ClassVar[dict[str, dict[str, Any]]] = {}

    @classmethod
    def tell(cls, name: str, times_ms: Sequence[float]) -> None:
        """Note the times of one fleet, shortest first."""
        cls.figures[name] = {
            "syncs": len(times_ms),
            "median_ms": round(_quantile(times_ms, 0.5), 1),
            "p99_ms": round(_quantile(times_ms, 0.99), 1),
            "worst_ms": round(times_ms[-1], 1),
        }


def _quantile(ordered: Sequence[float], share: float) -> float:
    """The smallest value that so large a share does not exceed."""
    return ordered[math.ceil(share * len(ordered)) - 1]
