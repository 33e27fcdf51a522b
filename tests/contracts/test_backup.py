"""Backups: whole, checked, identical when they come back, and never at the old store's cost."""

from __future__ import annotations

import shutil
import sqlite3
import stat
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from datetime import timedelta
from pathlib import Path
from uuid import uuid4

import pytest

from contracts.things import NOON, account, draft, job, result, shot
from nextpair.application.store import Ticket
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.record import Kind
from nextpair.domain.sharing import GuestLink, Share
from nextpair.store import backup as backups
from nextpair.store.backup import back_up, restore
from nextpair.store.opening import open_store
from nextpair.store.schema import VERSION_TABLE


@pytest.fixture
def place(empty_file, tmp_path) -> Path:
    """A store with something of everything in it."""
    path = tmp_path / "data" / "nextpair.sqlite3"
    path.parent.mkdir()
    shutil.copyfile(empty_file, path)
    with closing(open_store(path)) as store:
        me = account(store, "Ada")
        bowler = draft(Kind.BOWLER, "Ada Voss")
        event = draft(Kind.EVENT, "Harbour Open", bowler.id)
        gone = draft(name="Ebb")
        store.save_all(me, [event, bowler, gone])
        store.delete(me, gone.id)
        store.append(me, [shot(event.id, number) for number in range(1, 30)])
        store.keep_computed(me, result(event.id, games=[1.5] * 500))
        store.keep_job(job(me))
        store.keep_ticket(Ticket("d1", me, NOON, once=True))
        store.keep_share(Share(me, account(store, "Coach"), None, NOON))
        store.keep_guest_link(GuestLink("d2", me, event.id, NOON, NOON + timedelta(days=7)))
    return path


def tables(path: Path):
    """Everything in a file: each table's own words, and all of its rows."""
    with closing(sqlite3.connect(path)) as connection:
        made = connection.execute("SELECT type, name, sql FROM sqlite_master ORDER BY name")
        schema = made.fetchall()
        names = [name for kind, name, _ in schema if kind == "table"]
        assert {"account", "record", "revision", "link", "jotting", "result", "job"} <= set(names)
        rows = {
            name: sorted(connection.execute(f'SELECT * FROM "{name}"').fetchall(), key=repr)
            for name in names
        }
        assert min(len(found) for found in rows.values()) > 0
        head = [connection.execute(f"PRAGMA {name}").fetchone() for name in HEAD]
        return schema, rows, head


HEAD = ("application_id", "user_version", "encoding")


def left_over(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir() if path.name.endswith(".part"))


def test_a_restored_copy_is_identical(place, tmp_path):
    before, copy = tables(place), tmp_path / "copy.sqlite3"
    back_up(place, copy)
    assert tables(copy) == before
    with closing(open_store(place)) as store:
        account(store, "Mia")
    assert tables(place) != before
    aside = restore(copy, place)
    assert tables(place) == before
    assert aside is not None
    with closing(open_store(aside)) as old, closing(open_store(place)) as store:
        assert [one.name for one in old.accounts()] == ["Ada", "Coach", "Mia"]
        assert [one.name for one in store.accounts()] == ["Ada", "Coach"]
    assert tables(copy) == before
    assert left_over(place.parent) + left_over(tmp_path) == []


def test_a_backup_goes_where_there_is_no_store(place, tmp_path):
    copy, elsewhere = tmp_path / "copy.sqlite3", tmp_path / "another" / "store.sqlite3"
    back_up(place, copy)
    assert restore(copy, elsewhere) is None
    assert tables(elsewhere) == tables(place)


def test_every_old_store_is_kept(place, tmp_path):
    copy = tmp_path / "copy.sqlite3"
    back_up(place, copy)
    asides = [restore(copy, place) for _ in range(3)]
    assert len({*asides, place}) == 4
    assert all(aside is not None and aside.is_file() for aside in asides)


def test_a_store_in_use_is_backed_up_as_one_moment_saw_it(place, tmp_path):
    event = uuid4()
    with closing(open_store(place)) as store, ThreadPoolExecutor(1) as pool:
        me = store.accounts()[0].id
        writing = pool.submit(
            lambda: [store.append(me, [shot(event), shot(event)]) for _ in range(60)]
        )
        copies = [tmp_path / f"copy {number}.sqlite3" for number in range(4)]
        for copy in copies:
            back_up(place, copy)
        writing.result()
        back_up(place, copies[-1])
    for copy in copies:
        with closing(open_store(copy)) as store:
            seqs = [kept.seq for kept in store.log(me, event)]
            assert seqs == list(range(1, len(seqs) + 1))
            assert len(seqs) % 2 == 0
    assert len(seqs) == 120


def test_a_backup_is_one_file_for_its_user_alone(place, tmp_path):
    copy = tmp_path / "copies" / "copy.sqlite3"
    back_up(place, copy)
    assert [path.name for path in copy.parent.iterdir()] == ["copy.sqlite3"]
    assert stat.S_IMODE(copy.stat().st_mode) & 0o077 == 0


def test_a_backup_over_an_older_one_replaces_it(place, tmp_path):
    copy = tmp_path / "copy.sqlite3"
    copy.write_text("an older one")
    back_up(place, copy)
    assert tables(copy) == tables(place)


def spoiled(copy: Path, how: str) -> None:
    if how == "newer":
        with closing(sqlite3.connect(copy)) as connection, connection:
            connection.execute(f"UPDATE {VERSION_TABLE} SET version_num = '9999'")
    elif how == "another program's":
        copy.unlink()
        with closing(sqlite3.connect(copy)) as connection, connection:
            connection.execute("CREATE TABLE book (title)")
    elif how == "text":
        copy.write_text("[event]\nname = 'Harbour Open'\n" * 200)
    elif how == "empty":
        copy.write_bytes(b"")
    elif how == "missing":
        copy.unlink()
    elif how == "cut off":
        copy.write_bytes(copy.read_bytes()[: copy.stat().st_size // 2])
    elif how == "damaged":
        content = bytearray(copy.read_bytes())
        for start in range(8192, len(content), 4096):
            content[start : start + 64] = b"\xff" * 64
        copy.write_bytes(content)
    elif how == "torn from its records":
        with closing(sqlite3.connect(copy)) as connection, connection:
            connection.execute("DELETE FROM record")


@pytest.mark.parametrize(
    "how",
    [
        "newer",
        "another program's",
        "text",
        "empty",
        "missing",
        "cut off",
        "damaged",
        "torn from its records",
    ],
)
def test_what_is_no_sound_backup_is_refused_in_one_line_and_the_store_stays(place, tmp_path, how):
    copy = tmp_path / "copy.sqlite3"
    back_up(place, copy)
    spoiled(copy, how)
    before, names = place.read_bytes(), sorted(place.parent.iterdir())
    with pytest.raises(InvalidValueError, match="copy") as refusal:
        restore(copy, place)
    assert "\n" not in str(refusal.value)
    assert place.read_bytes() == before
    assert sorted(place.parent.iterdir()) == names


def test_a_store_that_somebody_has_open_is_not_replaced(place, tmp_path, monkeypatch):
    monkeypatch.setattr(backups, "PATIENCE_S", 0.1)
    copy = tmp_path / "copy.sqlite3"
    back_up(place, copy)
    with closing(open_store(place)) as store:
        me = store.accounts()[0].id
        with pytest.raises(InvalidValueError, match="nextpair serve"):
            restore(copy, place)
        assert [one.name for one in store.records(me)] == ["Ada Voss", "Harbour Open"]
        store.append(me, [shot(uuid4())])
    restore(copy, place)


def test_a_damaged_store_makes_way_and_is_kept(place, tmp_path):
    copy, before = tmp_path / "copy.sqlite3", tables(place)
    back_up(place, copy)
    place.write_bytes(b"spoiled" * 1000)
    aside = restore(copy, place)
    assert tables(place) == before
    assert aside is not None
    assert aside.read_bytes() == b"spoiled" * 1000


def test_a_disk_that_fails_leaves_the_store_as_it_was(place, tmp_path, monkeypatch):
    copy, before = tmp_path / "copy.sqlite3", tables(place)
    back_up(place, copy)

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(backups.os, "fsync", full)
    with pytest.raises(InvalidValueError, match="No space left"):
        restore(copy, place)
    with pytest.raises(InvalidValueError, match="No space left"):
        back_up(place, tmp_path / "other.sqlite3")
    monkeypatch.undo()
    assert tables(place) == before
    assert not (tmp_path / "other.sqlite3").exists()
    assert left_over(place.parent) + left_over(tmp_path) == []


def test_a_store_is_not_its_own_backup(place):
    for copied in (back_up, restore):
        with pytest.raises(InvalidValueError, match="backup"):
            copied(place, place)


def test_of_what_is_not_there_no_backup_is_made(tmp_path):
    with pytest.raises(InvalidValueError, match="store"):
        back_up(tmp_path / "none.sqlite3", tmp_path / "copy.sqlite3")
    assert list(tmp_path.iterdir()) == []


def test_postgresql_is_told_of_the_archive(tmp_path):
    for copied in (
        lambda: back_up("postgresql://house/season", tmp_path / "copy"),
        lambda: restore(tmp_path / "copy", "postgresql://house/season"),
    ):
        with pytest.raises(InvalidValueError, match="nextpair archive"):
            copied()
