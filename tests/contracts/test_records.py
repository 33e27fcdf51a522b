"""Records: every version kept, no save over somebody else's, deletes that can be undone."""

from __future__ import annotations

from dataclasses import replace
from uuid import uuid4

import pytest

from contracts.things import account, draft
from nextpair.application.store import NeededError, NotKeptError, StaleError
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.record import Draft, Kind

AWKWARD = {
    "whole": 3,
    "part": 0.1,
    "whole_float": 2.0,
    "tiny": 5e-324,
    "yes": True,
    "nothing": None,
    "words": "Färöer – “39” \\ \n \u0000 🎳",
    "heights": {"distance_ft": [0, 1], "height_in": [[0.0] * 39, [-0.003] * 39]},
    "": [],
}


def test_what_was_saved_is_what_is_read(store):
    me = account(store)
    bowler = store.save(me, draft(Kind.BOWLER, "Ada Voss"), None)
    event = draft(Kind.EVENT, "Harbour Open", bowler.id, **AWKWARD)
    saved = store.save(me, event, None)
    assert saved == store.record(me, event.id)
    assert (saved.kind, saved.name, saved.links) == (event.kind, event.name, event.links)
    assert saved.document == AWKWARD
    assert [type(value) for value in saved.document.values()] == [
        type(value) for value in AWKWARD.values()
    ]
    assert (saved.revision, saved.deleted) == (1, False)
    assert saved.saved_at.utcoffset() is not None


def test_what_is_handed_out_can_be_written_on_without_changing_what_is_kept(store):
    me = account(store)
    pattern = draft(name="Long Tide", rows=[1])
    store.save(me, pattern, None)
    pattern.document["rows"].append(2)
    store.record(me, pattern.id).document["rows"].append(3)
    store.records(me)[0].document["rows"].append(4)
    assert store.record(me, pattern.id).document == {"rows": [1]}


def test_every_version_is_kept_newest_first(store):
    me = account(store)
    first = draft(name="Tide", length_ft=40)
    store.save(me, first, None)
    second = replace(first, name="Long Tide", document={"length_ft": 41})
    store.save(me, second, 1)
    store.delete(me, first.id)
    versions = store.revisions(me, first.id)
    assert [(one.revision, one.name, one.deleted) for one in versions] == [
        (3, "Long Tide", True),
        (2, "Long Tide", False),
        (1, "Tide", False),
    ]
    assert versions[2].document == {"length_ft": 40}
    assert versions[0] == store.record(me, first.id)


def test_every_change_of_a_record_is_counted(store):
    me, other = account(store), account(store)
    pattern = draft(length_ft=40)
    counted = [store.changes(me)]
    for change in (
        lambda: store.save(me, pattern, None),
        lambda: store.save(me, replace(pattern, document={"length_ft": 41}), 1),
        lambda: store.save_all(me, [pattern, draft(name="Low Tide")]),
        lambda: store.delete(me, pattern.id),
        lambda: store.restore(me, pattern.id),
    ):
        change()
        counted.append(store.changes(me))
    assert counted == sorted(set(counted))
    store.restore(me, pattern.id)
    assert (store.changes(me), store.changes(other)) == (counted[-1], 0)


def test_to_save_the_same_again_changes_nothing(store):
    me = account(store)
    pattern = draft(length_ft=40)
    saved = store.save(me, pattern, None)
    assert store.save(me, pattern, None) == saved
    assert store.save(me, replace(pattern, document={"length_ft": 40.0}), 1) == saved
    assert store.save_all(me, [pattern]) == (saved,)
    assert len(store.revisions(me, pattern.id)) == 1


@pytest.mark.parametrize("revision", [None, 1, 3])
def test_who_saves_over_a_version_he_has_not_seen_is_told_what_it_is(store, revision):
    me = account(store)
    pattern = draft(length_ft=40)
    store.save(me, pattern, None)
    theirs = store.save(me, replace(pattern, document={"length_ft": 41}), 1)
    with pytest.raises(StaleError) as refusal:
        store.save(me, replace(pattern, document={"length_ft": 42}), revision)
    assert refusal.value.current == theirs
    assert store.record(me, pattern.id) == theirs


def test_a_late_repeat_of_a_save_does_not_take_back_what_was_deleted_since(store):
    me = account(store)
    pattern = draft()
    store.save(me, pattern, None)
    store.delete(me, pattern.id)
    with pytest.raises(StaleError):
        store.save(me, pattern, None)
    assert store.record(me, pattern.id).deleted


def test_to_save_a_deleted_record_takes_it_back(store):
    me = account(store)
    pattern = draft()
    store.save(me, pattern, None)
    store.delete(me, pattern.id)
    assert not store.save(me, pattern, 2).deleted
    store.delete(me, pattern.id)
    assert not store.save_all(me, [pattern])[0].deleted


def test_a_record_that_was_never_kept_cannot_be_changed(store):
    me = account(store)
    for touch in (
        lambda id: store.record(me, id),
        lambda id: store.revisions(me, id),
        lambda id: store.delete(me, id),
        lambda id: store.restore(me, id),
        lambda id: store.save(me, replace(draft(), id=id), 1),
    ):
        with pytest.raises(NotKeptError):
            touch(uuid4())


def test_a_record_stays_of_its_kind(store):
    me = account(store)
    pattern = draft()
    store.save(me, pattern, None)
    with pytest.raises(InvalidValueError, match="kind"):
        store.save(me, replace(pattern, kind=Kind.HOUSE), 1)


def test_records_of_a_kind_are_listed_by_name_without_the_deleted(store):
    me = account(store)
    drafts = [draft(name=name) for name in ("Slack", "Ebb", "Flood")]
    house = draft(Kind.HOUSE, "Quayside Lanes")
    store.save_all(me, [*drafts, house])
    store.delete(me, drafts[1].id)
    assert [one.name for one in store.records(me, Kind.PATTERN)] == ["Flood", "Slack"]
    assert [one.name for one in store.records(me, Kind.PATTERN, deleted=True)] == ["Ebb"]
    assert [one.name for one in store.records(me)] == ["Flood", "Quayside Lanes", "Slack"]
    assert store.records(me, Kind.SQUAD) == ()


def test_what_another_record_needs_stays(store):
    me = account(store)
    house = store.save(me, draft(Kind.HOUSE, "Quayside Lanes"), None)
    event = draft(Kind.EVENT, "Harbour Open", house.id)
    store.save(me, event, None)
    with pytest.raises(NeededError) as refusal:
        store.delete(me, house.id)
    assert refusal.value.by == ("Harbour Open",)
    assert not store.record(me, house.id).deleted
    store.save(me, replace(event, links=frozenset()), 1)
    assert store.delete(me, house.id).deleted


def test_a_record_comes_back_with_what_it_needs(store):
    me = account(store)
    bowler = store.save(me, draft(Kind.BOWLER, "Ada Voss"), None)
    ball = store.save(me, draft(Kind.BALL, "Ember", bowler.id), None)
    event = store.save(me, draft(Kind.EVENT, "Harbour Open", ball.id), None)
    for record in (event, ball, bowler):
        assert store.delete(me, record.id).deleted
    assert store.records(me) == ()
    assert store.restore(me, event.id).revision == 3
    assert [one.name for one in store.records(me)] == ["Ada Voss", "Ember", "Harbour Open"]
    assert store.record(me, event.id).document == event.document


def test_to_delete_or_take_back_twice_changes_nothing(store):
    me = account(store)
    pattern = store.save(me, draft(), None)
    assert store.delete(me, pattern.id) == store.delete(me, pattern.id)
    assert store.restore(me, pattern.id) == store.restore(me, pattern.id)
    assert store.record(me, pattern.id).revision == 3


def test_a_record_cannot_need_what_is_not_kept(store):
    me = account(store)
    gone = store.save(me, draft(name="Ebb"), None)
    store.delete(me, gone.id)
    for link in (uuid4(), gone.id):
        event = draft(Kind.EVENT, "Harbour Open", link)
        with pytest.raises(NotKeptError):
            store.save(me, event, None)
        with pytest.raises(NotKeptError):
            store.record(me, event.id)


def test_records_are_saved_together_or_not_at_all(store):
    me = account(store)
    bowler = draft(Kind.BOWLER, "Ada Voss")
    event = draft(Kind.EVENT, "Harbour Open", bowler.id)
    assert [one.name for one in store.save_all(me, [event, bowler])] == [event.name, bowler.name]
    changed = replace(bowler, name="Ada V. Voss")
    with pytest.raises(NotKeptError):
        store.save_all(me, [changed, draft(Kind.EVENT, "Pier Cup", uuid4())])
    assert [one.name for one in store.records(me)] == ["Ada Voss", "Harbour Open"]
    assert len(store.revisions(me, bowler.id)) == 1


def test_an_account_that_is_not_here_keeps_nothing(store):
    with pytest.raises(NotKeptError):
        store.save(uuid4(), draft(), None)
    assert store.records(uuid4()) == ()


@pytest.mark.parametrize(
    "document",
    [{"a": float("nan")}, {"a": float("inf")}, {"a": {1, 2}}, {"a": "\ud800"}],
    ids=["nan", "infinity", "set", "half a letter"],
)
def test_a_document_that_json_cannot_say_is_no_record(document):
    with pytest.raises(InvalidValueError, match="JSON"):
        Draft(uuid4(), Kind.PATTERN, "Tide", document)


@pytest.mark.parametrize("name", ["", "  ", "a\0b", "x" * 201, "\udfff"])
def test_a_name_that_cannot_be_kept_everywhere_is_refused(name):
    with pytest.raises(InvalidValueError, match="name"):
        Draft(uuid4(), Kind.PATTERN, name, {})
