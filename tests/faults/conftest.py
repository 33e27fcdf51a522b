"""What the faults are let loose on: a store with something in it, and a disk that is too small.

`make faults` runs them; other test runs skip them, since they kill processes for a minute.
NEXTPAIR_FAULT_ROUNDS says how often each thing is killed.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from contracts.things import draft, shot
from faults.doings import STORE
from nextpair.application.accounts import home_account
from nextpair.domain.record import Kind
from nextpair.store.opening import open_store

SMALL_DISK = "size=3m"


@pytest.fixture(scope="session", autouse=True)
def _asked_for() -> None:
    if os.environ.get("NEXTPAIR_NEEDS_FAULTS") != "1":
        pytest.skip("`make faults` runs it, for a minute")


@pytest.fixture(scope="session")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store with some records and shots, closed: tests take copies of it."""
    place = tmp_path_factory.mktemp("season") / STORE
    with closing(open_store(place)) as store:
        me = home_account(store).id
        event = draft(Kind.EVENT, "Harbour Open")
        store.save(me, event, None)
        for number in range(40):
            store.save(me, draft(name=f"Pattern {number}", said="oil " * 200), None)
        store.append(me, [shot(event.id, number) for number in range(1, 401)])
    return place


@pytest.fixture
def folder(season: Path, tmp_path: Path) -> Path:
    """A folder of the test's own with a copy of that store."""
    shutil.copyfile(season, tmp_path / STORE)
    return tmp_path


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of a few megabytes; needs to be root."""
    if os.name != "posix" or os.geteuid() != 0:
        pytest.skip("only root mounts a small disk")
    place = tmp_path / "disk"
    place.mkdir()
    made = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", SMALL_DISK, "tmpfs", str(place)], capture_output=True
    )
    if made.returncode:
        pytest.skip("this machine lets nobody mount")
    yield place
    subprocess.run(["umount", "--lazy", str(place)], check=True)
