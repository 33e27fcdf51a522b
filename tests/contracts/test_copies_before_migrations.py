"""An older store is copied before it is brought up to date, whatever was copied that day."""

from __future__ import annotations

import sqlite3
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from contracts.frozen_stores import frozen_schemas, thaw_into_file
from contracts.things import account
from nextpair.application.settings import Settings
from nextpair.bootstrap import Program
from nextpair.domain.errors import InvalidValueError
from nextpair.store import schema
from nextpair.store.backup import restore
from nextpair.store.copies import FOLDER, copies_of, damage
from nextpair.store.daily import keep_daily
from nextpair.store.opening import open_store

OLDER = [number for number in frozen_schemas() if number != schema.NEWEST]
NOON = datetime(2026, 11, 28, 12, tzinfo=UTC)


@pytest.fixture(params=OLDER)
def older(request, tmp_path) -> Path:
    """A store of an earlier schema, in a folder of its own."""
    path = tmp_path / "nextpair.sqlite3"
    thaw_into_file(request.param, path)
    return path


def schema_of(path: Path) -> str:
    """Which schema a file has."""
    with closing(sqlite3.connect(path)) as asked:
        return str(asked.execute(f"SELECT version_num FROM {schema.VERSION_TABLE}").fetchone()[0])


def names_in(path: Path) -> list[str]:
    """Whose accounts a file holds."""
    with closing(sqlite3.connect(path)) as asked:
        return [name for (name,) in asked.execute("SELECT name FROM account ORDER BY name")]


def test_an_older_store_is_copied_before_it_is_brought_up_to_date_whatever_the_day(older):
    before = schema_of(older)
    keep_daily(older, NOON.date())
    with closing(sqlite3.connect(older)) as late, late:
        late.execute("UPDATE account SET name = 'Written after the copy' WHERE name LIKE 'P%'")
    told = names_in(older)
    assert "Written after the copy" in told
    open_store(older, lambda: NOON).close()
    assert schema_of(older) == schema.NEWEST
    kept = copies_of(older)[-1]
    assert (kept.day, schema_of(kept.path), damage(kept.path)) == (NOON.date(), before, None)
    assert names_in(kept.path) == told


def test_whoever_opens_a_store_that_is_up_to_date_copies_nothing(older):
    open_store(older, lambda: NOON).close()
    copies = copies_of(older)
    open_store(older, lambda: NOON).close()
    assert copies_of(older) == copies
    assert len(copies) == 1


def test_many_that_open_an_older_store_at_once_keep_it_as_it_was(older):
    before = schema_of(older)
    with ThreadPoolExecutor(4) as pool:
        for store in list(pool.map(lambda _: open_store(older, lambda: NOON), range(4))):
            store.close()
    assert [schema_of(copy.path) for copy in copies_of(older)] == [before]


def test_the_copy_stays_while_the_day_goes_on(older):
    before = schema_of(older)
    program = Program(Settings(data_dir=older.parent))
    for number in range(3):
        with closing(program.store()) as store:
            account(store, f"Somebody {number}")
    # Two where the day ended meanwhile.
    assert schema_of(copies_of(older)[0].path) == before


def test_a_store_that_cannot_be_copied_is_left_as_it_is_and_told_in_one_line(older):
    (older.parent / FOLDER).write_text("no folder")
    before, content = schema_of(older), names_in(older)
    with pytest.raises(InvalidValueError, match=r"backups: found .*a copy of the store") as told:
        open_store(older, lambda: NOON)
    assert "\n" not in str(told.value)
    assert (schema_of(older), names_in(older)) == (before, content)


def test_the_copy_comes_back_and_is_brought_up_to_date_again(older):
    told = names_in(older)
    with closing(open_store(older, lambda: NOON)) as store:
        account(store, "Added since")
    (copy,) = copies_of(older)
    restore(copy.path, older)
    assert schema_of(older) == schema.NEWEST
    assert names_in(older) == told
    assert copies_of(older) == (copy,), "of what is restored no copy is made: it is there"
