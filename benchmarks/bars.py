"""What each figure must be and what it should be, and the table that tells both."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Bar:
    """A figure's two bars; smaller is better unless `more` is."""

    must: float
    aim: float
    more: bool = False

    def verdict(self, measured: float) -> str:
        """Whether a measured figure meets its bars."""
        for bar, words in ((self.aim, "aim met"), (self.must, "met")):
            if measured >= bar if self.more else measured <= bar:
                return words
        return "NOT MET"


BARS = {
    "kernel.error_board_max": Bar(0.05, 0.02),
    "kernel.error_deg_max": Bar(0.02, 0.005),
    "kernel.ratio_to_scipy": Bar(2000, 4500, more=True),
    "kernel.shots_per_peak_gflop": Bar(2000, 2600, more=True),
    "kernel.two_core_scaling": Bar(1.7, 1.9, more=True),
    "wear.ratio_to_roll": Bar(3.0, 1.5),
    "carry.strikes_s_a_million": Bar(1.0, 0.25),
    "read.cpu_s": Bar(2.0, 0.7),
    "standing.cpu_s": Bar(2.0, 0.5),
    "sheet.cpu_s": Bar(40.0, 12.0),
    "sheet.peak_gb": Bar(1.5, 0.6),
    "sheet.ratio_of_twice_the_games": Bar(2.1, 1.9),
    "sheet.ratio_of_twice_the_balls": Bar(2.1, 1.9),
    "restore.s": Bar(10.0, 3.0),
    "backup.daily_s": Bar(2.0, 0.5),
    "start.compute_s": Bar(1.5, 1.0),
    "start.help_s": Bar(0.4, 0.25),
    "start.page_s": Bar(3.0, 1.5),
}
NARROW = {"kernel.shots_per_peak_gflop": Bar(1500, 1900, more=True)}
"""Without AVX-512: a smaller share of the peak is within reach with half the registers."""


def bar_of(name: str, instruction_set: str) -> Bar:
    """The bars of one figure for a kernel of that instruction set."""
    return BARS[name] if instruction_set == "avx512" else NARROW.get(name, BARS[name])


PAGE_BARS = {
    "phone.tap_to_kept_ms_median": Bar(150, 80),
    "phone.tap_to_kept_ms_worst": Bar(150, 80),
    "phone.page_kb": Bar(150, 80),
    "home.try_to_picture_ms_median": Bar(150, 60),
    "home.try_to_picture_ms_worst": Bar(150, 60),
    "api.p99_ms": Bar(100, 30),
}
"""Of the pages and their server, measured apart: `make figures`."""


def render_table(figures: Mapping[str, Any]) -> str:
    """Every figure of the model that has bars, beside them."""
    return render_rows(figures, {name: bar_of(name, figures["instruction_set"]) for name in BARS})


def render_rows(figures: Mapping[str, Any], bars: Mapping[str, Bar]) -> str:
    """Every figure of `bars`, beside them."""
    rows = [f"{'figure':<32}{'must':>9}{'aim':>9}{'measured':>11}"]
    for name, bar in bars.items():
        measured = figures[name]
        rows.append(
            f"{name:<32}{bar.must:>9g}{bar.aim:>9g}{measured:>11.4g}  {bar.verdict(measured)}"
        )
    return "\n".join(rows)
