"""Targets: what is kept, on a store in memory that must be as it was where all is refused."""

from __future__ import annotations

import copy
from functools import cache
from typing import Any

from hypothesis import strategies as st

from fuzz import originals
from fuzz.damage import VALUES, damaged_documents, plain
from fuzz.judge import first_fault, require
from fuzz.target import Target
from nextpair.application.accounts import home_account
from nextpair.application.archive import archive_of, unpack
from nextpair.application.events import keep_event
from nextpair.application.sync import take_in
from nextpair.domain.errors import NextpairError
from nextpair.domain.jotting import Answer
from nextpair.store.memory import MemoryStore

State = dict[str, Any]
NOT_KEPT = ("_lock", "_clock")


def state_of(store: MemoryStore) -> State:
    """All that a store in memory holds."""
    return {key: value for key, value in vars(store).items() if key not in NOT_KEPT}


def put(store: MemoryStore, state: State) -> None:
    """Make a store hold that."""
    for key, value in copy.deepcopy(state).items():
        setattr(store, key, value)


@cache
def sound_state() -> State:
    """A store with the small event, some shots, and records of other kinds."""
    store = MemoryStore()
    account = home_account(store).id
    folder = originals.PAPERS.brought(dict(originals.FILES))
    record = keep_event(store, account, folder)
    shots = [one | {"event": str(record.id)} for one in originals.jottings()[:4]]
    take_in(store, account, shots)
    return copy.deepcopy(state_of(store))


@cache
def sound_archive() -> Any:
    """The archive of that store."""
    store = MemoryStore()
    put(store, sound_state())
    return plain(archive_of(store, home_account(store).id))


def archive(told: Any) -> None:
    """An archive: taken, and then twice is once; or refused, and nothing of it kept."""
    store = MemoryStore()
    account = home_account(store).id
    before = copy.deepcopy(state_of(store))
    try:
        first = unpack(store, account, told)
    except NextpairError:
        require(state_of(store) == before, "partial write: of an archive that was refused")
        raise
    again = unpack(store, account, told)
    require(again.stored == 0, f"{first.stored} new, and {again.stored} when it came again")


def sync(sent: list[Any]) -> None:
    """A phone's log: one answer each, and each sound one is kept once."""
    store = MemoryStore()
    account = home_account(store).id
    receipts = take_in(store, account, sent)
    require(len(receipts) == len(sent), "not one answer for each jotting")
    fault = first_fault(*(one.why for one in receipts if one.answer is Answer.REFUSED))
    require(not fault, fault)
    count = sum(len(store.log(account, event)) for event in store.logged_events(account))
    stored = [one for one in receipts if one.answer is Answer.STORED]
    require(count == len(stored), "partial write: more or less kept than answered")
    again = take_in(store, account, sent)
    require(not any(one.answer is Answer.STORED for one in again), "kept twice")
    require(
        [one.seq for one in again] == [one.seq for one in receipts], "another place in the log"
    )


def logs() -> st.SearchStrategy[Any]:
    one = damaged_documents(originals.jottings()) | VALUES
    return st.lists(one, min_size=1, max_size=4)


TARGETS = (
    Target("archive", lambda: damaged_documents([sound_archive()]), archive, weight=4),
    Target("phone's log", logs, sync, weight=8),
)
