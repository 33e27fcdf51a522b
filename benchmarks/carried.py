"""How long the carry table takes to tell the strike chance, and all leaves, of many impacts."""

from __future__ import annotations

import numpy as np

from benchmarks.clocks import by_turns
from benchmarks.rates import threads
from nextpair.carry.table import load_table

IMPACTS = 1_000_000
LEAVE_IMPACTS = 50_000
"""Fewer where every leave is told: a row for a million would fill more than a gigabyte."""


def carry_times(runs: int) -> dict[str, float]:
    """Seconds of one core for a million impacts all over the table, medians."""
    rng = np.random.default_rng(7)
    impacts = [rng.uniform(low, high, IMPACTS) for low, high in ((-22, 22), (-3, 10), (5, 10))]
    some = [column[:LEAVE_IMPACTS] for column in impacts]
    table = load_table()
    with threads(1):
        took_s = by_turns(
            {
                "strikes": lambda: table.strike_probability(*impacts),
                "errors": lambda: table.strike_error(*impacts),
                "leaves": lambda: table.leave_probability(*some),
            },
            runs,
        )
    middle_s = {name: float(np.median(seconds)) for name, seconds in took_s.items()}
    return {
        "carry.strikes_s_a_million": middle_s["strikes"],
        "seen.carry_errors_s_a_million": middle_s["errors"],
        "seen.carry_leaves_s_a_million": middle_s["leaves"] * IMPACTS / LEAVE_IMPACTS,
    }
