"""`make fuzz`: damaged input by the hundred thousand, and a table of what became of it."""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

from fuzz.cases import kept
from fuzz.guided import GUIDED, run_guided
from fuzz.judge import judged
from fuzz.runner import kept_faults, run_all, table, targets, together

KEPT = Path("build/fuzz")
SHARE_OF_GUIDED = 10
"""One case in so many is made by the fuzzer that watches which lines run, where it is there."""


def main() -> int:
    """Run, or put one case in again; 1 where anything failed."""
    asked = _arguments()
    if asked.replay is not None:
        return _replay(asked.replay)
    started = time.monotonic()
    guided_cases = 0 if asked.target else asked.cases // SHARE_OF_GUIDED
    tallies = together(run_all(asked.cases - guided_cases, asked.seed, asked.processes,
                               asked.target))  # fmt: skip
    if guided_cases:
        tallies |= run_guided(guided_cases, asked.seed, asked.processes)
    print(table(tallies))
    print(f"seed {asked.seed}, {asked.processes} processes, {time.monotonic() - started:.0f} s")
    faults = list(kept_faults(tallies, KEPT))
    for path, words in faults:
        print(f"{path}: {words}")
    if faults:
        print(f"put one in again: make fuzz CASE={faults[0][0]}")
    return 1 if faults else 0


def _replay(path: Path) -> int:
    name, case = kept(path)
    target = targets()[name.removeprefix(GUIDED)]
    target.ready()
    verdict = judged(target.run, case)
    print(f"{name}: {'refused' if verdict.refused else 'taken'} in {verdict.seconds:.3f} s")
    print(verdict.fault or "in order")
    return 1 if verdict.fault else 0


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="make fuzz")
    parser.add_argument("--cases", type=int, default=100_000)
    parser.add_argument("--seed", type=int, default=7)
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--target", action="append", help="only this one; may be said again")
    parser.add_argument("--replay", type=Path, help="a case that was kept")
    return parser.parse_args()


if __name__ == "__main__":
    sys.exit(main())
