"""All figures of one run."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from benchmarks import instructions
from benchmarks.accuracy import SHOTS, largest_errors
from benchmarks.carried import carry_times
from benchmarks.kept import SEASON_SHOTS, keeping_costs
from benchmarks.machine import machine
from benchmarks.planned import FULL, LITTLE, Size, sheet_costs
from benchmarks.rates import MANY_SHOTS, rates, scaling, wear_to_roll
from benchmarks.read import read_costs
from benchmarks.starting import starts
from benchmarks.stood import standing_costs


@dataclass(frozen=True, slots=True)
class Effort:
    """How thoroughly to measure."""

    runs: int
    oracle_shots: int
    many_shots: int
    sheet: Size
    kept_shots: int
    processes: int | None = None
    """For the oracle; left out, one a core."""


THOROUGH = Effort(
    runs=9, oracle_shots=SHOTS, many_shots=MANY_SHOTS, sheet=FULL, kept_shots=SEASON_SHOTS
)
QUICK = Effort(runs=1, oracle_shots=4, many_shots=2048, sheet=LITTLE, kept_shots=100, processes=1)


def measured(effort: Effort) -> dict[str, Any]:
    """Every figure by its name in build/bench.json."""
    facts = machine()
    step = instructions.arithmetic(instructions.step_assembly())
    return {
        **rates(effort.runs),
        "kernel.two_core_scaling": scaling(effort.runs, effort.many_shots),
        "wear.ratio_to_roll": wear_to_roll(effort.runs),
        **carry_times(effort.runs),
        **read_costs(effort.runs),
        **standing_costs(effort.runs),
        **sheet_costs(effort.sheet),
        **keeping_costs(effort.kept_shots, effort.runs),
        **starts(effort.runs),
        **largest_errors(effort.oracle_shots, effort.processes),
        "instruction_set": instructions.SETS.get(instructions.widest(step), "none"),
        **facts,
    }
