"""Events of a store, at hand for as long as nothing changes."""

from __future__ import annotations

import pytest

from contracts.things import account
from event_folder import DEMO
from nextpair.application.at_hand import EventsAtHand
from nextpair.application.events import take_in_event
from nextpair.domain.record import Draft, Kind
from nextpair.files import FilePapers
from nextpair.store.memory import MemoryStore


class CountingStore(MemoryStore):
    """Counts how often a record is read."""

    read = 0

    def record(self, account, id):
        self.read += 1
        return super().record(account, id)


@pytest.fixture
def store() -> CountingStore:
    return CountingStore()


def taken_in(store, me):
    papers = FilePapers()
    files = {path.name: path.read_text("utf-8") for path in DEMO.iterdir() if path.is_file()}
    event = take_in_event(store, papers, me, files).id
    return EventsAtHand(store, papers), event


def test_an_event_is_read_once_for_as_long_as_nothing_changes(store):
    me = account(store)
    events, event = taken_in(store, me)
    first = events.at_hand(me, event)
    read = store.read
    assert events.at_hand(me, event) is first
    assert store.read == read


def test_how_an_event_is_decided_is_said_by_its_pocket_alone(store):
    me = account(store)
    events, event = taken_in(store, me)
    before = events.at_hand(me, event)
    for changes in ({"counting": "current-frame"}, {"money": {"entries": 40, "cut_to": 20}}):
        kept = store.record(me, event)
        document = {**kept.document, **changes}
        store.save(me, Draft(event, kept.kind, kept.name, document, kept.links), kept.revision)
        after = events.at_hand(me, event)
        assert after.inputs_of("sheet") == before.inputs_of("sheet")
        assert after.inputs_of("pocket") != before.inputs_of("pocket")
        before = after


def test_a_change_of_what_an_event_needs_is_seen_at_once(store):
    me = account(store)
    events, event = taken_in(store, me)
    before = events.at_hand(me, event)
    house = store.records(me, Kind.HOUSE)[0]
    warmer = Draft(house.id, house.kind, house.name, {**house.document, "temperature_c": 24})
    store.save(me, warmer, house.revision)
    after = events.at_hand(me, event)
    assert after.bundle.house == warmer.document
    assert after.inputs != before.inputs
    assert after.record == before.record
