"""Freeze stores of the schema as it is now, for tests/contracts/test_frozen_stores.py.

    PYTHONPATH=tests python tools/frozen_store.py    (half a minute; needs PostgreSQL)

Run it before a migration is added, on the program that still has the schema before it: it refuses
to write over what is frozen. It fills a store with the demo season, every kind of jotting, results
of a real event, jobs, sessions, a second account, shares and a guest's link, and writes what each
database makes of it as SQL, and beside that, in a file named snapshot, what the program of that
day reads out of it.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import tempfile
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID, uuid5

from contracts.frozen_files import pack, sqlite_words
from contracts.frozen_stores import FROZEN, told_of
from contracts.servers import postgresql, postgresql_programs
from nextpair.application.accounts import HOME
from nextpair.application.archive import unpack
from nextpair.application.demo_season import kept_events, read_season, take_in_season
from nextpair.application.events import bundle_of
from nextpair.application.jobs import inputs_of
from nextpair.application.model_version import model_version
from nextpair.application.settings import Settings
from nextpair.application.store import Account, Computed, Job, Store, Ticket
from nextpair.bootstrap import Program, prepare_compiler
from nextpair.domain.jotting import Jotting, JottingKind
from nextpair.domain.record import Document, Draft, Kind, Record
from nextpair.domain.sharing import GuestLink, Share
from nextpair.files.results import result_document
from nextpair.store.opening import open_store
from nextpair.store.schema import NEWEST
from small_event import SEED, small_event, small_sheet

BELOW = UUID("3d7c1f1e-5b1a-4e35-9a53-0c2f3a8f6b11")
"""Ids of what is frozen are named below it."""
NOON = datetime(2026, 11, 28, 12, tzinfo=UTC)
EVENTS = 2
"""Of the season that are kept: enough for every kind of jotting."""
SHIFT = timedelta(hours=5)
"""Of an instant with another offset: a database keeps which moment, not which clock."""
JOB_STATES = ("waiting", "running", "done", "failed", "cancelled", "interrupted")


def main() -> None:
    """Fill, dump and write; nothing where this schema is frozen already."""
    if frozen := sorted(FROZEN.glob(f"{NEWEST}*")):
        sys.exit(f"{frozen[0]} is frozen already")
    programs = postgresql_programs()
    if programs is None:
        sys.exit("install a PostgreSQL server first: make postgres")
    prepare_compiler(Settings())
    program = Program(Settings())
    with tempfile.TemporaryDirectory() as folder, postgresql(programs) as url:
        file = Path(folder) / "store.sqlite3"
        results = _results(program)
        told = [_filled(str(file), program, results)]
        [_, mine] = sorted(told[0]["archives"], key=lambda one: len(one["records"]))
        told.append(_filled(url, program, results, mine))
        if told[0] != told[1]:
            sys.exit("the two databases do not tell the same")
        pack(FROZEN / f"{NEWEST}_sqlite.sql.xz", sqlite_words(file))
        dump = [
            shutil.which("pg_dump") or str(programs.resolve() / "pg_dump"),
            "--inserts",
            "--no-owner",
            "--no-privileges",
            url,
        ]
        words = subprocess.run(dump, check=True, capture_output=True).stdout
        pack(FROZEN / f"{NEWEST}_postgresql.sql.xz", words)
    snapshot = json.dumps(told[0], indent=1, ensure_ascii=False).encode()
    pack(FROZEN / f"{NEWEST}_snapshot.json.xz", snapshot)


def _filled(
    place: str, program: Program, results: dict[str, Document], archive: Document | None = None
) -> Any:
    """What a store tells once it is full. An archive of another one brings the same ids."""
    with closing(open_store(place, lambda: NOON)) as store:
        me = _id("home")
        store.add_account(Account(me, HOME, None))
        if archive is None:
            papers = program.papers()
            season = read_season(papers, program.demo_files())
            take_in_season(store, papers, me, replace(season, events=season.events[:EVENTS]))
            _change_and_delete(store, me)
            _jot(store, me)
        else:
            unpack(store, me, archive)
        first = kept_events(store, me)[0]
        for number, (kind, document) in enumerate(results.items()):
            inputs = inputs_of(bundle_of(store, me, first.id), kind)
            made_at = NOON + timedelta(minutes=number, microseconds=number)
            store.keep_computed(
                me,
                Computed(
                    _id(kind), first.id, kind, model_version(), 7, inputs, 3, made_at, document
                ),
            )
        for number, state in enumerate(JOB_STATES):
            why = "the field is empty" if state == "failed" else ""
            result = _id("sheet") if state == "done" else None
            made_at = NOON + timedelta(minutes=number)
            job = Job(
                _id(state), me, "sheet", first.id, state, "lane 7", 3, 9, why, result, made_at
            )
            store.keep_job(job)
        _somebody_else(store)
        _share(store, me, first.id)
        return told_of(store)


def _change_and_delete(store: Store, me: UUID) -> None:
    """Versions of a record, one that is deleted, one that came back."""
    pattern = store.save(
        me, Draft(_id("pattern"), Kind.PATTERN, "Oär Shed 40", {"name": "a"}), None
    )
    changed = replace(_draft_of(pattern), name="Oar Shed 41")
    store.save(me, changed, pattern.revision)
    store.delete(me, pattern.id)
    house = store.save(me, Draft(_id("house"), Kind.HOUSE, "Teasel Lanes", {"name": "b"}), None)
    store.delete(me, house.id)
    store.restore(me, house.id)


def _draft_of(record: Record) -> Draft:
    return Draft(record.id, record.kind, record.name, record.document, record.links)


def _jot(store: Store, me: UUID) -> None:
    """A tick, a correction, and a jotting taken back, beside what the season brings."""
    event = kept_events(store, me)[0].id
    said = [
        (JottingKind.TICK, {"item": "towel", "done": True}, None),
        (
            JottingKind.NOTE,
            {"about": "lane 7", "text": "Höchstens zwei Bretter — 投げ方 🎳"},
            None,
        ),
        (JottingKind.NOTE, {"about": "lane 7", "text": "corrected"}, "1"),
        (JottingKind.SCORE, {"name": "Bo Farr", "game": 1, "score": 201, "handicap": 0}, None),
        (JottingKind.VOID, {}, "3"),
    ]
    jottings = [
        Jotting(
            _id(f"jotting {number}"),
            event,
            "frozen phone",
            2**40 + number,
            kind,
            payload,
            None if of is None else _id(f"jotting {of}"),
            1,
            "2026-11-28T12:00:00+01:00",
        )
        for number, (kind, payload, of) in enumerate(said)
    ]
    store.append(me, jottings)


def _somebody_else(store: Store) -> None:
    """A second account, with a password's hash, a session, a link, and a record of its own."""
    other = Account(_id("other"), "Péle Nørre", "$argon2id$frozen")
    store.add_account(other)
    store.save(other.id, Draft(_id("kit"), Kind.GOAL, "A goal", {"name": "c"}), None)
    for once in (False, True):
        expires_at = datetime(2099, 1, 1, tzinfo=UTC) - SHIFT
        store.keep_ticket(Ticket(f"{once}".ljust(64, "0"), other.id, expires_at, once, "phone"))


def _share(store: Store, me: UUID, event: UUID) -> None:
    """One event, and everything, for the second account; everything of theirs; a guest's link."""
    other = _id("other")
    for number, (owner, reader, what) in enumerate(
        ((me, other, event), (me, other, None), (other, me, None))
    ):
        since = NOON - SHIFT + timedelta(microseconds=number)
        store.keep_share(Share(owner, reader, what, since))
    digest = "".ljust(64, "a")
    store.keep_guest_link(GuestLink(digest, me, event, NOON, NOON + timedelta(days=30) - SHIFT))


def _results(program: Program) -> dict[str, Document]:
    """A sheet, its spares and a read of the bundled demo, as they are kept."""
    with program.demo_event() as path:
        event = program.load_event(path)
        shots = program.load_shots(path.with_name("shots.csv"), event)
    return {
        "sheet": result_document(small_sheet()),
        "spares": result_document(program.shoot_every_spare(small_event(), SEED)),
        "read": result_document(program.read(event, shots, SEED)),
    }


def _id(name: str) -> UUID:
    return uuid5(BELOW, name)


if __name__ == "__main__":
    main()
