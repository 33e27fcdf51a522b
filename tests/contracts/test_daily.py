"""The daily copy of a store: made once a day before anything is written, and never in the way."""

from __future__ import annotations

import logging
import shutil
import stat
from contextlib import closing
from datetime import date, timedelta
from pathlib import Path

import pytest

from contracts.things import account
from nextpair.application.settings import Settings
from nextpair.application.store import DamagedStoreError
from nextpair.bootstrap import Program
from nextpair.store.copies import FOLDER, Copy, copies_of, damage, surplus
from nextpair.store.daily import keep_daily
from nextpair.store.opening import open_store

DAY = date(2026, 11, 28)


@pytest.fixture
def store(empty_file, tmp_path) -> Path:
    """A store in a folder of its own."""
    path = tmp_path / "nextpair.sqlite3"
    shutil.copyfile(empty_file, path)
    return path


def test_a_day_has_one_copy_and_it_is_its_users_alone(store):
    made = keep_daily(store, DAY)
    assert made == Copy(1, DAY, store.parent / FOLDER / "nextpair-00001-2026-11-28.sqlite3")
    assert keep_daily(store, DAY) is None
    assert copies_of(store) == (made,)
    assert damage(made.path) is None
    assert stat.S_IMODE(made.path.stat().st_mode) & 0o077 == 0
    assert stat.S_IMODE(made.path.parent.stat().st_mode) & 0o077 == 0


def test_opening_to_write_copies_what_was_there_before(tmp_path):
    program = Program(Settings(data_dir=tmp_path))
    program.store().close()
    assert copies_of(tmp_path / "nextpair.sqlite3") == (), (
        "of a new store there is nothing to copy"
    )
    with closing(program.store()) as store:
        account(store, "Ada")
    (copy,) = copies_of(tmp_path / "nextpair.sqlite3")
    with closing(open_store(copy.path)) as before:
        assert before.accounts() == ()


def test_opening_to_read_copies_nothing(store):
    program = Program(Settings(data_dir=store.parent))
    kept = program.kept_store()
    assert kept is not None
    kept.close()
    assert copies_of(store) == ()


def test_a_copy_that_cannot_be_written_is_told_and_nobody_is_kept_from_the_store(store, caplog):
    (store.parent / FOLDER).write_text("no folder")
    with (
        caplog.at_level(logging.WARNING),
        closing(Program(Settings(data_dir=store.parent)).store()),
    ):
        pass
    (told,) = caplog.messages
    assert told.startswith("no backup of today: ")
    assert "\n" not in told


def test_copies_of_another_store_beside_it_are_left_alone(store):
    other = store.with_name("other.db")
    shutil.copyfile(store, other)
    foreign = store.parent / FOLDER / "nextpair-00001-2026-11-28.txt"
    for number in range(20):
        keep_daily(store, DAY + timedelta(days=number))
        keep_daily(other, DAY + timedelta(days=number))
        foreign.touch()
    assert foreign.exists()
    assert len(copies_of(store)) == len(copies_of(other)) >= 7
    assert {copy.path for copy in copies_of(store)}.isdisjoint(
        copy.path for copy in copies_of(other)
    )


def test_what_may_go_is_told_by_number_and_never_by_age():
    days = [date(1970, 1, 1), date(2099, 1, 1), *(DAY + timedelta(days=n) for n in range(9))]
    copies = [Copy(number, day, Path(f"{number}")) for number, day in enumerate(days, start=1)]
    assert surplus(copies[:7]) == ()
    # The last of seven days stay; of the rest, the last of each of four weeks and twelve months.
    assert [copy.number for copy in surplus(copies)] == [3]


def test_a_store_that_is_gone_is_not_begun_anew_where_copies_of_it_are(store):
    keep_daily(store, DAY)
    store.unlink()
    with pytest.raises(DamagedStoreError, match="nextpair restore"):
        open_store(store)
    assert not store.exists()
