"""What a process is doing when it is killed: each goes on until then, and says what was
acknowledged to it."""

from __future__ import annotations

import shutil
import signal
from collections.abc import Iterator
from contextlib import closing
from datetime import date, timedelta
from itertools import count
from multiprocessing.connection import Connection
from pathlib import Path
from uuid import UUID

from contracts.things import draft, shot
from nextpair.application.accounts import home_account
from nextpair.application.archive import archive_of, unpack
from nextpair.cli.output import write_files
from nextpair.store import schema
from nextpair.store.backup import back_up, restore
from nextpair.store.copies import copies_of
from nextpair.store.daily import keep_daily
from nextpair.store.opening import open_store

STORE = "nextpair.sqlite3"
EVENT = UUID("5a0e4f1c-0c5e-4a55-9a0e-6d2f0e6f7a10")
BATCH = 7
FIRST_DAY = date(2026, 1, 1)
LINES = 40_000
SHEET = ("sheet.json", "sheet.html", "sheet.pdf")
LATER = "9001"
NEXT = """
from alembic import op
import sqlalchemy as sa

revision = "{later}"
down_revision = "{newest}"

def upgrade():
    for table in ("jotting", "revision"):
        with op.batch_alter_table(table) as batch:
            batch.add_column(sa.Column("colour", sa.Text(), nullable=False, server_default="red"))
"""


def save(folder: Path, told: Connection) -> None:
    """Save one record after another."""
    with closing(open_store(folder / STORE)) as store:
        me = home_account(store).id
        for number in count():
            told.send(store.save(me, draft(name=f"New {number}", said="x" * 3000), None).id)


def append(folder: Path, told: Connection) -> None:
    """Add batches of shots to a log."""
    with closing(open_store(folder / STORE)) as store:
        me = home_account(store).id
        for number in count(1):
            batch = [shot(EVENT, number * BATCH + each) for each in range(BATCH)]
            told.send([receipt.id for receipt in store.append(me, batch)])


def migrate(folder: Path, told: Connection) -> None:
    """Open a store with the program one migration later; start over when that is done."""
    become_next(folder)
    for number in count():
        place = folder / f"{number}" / STORE
        place.parent.mkdir()
        shutil.copyfile(folder / STORE, place)
        told.send(("begun", number))
        open_store(place).close()
        told.send(("done", number))


def become_next(folder: Path) -> None:
    """Be the program one migration later."""
    migrations = folder / "migrations"
    if not migrations.exists():
        shutil.copytree(schema.MIGRATIONS, migrations)
        told = NEXT.format(later=LATER, newest=schema.NEWEST)
        (migrations / "versions" / "later.py").write_text(told, "utf-8")
    schema.MIGRATIONS, schema.NEWEST = migrations, LATER


def copy(folder: Path, told: Connection) -> None:
    """Make backups, of new names and over old ones."""
    for number in count():
        target = folder / "copies" / f"copy-{number % 5}.sqlite3"
        back_up(folder / STORE, target)
        told.send(target.name)


def rotate(folder: Path, told: Connection) -> None:
    """Keep daily copies, of a hundred days a second, going on after the last one."""
    before = copies_of(folder / STORE)
    for number in count(before[-1].number if before else 0):
        kept = keep_daily(folder / STORE, FIRST_DAY + timedelta(days=number))
        told.send(kept and kept.number)


def put_back(folder: Path, told: Connection) -> None:
    """Put a backup in the store's place again and again."""
    for _ in count():
        told.send(restore(folder / "copy.sqlite3", folder / STORE))


def stop_before_the_change(folder: Path, told: Connection) -> None:
    """Restore as far as the moment at which the backup takes the store's name, and stay there."""
    step = Path.replace

    def replace(path: Path, target: Path) -> Path:
        if target == folder / STORE:
            told.send("about to")
            signal.pause()
        return step(path, target)

    Path.replace = replace
    restore(folder / "copy.sqlite3", folder / STORE)


def write_sheets(folder: Path, told: Connection) -> None:
    """Write the files of a sheet over those of the one before."""
    for number in count():
        write_files({folder / "sheets" / name: sheet(number) for name in SHEET})
        told.send(number)


def sheet(number: int) -> bytes:
    """A file that says in every line which one it is."""
    return b"%d\n" % number * LINES


def take_in(folder: Path, told: Connection) -> None:
    """Unpack the archive of a store into another one, once and for all."""
    with closing(open_store(folder / STORE)) as store:
        archive = archive_of(store, home_account(store).id)
    with closing(open_store(folder / "other" / STORE)) as store:
        me = home_account(store).id
        told.send("begun")
        told.send(unpack(store, me, archive).stored)
    signal.pause()


def open_and_close(folder: Path, told: Connection) -> None:
    """Open a store, add to it, keep the day's copy, and close it, as short commands do."""
    for number in count(1):
        keep_daily(folder / STORE, FIRST_DAY + timedelta(days=number // 5))
        with closing(open_store(folder / STORE)) as store:
            me = home_account(store).id
            told.send([one.id for one in store.append(me, [shot(EVENT, number)])])


def acknowledged(heard: Iterator[object]) -> list[UUID]:
    """Ids of batches, in one list."""
    return [id for batch in heard for id in batch]
