"""Many at once: nothing lost, nothing doubled, nothing missed."""

from __future__ import annotations

import random
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import timedelta
from threading import Barrier, Event
from uuid import uuid4

from contracts.things import NOON, account, draft, result, shot
from nextpair.application.accounts import home_account
from nextpair.application.store import NeededError, NotKeptError, StaleError, Ticket
from nextpair.domain.jotting import Answer
from nextpair.domain.record import Kind

THREADS = 8


def at_once(work) -> list:
    """What eight callers get who begin at the same moment; `work` is given each one's number."""
    start = Barrier(THREADS)

    def begin(number: int):
        start.wait()
        return work(number)

    with ThreadPoolExecutor(THREADS) as pool:
        return list(pool.map(begin, range(THREADS)))


def test_jottings_sent_by_many_at_once_are_kept_once_each(store):
    me, event = account(store), uuid4()
    jottings = [shot(event, number) for number in range(1, 121)]

    def send(number: int):
        mine = random.Random(number).sample(jottings, 100)
        return [
            receipt
            for start in range(0, 100, 7)
            for receipt in store.append(me, mine[start : start + 7])
        ]

    receipts = [receipt for sent in at_once(send) for receipt in sent]
    stored = [one.id for one in receipts if one.answer is Answer.STORED]
    kept = store.log(me, event)
    assert {one.answer for one in receipts} == {Answer.STORED, Answer.DUPLICATE}
    assert len(stored) == len(set(stored)) == len(kept)
    assert [one.seq for one in kept] == list(range(1, len(kept) + 1))
    assert {one.jotting.id for one in kept} == {one.id for one in receipts}
    seqs = {one.jotting.id: one.seq for one in kept}
    assert all(one.seq == seqs[one.id] for one in receipts)


def test_a_reader_who_goes_on_from_where_he_was_misses_nothing(store):
    me, event, over = account(store), uuid4(), Event()

    def read() -> list:
        seen, after = [], 0
        while True:
            last_look = over.is_set()
            page = store.log(me, event, after, most=5)
            seen += page
            after = page[-1].seq if page else after
            if last_look and not page:
                return seen

    with ThreadPoolExecutor(2) as readers:
        read_on = [readers.submit(read) for _ in range(2)]
        at_once(lambda _: [store.append(me, [shot(event)]) for _ in range(25)])
        over.set()
        for reader in read_on:
            assert reader.result() == list(store.log(me, event))
    assert len(store.log(me, event)) == THREADS * 25


def test_jottings_of_several_events_at_once_do_not_wait_for_each_other_for_ever(store):
    me, events = account(store), [uuid4() for _ in range(4)]

    def send(number: int):
        order = random.Random(number).sample(events, 4)
        return [store.append(me, [shot(event) for event in order]) for _ in range(5)]

    at_once(send)
    for event in events:
        assert [one.seq for one in store.log(me, event)] == list(range(1, THREADS * 5 + 1))


def test_of_two_jottings_of_one_id_one_is_kept_wherever_they_go(store):
    me, other = account(store), uuid4()
    for _ in range(10):
        jotting = shot(uuid4())
        receipts = at_once(
            lambda number, one=jotting: store.append(
                me, [one if number % 2 else replace(one, event=other)]
            )
        )
        answers = [receipt.answer for (receipt,) in receipts]
        assert answers.count(Answer.STORED) == 1
        assert answers.count(Answer.DUPLICATE) == THREADS // 2 - 1
        assert answers.count(Answer.CONFLICT) == THREADS // 2


def test_nobody_saves_over_what_he_has_not_seen(store):
    me, pattern, each = account(store), draft(said=[]), 6
    store.save(me, pattern, None)

    def have_a_say(number: int) -> None:
        said = 0
        while said < each:
            read = store.record(me, pattern.id)
            more = [*read.document["said"], [number, said]]
            try:
                store.save(me, replace(pattern, document={"said": more}), read.revision)
            except StaleError:
                continue
            said += 1

    at_once(have_a_say)
    everything = [[number, said] for number in range(THREADS) for said in range(each)]
    assert sorted(store.record(me, pattern.id).document["said"]) == everything
    assert len(store.revisions(me, pattern.id)) == THREADS * each + 1


def test_what_is_saved_new_by_many_is_saved_once(store):
    me, pattern = account(store), draft()
    saved = at_once(lambda _: store.save(me, pattern, None))
    assert {one.revision for one in saved} == {1}
    assert len(store.revisions(me, pattern.id)) == 1


def test_what_somebody_begins_to_need_is_not_deleted_under_it(store):
    me = account(store)
    for _ in range(6):
        house = draft(Kind.HOUSE, "Quayside Lanes")
        store.save(me, house, None)

        def touch(number: int, house=house):
            event = draft(Kind.EVENT, f"Event {number}", house.id)
            try:
                if number % 2:
                    return store.delete(me, house.id)
                return store.save(me, event, None)
            except (NeededError, NotKeptError):
                return None

        at_once(touch)
        needing = [one for one in store.records(me, Kind.EVENT) if house.id in one.links]
        assert bool(needing) is not store.record(me, house.id).deleted


def test_the_account_at_home_is_made_once(store):
    assert len(set(at_once(lambda _: home_account(store)))) == 1
    assert len(store.accounts()) == 1


def test_a_link_that_works_once_lets_one_in(store):
    me = account(store)
    for number in range(10):
        digest = f"link {number}"
        store.keep_ticket(Ticket(digest, me, NOON + timedelta(hours=1), once=True))
        let_in = at_once(lambda _, digest=digest: store.ticket(digest, NOON))
        assert [one.digest for one in let_in if one is not None] == [digest]


def test_the_newest_results_stay_however_many_are_made_at_once(store):
    me, event = account(store), uuid4()
    at_once(
        lambda number: [
            store.keep_computed(me, result(event, number + THREADS * turn)) for turn in range(5)
        ]
    )
    newest = store.computed(me, event, "sheet")
    assert newest is not None
    assert newest.made_at == NOON + timedelta(minutes=THREADS * 5 - 1)
