"""Two programs on one store: both work, neither sees damage that is none."""

from __future__ import annotations

import time
from contextlib import closing

from faults import doings
from faults.commands import command
from faults.doings import BATCH, EVENT, STORE, acknowledged
from faults.killing import Victim
from faults.serving import served
from nextpair.application.accounts import home_account
from nextpair.store.copies import copies_of, damage
from nextpair.store.opening import open_store

TOGETHER_S = 2.0


def test_what_two_processes_write_at_once_is_all_there(folder):
    both = [Victim(doings.append, folder), Victim(doings.append, folder)]
    time.sleep(TOGETHER_S)
    sent = [id for one in both for id in acknowledged(one.killed_after(0.0))]
    with closing(open_store(folder / STORE)) as store:
        log = store.log(home_account(store).id, EVENT)
    ids = [one.jotting.id for one in log]
    assert set(sent) <= set(ids)
    assert len(ids) == len(set(ids))
    assert len(ids) % BATCH == 0
    assert damage(folder / STORE) is None


def test_opening_and_closing_in_two_processes_is_never_taken_for_damage(folder):
    both = [Victim(doings.open_and_close, folder), Victim(doings.open_and_close, folder)]
    time.sleep(TOGETHER_S)
    sent = [id for one in both for id in acknowledged(one.killed_after(0.0))]
    with closing(open_store(folder / STORE)) as store:
        ids = {one.jotting.id for one in store.log(home_account(store).id, EVENT)}
    assert len(sent) > 10
    assert set(sent) <= ids
    assert {damage(copy.path) for copy in copies_of(folder / STORE)} == {None}


def test_commands_work_beside_a_server(folder):
    with served(folder) as server:
        assert command(folder, "archive", "all.json").returncode == 0
        assert command(folder, "unpack", "all.json").returncode == 0
        assert command(folder, "backup", "copy.sqlite3").returncode == 0
        refused = command(folder, "restore", "copy.sqlite3")
        assert refused.returncode == 2
        assert "stop `nextpair serve` first" in refused.stderr
        assert len(server.ask("/records/pattern")["items"]) == 40
    assert command(folder, "restore", "copy.sqlite3").returncode == 0
