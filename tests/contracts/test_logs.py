"""Logs: each jotting once, numbered without gaps, never changed."""

from __future__ import annotations

from dataclasses import replace
from uuid import uuid4

import pytest

from contracts.things import account, shot
from nextpair.application.store import NotKeptError
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.jotting import Answer, Jotting, JottingKind


def answers(receipts) -> list[tuple[Answer, int | None]]:
    return [(receipt.answer, receipt.seq) for receipt in receipts]


def test_jottings_are_numbered_by_event_in_the_order_they_came_in(store):
    me, open_event, cup = account(store), uuid4(), uuid4()
    batch = [shot(open_event), shot(cup), shot(open_event, 2)]
    receipts = store.append(me, batch)
    assert answers(receipts) == [(Answer.STORED, 1), (Answer.STORED, 1), (Answer.STORED, 2)]
    assert [receipt.id for receipt in receipts] == [jotting.id for jotting in batch]
    assert [(kept.seq, kept.jotting) for kept in store.log(me, open_event)] == [
        (1, batch[0]),
        (2, batch[2]),
    ]
    assert store.append(me, [shot(cup, 2)])[0].seq == 2


def test_every_field_of_a_jotting_is_kept(store):
    me, event = account(store), uuid4()
    first = shot(event, device="Ada’s phone", client_time="")
    payload = {"standing_after": [3, 10], "note": "slow\u0000 “39”", "entry_board": 17.5}
    later = shot(
        event,
        2**53,
        kind=JottingKind.VOID,
        supersedes=first.id,
        payload={**payload, "foul": False, "breakpoint_board": None},
    )
    store.append(me, [first, later])
    assert [kept.jotting for kept in store.log(me, event)] == [first, later]
    assert [kept.jotting.digest for kept in store.log(me, event)] == [first.digest, later.digest]


def test_a_jotting_sent_again_is_a_duplicate(store):
    me, event = account(store), uuid4()
    first, second = shot(event), shot(event, 2)
    store.append(me, [first])
    same_in_javascript = replace(first, payload={**first.payload, "game": 1.0})
    receipts = store.append(me, [second, first, second, same_in_javascript])
    assert answers(receipts) == [
        (Answer.STORED, 2),
        (Answer.DUPLICATE, 1),
        (Answer.DUPLICATE, 2),
        (Answer.DUPLICATE, 1),
    ]
    assert len(store.log(me, event)) == 2


@pytest.mark.parametrize(
    "changes",
    [{"payload": {"game": 2}}, {"event": uuid4()}, {"device_seq": 9}, {"client_time": "noon"}],
    ids=lambda changes: next(iter(changes)),
)
def test_another_jotting_of_a_known_id_is_a_conflict_and_changes_nothing(store, changes):
    me, event = account(store), uuid4()
    first = shot(event)
    store.append(me, [first])
    other = replace(first, **changes)
    assert answers(store.append(me, [other])) == [(Answer.CONFLICT, 1)]
    assert [kept.jotting for kept in store.log(me, event)] == [first]
    assert store.logged_events(me) == (event,)


def test_a_log_is_read_on_from_where_a_reader_was(store):
    me, event = account(store), uuid4()
    batch = [shot(event, number) for number in range(1, 8)]
    store.append(me, batch)
    read, after = [], 0
    while page := store.log(me, event, after, most=3):
        assert len(page) <= 3
        read += [kept.jotting for kept in page]
        after = page[-1].seq
    assert read == batch
    assert store.log(me, event, after=7) == ()
    assert store.log(me, uuid4()) == ()


def test_a_long_batch_is_kept_whole(store):
    me, event = account(store), uuid4()
    batch = [shot(event, number) for number in range(1, 501)]
    assert {receipt.answer for receipt in store.append(me, batch)} == {Answer.STORED}
    assert {receipt.answer for receipt in store.append(me, batch)} == {Answer.DUPLICATE}
    assert [kept.seq for kept in store.log(me, event)] == list(range(1, 501))
    assert store.append(me, []) == ()


def test_events_with_a_log_are_told(store):
    me = account(store)
    events = sorted(uuid4() for _ in range(3))
    for event in reversed(events):
        store.append(me, [shot(event)])
    assert store.logged_events(me) == tuple(events)


def test_an_account_that_is_not_here_logs_nothing(store):
    with pytest.raises(NotKeptError):
        store.append(uuid4(), [shot(uuid4())])


@pytest.mark.parametrize(
    "changes",
    [
        {"device": ""},
        {"device": "a\0b"},
        {"device_seq": 0},
        {"client_time": "x" * 41},
        {"schema_version": 2},
        {"kind": JottingKind.VOID},
        {"payload": {"note": "x" * 4000}},
        {"payload": {"entry_board": float("nan")}},
    ],
    ids=str,
)
def test_what_is_no_jotting_is_refused(changes):
    with pytest.raises(InvalidValueError):
        shot(uuid4(), **changes)


def test_no_jotting_supersedes_itself():
    id = uuid4()
    with pytest.raises(InvalidValueError, match="supersedes"):
        Jotting(id, uuid4(), "phone", 1, JottingKind.VOID, {}, supersedes=id)
