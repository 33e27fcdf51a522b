"""Runs many cases of many targets over the cores, and tells what became of them."""

from __future__ import annotations

import json
import multiprocessing
import warnings
import zlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, Phase, Verbosity, given, seed, settings

from fuzz.cases import keep, of_json, text_of
from fuzz.judge import judged
from fuzz.target import Target

CHUNK_CASES = 500
"""Cases of one run of hypothesis; each has a seed of its own, so any can be made again."""
MOST_KEPT = 20
"""Failing cases of a target that are written down; all are counted."""
LONGEST_FAULT = 400


@dataclass(slots=True)
class Tally:
    """What became of a target's cases. faults : the shortest case of each fault."""

    target: str
    cases: int = 0
    refused: int = 0
    slowest_s: float = 0.0
    failures: int = 0
    faults: dict[str, str] = field(default_factory=dict)

    def add(self, other: Tally) -> None:
        """Count what another one has."""
        self.cases += other.cases
        self.refused += other.refused
        self.slowest_s = max(self.slowest_s, other.slowest_s)
        self.failures += other.failures
        for fault, case in other.faults.items():
            self.note(fault, case)

    def note(self, fault: str, case: str) -> None:
        """Keep the shortest case of a fault."""
        known = self.faults.get(fault)
        if known is None and len(self.faults) >= MOST_KEPT:
            return
        if known is None or len(case) < len(known):
            self.faults[fault] = case


@cache
def targets() -> dict[str, Target]:
    """All targets by name."""
    from fuzz import commands, keeping, parsers, routes

    parts = (parsers, keeping, routes, commands)
    return {target.name: target for part in parts for target in part.TARGETS}


def shares(cases: int, names: list[str] | None = None) -> dict[str, int]:
    """How many cases each target gets, by its weight; together at least so many."""
    chosen = {name: targets()[name] for name in names or targets()}
    weights = sum(target.weight for target in chosen.values())
    return {name: -(-cases * target.weight // weights) for name, target in chosen.items()}


def chunks(cases: int, number: int, names: list[str] | None = None) -> list[tuple[str, int, int]]:
    """The runs: target, seed, cases; the big ones first, so that the cores end together."""
    found = []
    for name, share in shares(cases, names).items():
        for place, start in enumerate(range(0, share, CHUNK_CASES)):
            own = zlib.crc32(f"{number} {name} {place}".encode())
            found.append((name, own, min(CHUNK_CASES, share - start)))
    return sorted(found, key=lambda chunk: -chunk[2] / targets()[chunk[0]].weight)


def run_chunk(chunk: tuple[str, int, int]) -> Tally:
    """Make and judge the cases of one run."""
    name, own_seed, count = chunk
    target = targets()[name]
    target.ready()
    tally = Tally(name)

    @seed(own_seed)
    @settings(
        max_examples=count,
        database=None,
        deadline=None,
        phases=(Phase.generate,),
        suppress_health_check=list(HealthCheck),
        verbosity=Verbosity.quiet,
    )
    @given(target.cases())
    def each(case: Any) -> None:
        take(tally, target, case)

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        each()
    return tally


def take(tally: Tally, target: Target, case: Any) -> None:
    """Judge one case, as it would be read from a file, and count it."""
    text = text_of(case)
    verdict = judged(target.run, of_json(_plain(case)))
    tally.cases += 1
    tally.refused += verdict.refused
    tally.slowest_s = max(tally.slowest_s, verdict.seconds)
    if verdict.fault:
        tally.failures += 1
        tally.note(verdict.fault.strip()[: LONGEST_FAULT * 4], text)


def _plain(case: Any) -> Any:

    return json.loads(text_of(case))


def run_all(
    cases: int, number: int, processes: int, names: list[str] | None = None
) -> Iterator[Tally]:
    """Run over so many processes; each run's tally as it ends."""
    todo = chunks(cases, number, names)
    if processes == 1:
        yield from map(run_chunk, todo)
        return
    with multiprocessing.get_context("spawn").Pool(processes, _begin) as pool:
        yield from pool.imap_unordered(run_chunk, todo)


def _begin() -> None:
    from nextpair.application.settings import Settings
    from nextpair.bootstrap import prepare_compiler

    prepare_compiler(Settings())


def together(tallies: Iterator[Tally]) -> dict[str, Tally]:
    """One tally a target, in the targets' order."""
    found: dict[str, Tally] = {}
    for tally in tallies:
        found.setdefault(tally.target, Tally(tally.target)).add(tally)
    return {name: found[name] for name in sorted(found, key=_place)}


def _place(name: str) -> tuple[int, str]:
    order = list(targets())
    return (order.index(name), name) if name in order else (len(order), name)


def table(tallies: dict[str, Tally]) -> str:
    """The figures of all targets, and of all together."""
    whole = Tally("together")
    for tally in tallies.values():
        whole.add(tally)
    rows = [["target", "cases", "refused", "taken", "slowest ms", "failures"]]
    rows += [
        [one.target, f"{one.cases:,}", f"{one.refused:,}", f"{one.cases - one.refused:,}",
         f"{1000 * one.slowest_s:.0f}", f"{one.failures:,}"]
        for one in (*tallies.values(), whole)
    ]  # fmt: skip
    widths = [max(len(row[place]) for row in rows) for place in range(len(rows[0]))]
    return "\n".join(
        "  ".join([row[0].ljust(widths[0]), *map(str.rjust, row[1:], widths[1:])]) for row in rows
    )


def kept_faults(tallies: dict[str, Tally], folder: Path) -> Iterator[tuple[Path, str]]:
    """Write each fault's shortest case down; its file, and the fault's first line."""
    for tally in tallies.values():
        for fault, case in tally.faults.items():
            yield keep(folder, tally.target, case, fault), fault.splitlines()[0][:LONGEST_FAULT]
