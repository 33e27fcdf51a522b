"""What docs/scale.md reckons from: core-seconds of each work of an event, and what a season and an
event's results take in PostgreSQL.

python -m benchmarks.scaled build/scale-bench.json
"""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from contextlib import closing
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from statistics import median
from typing import Any
from uuid import UUID, uuid4

# One thread, as the page reckons; told before anything that computes is imported.
os.environ.update(NUMBA_NUM_THREADS="1", OPENBLAS_NUM_THREADS="1")

import psycopg

from benchmarks.clocks import Work, by_turns
from benchmarks.machine import load_average, machine
from benchmarks.planned import FULL, event_of
from benchmarks.written import load_words, write_figures
from contracts.servers import postgresql, postgresql_programs
from contracts.things import account
from nextpair.application.archive import archive_of, unpack
from nextpair.application.bundle import EventFolder
from nextpair.application.clock import now_utc
from nextpair.application.demo_season import read_season, take_in_season
from nextpair.application.model_version import model_version
from nextpair.application.ports import unwatched
from nextpair.application.settings import Settings
from nextpair.application.store import Computed, Store
from nextpair.bootstrap import Program
from nextpair.domain.event import Event
from nextpair.files.results import result_document
from nextpair.reports.pocket_json import pocket_document
from nextpair.store.opening import open_store

SEED = 7
RUNS = 3
ACCOUNTS = 10
EVENTS = 20
SIX_GAMES = "2026-04-25-ploughshare-six"
ROWS = (
    "SELECT coalesce(sum(pg_total_relation_size(oid)), 0) FROM pg_class"
    " WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace"
)


@dataclass(frozen=True, slots=True)
class Works:
    """What an event is made of, and what it took: medians of core-seconds."""

    core_s: dict[str, float]
    documents: dict[str, Mapping[str, Any]]


def measured(runs: int) -> dict[str, Any]:
    """Everything, after one of each work that does not count."""
    facts = machine()
    program = Program(Settings(threads=1))
    works = _works(program, runs)
    return {
        "runs": runs,
        "core_s": works.core_s,
        "postgresql": _kept(program, works.documents),
        **facts,
        "machine.load_average_after": load_average(),
    }


def _works(program: Program, runs: int) -> Works:
    with program.demo_event() as path:
        event = program.load_event(path)
        shots = program.load_shots(path.with_name("shots.csv"), event)
        past = path.parent / "season" / "events" / SIX_GAMES / "event.toml"
        six = program.load_event(past)
        folder = program.load_folder(past)
    begun = now_utc().isoformat()
    made: dict[str, Any] = {}
    works: dict[str, Work] = {
        "sheet": lambda: program.plan(event, SEED),
        "sheet of the full event": lambda: program.plan(event_of(FULL), SEED),
        "pocket": lambda: program.fill_pocket(event, SEED, begun, sheet=made["sheet"]),
        "read": lambda: program.read(event, shots, SEED),
        "debrief": lambda: _debriefed(program, six, folder),
        "spares": lambda: program.shoot_every_spare(event, SEED),
    }
    took_s = by_turns({name: partial(_make, made, name, works[name]) for name in works}, runs)
    return Works(
        {name: float(median(each)) for name, each in took_s.items()},
        {
            "sheet": result_document(made["sheet"]),
            "spares": result_document(made["spares"]),
            "pocket": pocket_document(made["pocket"]),
            "read": result_document(made["read"]),
        },
    )


def _make(made: dict[str, Any], name: str, work: Work) -> None:
    made[name] = work()


def _debriefed(program: Program, event: Event, folder: EventFolder) -> object:
    """As `debrief` does it, and the app: the sheet before it with it."""
    from nextpair.cli.debrief import debrief_of

    return debrief_of(program, event, folder, SEED, unwatched)


def _kept(program: Program, documents: Mapping[str, Mapping[str, Any]]) -> dict[str, float]:
    """Bytes of rows and indexes, of which every dead row was swept out."""
    programs = postgresql_programs()
    if programs is None:
        raise SystemExit("no PostgreSQL here: `sh tools/needs.sh postgres` installs one")
    with postgresql(programs) as url, closing(open_store(url)) as store:
        papers = program.papers()
        first = account(store, "the first")
        take_in_season(store, papers, first, read_season(papers, program.demo_files()))
        archive = archive_of(store, first)
        before = _bytes(url)
        for number in range(ACCOUNTS):
            unpack(store, account(store, f"athlete {number}"), archive)
        seasons = _bytes(url)
        for _ in range(EVENTS):
            _keep_results(store, first, documents)
        return {
            "jottings_a_season": len(archive["jottings"]),
            "season_bytes": (seasons - before) / ACCOUNTS,
            "result_bytes_an_event": (_bytes(url) - seasons) / EVENTS,
        }


def _keep_results(store: Store, account: UUID, documents: Mapping[str, Mapping[str, Any]]) -> None:
    event, version = uuid4(), model_version()
    for kind, document in documents.items():
        noted = (uuid4(), event, kind, version, SEED, "", None, now_utc())
        store.keep_computed(account, Computed(*noted, document))


def _bytes(url: str) -> int:
    with psycopg.connect(url, autocommit=True) as connection:
        connection.execute("VACUUM FULL")
        row = connection.execute(ROWS).fetchone()
        return int(row[0]) if row else 0


def main(target: Path) -> None:
    """Measure, write, and show."""
    figures = measured(RUNS)
    write_figures(figures, target)
    for name, core_s in figures["core_s"].items():
        print(f"{name:24} {core_s:8.2f} core-s")
    for name, count in figures["postgresql"].items():
        print(f"{name:24} {count:8.0f}")
    print(f"{target}: {load_words(figures)}")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
