"""What docs/scale.md reckons from: core-seconds of each work of an event, and what a season and an
event's results take in PostgreSQL.

python -m benchmarks.scaled build/scale-bench.json
"""

from __future__ import annotations

import json
import os
import sys
import time
from collections.abc import Callable, Mapping
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from statistics import median
from typing import Any, TypeVar
from uuid import UUID, uuid4

# One thread, as the page reckons; told before anything that computes is imported.
os.environ.update(NUMBA_NUM_THREADS="1", OPENBLAS_NUM_THREADS="1")

import psycopg

from benchmarks.machine import machine
from benchmarks.planned import FULL, event_of
from contracts.servers import postgresql, postgresql_programs
from nextpair.application.archive import archive_of, unpack
from nextpair.application.bundle import EventFolder
from nextpair.application.demo_season import read_season, take_in_season
from nextpair.application.model_version import model_version
from nextpair.application.ports import unwatched
from nextpair.application.settings import Settings
from nextpair.application.store import Account, Computed, Store
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
Result = TypeVar("Result")


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
        "machine.load_average_after": [round(load, 2) for load in os.getloadavg()],
    }


def _works(program: Program, runs: int) -> Works:
    with program.demo_event() as path:
        event = program.load_event(path)
        shots = program.load_shots(path.with_name("shots.csv"), event)
        past = path.parent / "season" / "events" / SIX_GAMES / "event.toml"
        six = program.load_event(past)
        folder = program.load_folder(past)
    core_s: dict[str, float] = {}

    def timed(name: str, work: Callable[[], Result]) -> Result:
        work()
        took_s = []
        for _ in range(runs):
            begun_s = time.process_time()
            done = work()
            took_s.append(time.process_time() - begun_s)
        core_s[name] = median(took_s)
        return done

    sheet = timed("sheet", lambda: program.plan(event, SEED))
    timed("sheet of the full event", lambda: program.plan(event_of(FULL), SEED))
    pocket = timed("pocket", lambda: program.fill_pocket(event, SEED, _now(), sheet=sheet))
    read = timed("read", lambda: program.read(event, shots, SEED))
    timed("debrief", lambda: _debriefed(program, six, folder))
    spares = timed("spares", lambda: program.shoot_every_spare(event, SEED))
    return Works(
        core_s,
        {
            "sheet": result_document(sheet),
            "spares": result_document(spares),
            "pocket": pocket_document(pocket),
            "read": result_document(read),
        },
    )


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
        first = _account(store, "the first")
        take_in_season(store, papers, first, read_season(papers, program.demo_files()))
        archive = archive_of(store, first)
        before = _bytes(url)
        for number in range(ACCOUNTS):
            unpack(store, _account(store, f"athlete {number}"), archive)
        seasons = _bytes(url)
        for _ in range(EVENTS):
            _keep_results(store, first, documents)
        return {
            "jottings_a_season": len(archive["jottings"]),
            "season_bytes": (seasons - before) / ACCOUNTS,
            "result_bytes_an_event": (_bytes(url) - seasons) / EVENTS,
        }


def _account(store: Store, name: str) -> UUID:
    account = Account(uuid4(), name, None)
    store.add_account(account)
    return account.id


def _keep_results(store: Store, account: UUID, documents: Mapping[str, Mapping[str, Any]]) -> None:
    event, version = uuid4(), model_version()
    for kind, document in documents.items():
        noted = (uuid4(), event, kind, version, SEED, "", None, datetime.now(UTC))
        store.keep_computed(account, Computed(*noted, document))


def _bytes(url: str) -> int:
    with psycopg.connect(url, autocommit=True) as connection:
        connection.execute("VACUUM FULL")
        row = connection.execute(ROWS).fetchone()
        return int(row[0]) if row else 0


def _now() -> str:
    return datetime.now(UTC).isoformat()


def main(target: Path) -> None:
    """Measure, write, and show."""
    figures = measured(RUNS)
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_text(json.dumps(figures, indent=2) + "\n", "utf-8")
    for name, core_s in figures["core_s"].items():
        print(f"{name:24} {core_s:8.2f} core-s")
    for name, count in figures["postgresql"].items():
        print(f"{name:24} {count:8.0f}")
    loads = f"{figures['machine.load_average'][0]} to {figures['machine.load_average_after'][0]}"
    print(f"{target}: load average {loads}")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
