"""A disk that is full or cannot be written: one clear line, and nothing that was kept goes."""

from __future__ import annotations

import shutil
import subprocess
from contextlib import closing, suppress
from pathlib import Path

import pytest
from sqlalchemy import event as happening

from browser.running import free_port
from contracts.things import account, draft, shot
from faults.commands import command
from faults.doings import EVENT, STORE
from faults.serving import refusal, send, served
from nextpair.application.accounts import home_account
from nextpair.application.store import FullStoreError
from nextpair.application.sync import sent_form
from nextpair.store.copies import copies_of, damage
from nextpair.store.database import DatabaseStore
from nextpair.store.engine import Use, database_url, open_engine
from nextpair.store.opening import open_store

LARGEST_FILE_BYTES = 100_000
"""Less than the season's store: neither a copy of it nor a log beside it can be written."""

BESIDE = {"backups"}


def fill(disk: Path) -> Path:
    """Take all the room of a disk but for a page or two."""
    filler = disk / "filler"
    with filler.open("wb", buffering=0) as file, suppress(OSError):
        while True:
            file.write(b"\0" * 4096)
    return filler


def refused(told: subprocess.CompletedProcess[str]) -> str:
    """The one line of a refusal; a warning that there is no backup of today may come before."""
    assert told.returncode == 2, told
    assert told.stdout == ""
    lines = [line for line in told.stderr.splitlines() if "no backup of today" not in line]
    assert len(lines) == 1, told.stderr
    assert lines[0].startswith("nextpair: ")
    return lines[0]


def kept(place: Path) -> tuple[int, int]:
    """How many versions and shots a store holds."""
    with closing(open_store(place)) as store:
        me = home_account(store).id
        shots = sum(len(store.log(me, event)) for event in store.logged_events(me))
        return len(store.every_revision(me)), shots


@pytest.fixture
def archive(folder: Path) -> Path:
    """All of the season as one file."""
    assert command(folder, "archive", "all.json").returncode == 0
    return folder / "all.json"


def test_a_full_disk_refuses_in_one_line_and_loses_nothing(folder, archive, small_disk):
    shutil.copyfile(folder / STORE, small_disk / STORE)
    before = kept(small_disk / STORE)
    fill(small_disk)
    names = sorted({path.name for path in small_disk.iterdir()} - {"filler"})
    more = folder / "more"
    more.mkdir()
    with closing(open_store(more / STORE)) as store:
        me = home_account(store).id
        store.append(me, [shot(EVENT, number) for number in range(1, 3001)])
    assert command(more, "archive", "more.json").returncode == 0
    assert "disk" in refused(command(small_disk, "unpack", str(more / "more.json")))
    assert "room" in refused(command(small_disk, "archive", str(small_disk / "a.json")))
    refused(command(small_disk, "backup", str(small_disk / "copy.sqlite3")))
    refused(command(small_disk, "restore", str(more / STORE)))
    assert "No space left" in refused(
        command(small_disk, "demo", "--out", str(small_disk / "out"))
    )
    (small_disk / "filler").unlink()
    assert kept(small_disk / STORE) == before
    assert sorted({path.name for path in small_disk.iterdir()} - BESIDE) == names


def test_a_file_that_cannot_grow_refuses_in_one_line_and_loses_nothing(folder, archive):
    before = kept(folder / STORE)
    names = sorted({path.name for path in folder.iterdir()} - BESIDE)
    limit = {"largest_file_bytes": LARGEST_FILE_BYTES}
    for words in (["backup", "copy.sqlite3"], ["archive", "other.json"], ["restore", "copy"]):
        if words[0] == "restore":
            shutil.copyfile(folder / STORE, folder / "copy")
        refused(command(folder, *words, **limit))
    (folder / "copy").unlink()
    assert sorted({path.name for path in folder.iterdir()} - BESIDE) == names
    assert copies_of(folder / STORE) == () or damage(copies_of(folder / STORE)[-1].path) is None
    assert kept(folder / STORE) == before


def test_a_database_that_may_not_grow_says_so_and_goes_on_when_it_may(folder):
    engine = open_engine(database_url(folder / STORE), Use.WORK)

    @happening.listens_for(engine, "connect")
    def limited(connection, _):
        connection.execute("PRAGMA max_page_count=1").close()

    with closing(DatabaseStore(engine)) as store:
        me, acknowledged = home_account(store).id, 0
        full: FullStoreError | None = None
        while full is None and acknowledged < 2000:
            try:
                store.save(me, draft(name=f"Pattern {acknowledged}", said="oil " * 800), None)
                acknowledged += 1
            except FullStoreError as refusal:
                full = refusal
        assert "nothing kept is lost" in str(full)
        assert "\n" not in str(full)
        there = len(store.records(me))
    assert damage(folder / STORE) is None
    with closing(open_store(folder / STORE)) as store:
        assert len(store.records(me)) == there >= acknowledged
        store.save(me, draft(), None)
        account(store)


def test_phones_keep_what_a_full_server_cannot_take_and_send_it_again(folder, small_disk):
    shutil.copyfile(folder / STORE, small_disk / STORE)
    acknowledged = 0
    with served(small_disk) as server:
        filler = fill(small_disk)
        batches = [[shot(EVENT, 100 * n + each + 1) for each in range(100)] for n in range(60)]
        for batch in batches:
            try:
                acknowledged += len(send(server, batch))
            except OSError:
                break
        refused_batch = batches[acknowledged // 100]
        body = {"jottings": [sent_form(one) for one in refused_batch]}
        status, problem = refusal(server, "/sync", body)
        assert status == 507
        assert "room" in problem
        assert len(server.log(EVENT)) == acknowledged
        filler.unlink()
        assert {one["answer"] for one in send(server, refused_batch)} == {"stored"}
        assert len(server.log(EVENT)) == acknowledged + 100


def test_a_folder_that_cannot_be_written_is_told_in_one_line(folder, archive, small_disk):
    shutil.copyfile(folder / STORE, small_disk / STORE)
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk)], check=True)
    for words in (
        ["unpack", str(archive)],
        ["backup", str(small_disk / "copy.sqlite3")],
        ["archive", str(small_disk / "all.json")],
        ["restore", str(folder / STORE)],
        ["film", "Mill Race 35", "--svg", str(small_disk / "film.svg")],
        ["serve", "--port", str(free_port())],
    ):
        refused(command(small_disk, *words))
    assert [path.name for path in small_disk.iterdir()] == [STORE]
