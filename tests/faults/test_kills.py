"""kill -9 at random moments: what was acknowledged is there, and nothing stands half written."""

from __future__ import annotations

import shutil
import sqlite3
import time
from contextlib import closing
from pathlib import Path

from batch_events import little_event
from contracts.things import shot
from faults import doings
from faults.commands import begun, command
from faults.doings import BATCH, EVENT, LATER, LINES, SHEET, STORE, acknowledged, become_next
from faults.killing import Victim, moments
from nextpair.application.accounts import home_account
from nextpair.application.archive import archive_of, unpack
from nextpair.cli.output import write_files
from nextpair.store import schema
from nextpair.store.backup import back_up
from nextpair.store.copies import copies_of, damage
from nextpair.store.daily import keep_daily
from nextpair.store.opening import open_store


def contents(place: Path) -> dict:
    """Everything of the account at home."""
    with closing(open_store(place)) as store:
        return archive_of(store, home_account(store).id)


def parts(folder: Path) -> list[Path]:
    return list(folder.rglob("*.part*"))


def test_records_that_were_saved_are_there_after_a_kill(folder):
    saved = set()
    for wait_s in moments(0.2):
        saved |= set(Victim(doings.save, folder).killed_after(wait_s))
        assert damage(folder / STORE) is None
        with closing(open_store(folder / STORE)) as store:
            kept = {record.id for record in store.records(home_account(store).id)}
        assert saved <= kept
    assert saved


def test_shots_that_were_acknowledged_are_there_once_after_a_kill(folder):
    sent = []
    for wait_s in moments(0.2):
        sent += acknowledged(Victim(doings.append, folder).killed_after(wait_s))
        assert damage(folder / STORE) is None
        with closing(open_store(folder / STORE)) as store:
            log = store.log(home_account(store).id, EVENT)
        ids = [one.jotting.id for one in log]
        assert set(sent) <= set(ids)
        assert len(ids) == len(set(ids))
        assert len(ids) % BATCH == 0, "half a batch"
        assert [one.seq for one in log] == list(range(1, len(ids) + 1))
    assert sent


def test_a_migration_that_is_killed_is_whole_or_was_never_begun(folder, monkeypatch):
    before = contents(folder / STORE)
    monkeypatch.setattr(schema, "NEWEST", schema.NEWEST)
    monkeypatch.setattr(schema, "MIGRATIONS", schema.MIGRATIONS)
    for number, wait_s in enumerate(moments(0.3)):
        round_ = folder / f"round {number}"
        round_.mkdir()
        shutil.copyfile(folder / STORE, round_ / STORE)
        heard = Victim(doings.migrate, round_).killed_after(wait_s)
        become_next(round_)
        for last in {number for _, number in heard}:
            store = round_ / f"{last}" / STORE
            assert damage(store) is None
            assert kept_before(store)
            assert contents(round_ / f"{last}" / STORE) == before
        assert heard


def kept_before(store: Path) -> bool:
    """Whether a store is of the earlier schema still, or a sound copy of it as it was is there."""
    copies = copies_of(store)
    assert {damage(copy.path) for copy in copies} <= {None}
    if schema_of(store) != LATER:
        return True
    return bool(copies) and schema_of(copies[-1].path) != LATER


def schema_of(store: Path) -> str:
    """Which schema a file has."""
    with closing(sqlite3.connect(store)) as asked:
        found = asked.execute(f"SELECT version_num FROM {schema.VERSION_TABLE}")
        return str(found.fetchone()[0])


def test_a_backup_that_is_killed_leaves_the_one_before(folder):
    before, made = contents(folder / STORE), set()
    for wait_s in moments(0.2):
        made |= set(Victim(doings.copy, folder).killed_after(wait_s))
        kept = {path.name: path for path in (folder / "copies").glob("copy-*.sqlite3")}
        assert made <= set(kept)
        assert {damage(path) for path in kept.values()} <= {None}
    back_up(folder / STORE, folder / "copies" / "copy-0.sqlite3")
    assert contents(folder / "copies" / "copy-0.sqlite3") == before
    for number in range(5):
        back_up(folder / STORE, folder / "copies" / f"copy-{number}.sqlite3")
    assert parts(folder) == []


def test_rotation_that_is_killed_leaves_only_sound_copies(folder):
    newest = 0
    for wait_s in moments(0.3):
        newest = max(newest, *Victim(doings.rotate, folder).killed_after(wait_s), key=int_of)
        kept = copies_of(folder / STORE)
        assert kept[-1].number >= newest
        assert len(kept) >= min(newest, 7)
        assert {damage(copy.path) for copy in kept} == {None}
    keep_daily(folder / STORE, doings.FIRST_DAY.replace(year=2040))
    assert parts(folder) == []


def int_of(number: int | None) -> int:
    return number or 0


def test_restoring_that_is_killed_never_leaves_nothing(folder):
    back_up(folder / STORE, folder / "copy.sqlite3")
    before, restored = contents(folder / STORE), 0
    for wait_s in moments(0.2):
        restored += len(Victim(doings.put_back, folder).killed_after(wait_s))
        assert (folder / STORE).is_file()
        assert damage(folder / STORE) is None
        assert contents(folder / STORE) == before
        asides = list(folder.glob("*.before-restore-*"))
        assert {damage(path) for path in asides} <= {None}
        for path in asides:
            path.unlink()
    assert restored
    keep_daily(folder / STORE, doings.FIRST_DAY)
    assert parts(folder) == []


def test_restoring_that_is_killed_at_its_last_step_leaves_the_store_that_was_there(folder):
    back_up(folder / STORE, folder / "copy.sqlite3")
    with closing(open_store(folder / STORE)) as store:
        store.append(home_account(store).id, [shot(EVENT)])
    before = contents(folder / STORE)
    assert Victim(doings.stop_before_the_change, folder).killed_after(0.0) == ["about to"]
    assert (folder / STORE).is_file()
    assert contents(folder / STORE) == before


def test_files_of_a_sheet_are_each_whole_after_a_kill(folder):
    written = 0
    for wait_s in moments(0.1):
        written += len(Victim(doings.write_sheets, folder).killed_after(wait_s))
        for name in SHEET:
            lines = (folder / "sheets" / name).read_bytes().splitlines()
            assert len(lines) == LINES
            assert len(set(lines)) == 1, "of two sheets"
    assert written
    write_files({folder / "sheets" / name: b"last" for name in SHEET})
    assert sorted(path.name for path in (folder / "sheets").iterdir()) == sorted(SHEET)


def test_unpacking_that_is_killed_is_made_whole_by_unpacking_again(folder):
    archive, cut_off = contents(folder / STORE), 0
    for wait_s in moments(0.15):
        shutil.rmtree(folder / "other", ignore_errors=True)
        heard = Victim(doings.take_in, folder).killed_after(wait_s)
        cut_off += len(heard) == 1
        other = folder / "other" / STORE
        assert damage(other) is None
        with closing(open_store(other)) as store:
            unpack(store, home_account(store).id, archive)
        assert contents(other) == archive
    assert cut_off, "no kill came in time"


def test_a_sheet_command_that_is_killed_leaves_whole_files_or_none(tmp_path):
    event = str(little_event(tmp_path / "in"))
    assert command(tmp_path, "sheet", event, "--out", "whole").returncode == 0
    whole = files_in(tmp_path / "whole")
    assert sorted(whole) == sorted(SHEET)
    out = tmp_path / "out"
    with begun(tmp_path, "sheet", event, "--out", "out") as killed:
        while not any(out.glob(".sheet.json.*.part")):
            assert killed.poll() is None, "it ended before it was killed"
            time.sleep(0.001)
        killed.kill()
    left = files_in(out)
    assert {name: left[name] for name in SHEET if name in left}.items() <= whole.items()
    assert command(tmp_path, "sheet", event, "--out", "out").returncode == 0
    assert files_in(out) == whole


def files_in(folder: Path) -> dict[str, bytes]:
    """What lies in a folder, by name."""
    return {path.name: path.read_bytes() for path in folder.iterdir()}
