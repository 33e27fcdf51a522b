"""Damage to a store's files is found, told in one line with the way back, and the way works."""

from __future__ import annotations

import re
import shlex
import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from browser.running import free_port
from contracts.things import shot
from faults import doings
from faults.commands import command
from faults.doings import STORE
from faults.killing import Victim
from faults.serving import refusal, served
from nextpair.application.accounts import home_account
from nextpair.application.store import DamagedStoreError
from nextpair.store.copies import copies_of, damage
from nextpair.store.daily import keep_daily
from nextpair.store.opening import open_store, require_sound

PAGE_BYTES = 4096
TODAY = datetime.now(UTC).date()


def spoil(store: Path, how: str) -> None:
    """Damage a store that nobody has open."""
    content = bytearray(store.read_bytes())
    if how == "page":
        # Every page from the third on: whichever are read or checked, they are none.
        for start in range(2 * PAGE_BYTES, len(content), PAGE_BYTES):
            content[start : start + 200] = b"\xff" * 200
    elif how == "cut off":
        del content[len(content) // 2 :]
    elif how == "header":
        content[:100] = b"\0" * 100
    elif how == "empty":
        content.clear()
    store.write_bytes(content)
    if how == "gone":
        store.unlink()


@pytest.fixture
def kept(folder: Path) -> Path:
    """A store with a daily copy of it."""
    keep_daily(folder / STORE, doings.FIRST_DAY)
    return folder


@pytest.mark.parametrize("how", ["page", "cut off", "header", "empty", "gone"])
@pytest.mark.parametrize("word", ["serve", "archive"])
def test_damage_is_told_in_one_line_with_a_command_that_mends_it(kept, how, word):
    words = [word, "all.json"] if word == "archive" else [word, "--port", str(free_port())]
    before = (kept / STORE).read_bytes()
    spoil(kept / STORE, how)
    told = command(kept, *words)
    assert told.returncode == 2
    assert told.stdout == ""
    assert told.stderr.count("\n") == 1, told.stderr
    assert str(kept / STORE) in told.stderr
    found = re.search(r"`nextpair (restore [^`]+)`", told.stderr)
    assert found is not None, told.stderr
    assert len(copies_of(kept / STORE)) == 1, "a bad store was copied"
    assert command(kept, *shlex.split(found[1])).returncode == 0
    assert damage(kept / STORE) is None
    assert len((kept / STORE).read_bytes()) == len(before)
    assert command(kept, "archive", "all.json").returncode == 0


def test_a_lost_log_of_last_changes_is_told(kept):
    Victim(doings.append, kept).killed_after(0.1)
    log = kept / f"{STORE}-wal"
    assert log.exists()
    log.unlink()
    told = command(kept, "archive", "all.json")
    assert (told.returncode, told.stderr.count("\n")) == (2, 1)
    assert log.name in told.stderr
    assert command(kept, "restore", "--last").returncode == 0
    assert command(kept, "archive", "all.json").returncode == 0


def test_a_bad_store_never_pushes_a_good_copy_out(kept):
    spoil(kept / STORE, "page")
    for day in range(2, 20):
        with pytest.raises(DamagedStoreError):
            keep_daily(kept / STORE, doings.FIRST_DAY.replace(day=day))
    (copy,) = copies_of(kept / STORE)
    assert damage(copy.path) is None


def test_the_newest_copy_that_is_sound_is_offered(kept):
    keep_daily(kept / STORE, TODAY)
    older, newer = copies_of(kept / STORE)
    newer.path.write_bytes(b"spoiled" * 1000)
    spoil(kept / STORE, "header")
    with pytest.raises(DamagedStoreError, match=re.escape(older.path.name)):
        require_sound(kept / STORE)
    assert older.path.name in command(kept, "restore").stderr
    assert older.path.name in command(kept, "restore", "--last").stdout


def test_damage_under_an_open_store_is_told_wherever_it_is_met(kept):
    with closing(open_store(kept / STORE)) as store:
        me = home_account(store).id
        spoil(kept / STORE, "page")
        with pytest.raises(DamagedStoreError, match="nextpair restore"):
            store.records(me)
        with pytest.raises(DamagedStoreError, match="nextpair restore"):
            store.append(me, [shot(doings.EVENT)])


def test_a_store_that_is_damaged_while_it_is_served_is_a_problem_and_no_fault(kept):
    with served(kept) as server:
        spoil(kept / STORE, "page")
        status, problem = refusal(server, "/records/pattern")
        assert status == 503
        assert "nextpair restore" in problem


def test_a_foreign_file_is_no_damaged_store(tmp_path):
    (tmp_path / STORE).write_text("notes of mine\n" * 500, "utf-8")
    told = command(tmp_path, "archive", "all.json")
    assert (told.returncode, told.stderr.count("\n")) == (2, 1)
    assert "restore" not in told.stderr
    assert (tmp_path / STORE).read_text("utf-8").startswith("notes")
    with closing(sqlite3.connect(tmp_path / "book.sqlite3")) as book, book:
        book.execute("CREATE TABLE book (title)")
    told = command(tmp_path, "archive", "all.json", "--store", str(tmp_path / "book.sqlite3"))
    assert (told.returncode, told.stderr.count("\n")) == (2, 1)
