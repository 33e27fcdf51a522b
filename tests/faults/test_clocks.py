"""Clocks that jump: nothing is lost, hidden or doubled by it."""

from __future__ import annotations

from contextlib import closing
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from uuid import uuid4

from contracts.things import NOON, account, draft, result, shot
from faults.doings import EVENT, STORE
from nextpair.application.accounts import home_account
from nextpair.application.store import Ticket
from nextpair.domain.jotting import JottingKind
from nextpair.store.copies import DAYS, MONTHS, WEEKS, copies_of, damage
from nextpair.store.daily import keep_daily
from nextpair.store.opening import open_store
from served import Clock

DAY = timedelta(days=1)


def test_daily_copies_go_on_and_stay_when_the_clock_jumps(folder):
    store, day = folder / STORE, date(2026, 11, 1)
    for number in range(20):
        keep_daily(store, day + number * DAY)
    for wrong in (date(1970, 1, 1), date(2099, 12, 31), date(1970, 1, 2)):
        before = copies_of(store)
        made = keep_daily(store, wrong)
        assert made is not None, "no copy on a day with a wrong clock"
        after = copies_of(store)
        assert after[-1] == made
        assert len(set(before) - set(after)) <= 3, "more than one by each rule"
        assert len(after) >= DAYS
        assert keep_daily(store, wrong) is None
    for number in range(20, 50):
        assert keep_daily(store, day + number * DAY) is not None
        assert len(copies_of(store)) >= DAYS
    kept = copies_of(store)
    assert [copy.day for copy in kept[-DAYS:]] == [day + n * DAY for n in range(43, 50)]
    assert len(kept) <= DAYS + WEEKS + MONTHS
    assert {damage(copy.path) for copy in kept} == {None}


def test_a_year_of_days_keeps_seven_days_four_weeks_and_twelve_months(folder):
    store, first = folder / STORE, date(2025, 11, 1)
    for number in range(400):
        keep_daily(store, first + number * DAY)
    last = first + 399 * DAY
    days = [copy.day for copy in copies_of(store)]
    assert days[-7:] == [last - n * DAY for n in range(6, -1, -1)]
    # ISO 8601: a week ends on its Sunday. 5 December 2026 is a Saturday.
    assert {date(2026, 11, 15), date(2026, 11, 22), date(2026, 11, 29)} <= set(days)
    month_ends = {date(2026, month + 1, 1) - DAY for month in range(1, 12)}
    assert month_ends <= set(days)
    assert len(days) == 7 + 2 + 10


def test_two_clocks_that_disagree_push_no_other_day_out(folder):
    store, days = folder / STORE, [date(2026, 11, day) for day in range(1, 8)]
    for day in days:
        keep_daily(store, day)
    for _ in range(20):
        for day in days[-2:]:
            keep_daily(store, day)
    assert {copy.day for copy in copies_of(store)} == set(days)


def test_a_record_that_is_saved_by_a_clock_set_back_is_the_newest(folder):
    clock = Clock()
    with closing(open_store(folder / STORE, clock)) as store:
        me, pattern = home_account(store).id, draft(name="Ebb")
        store.save(me, pattern, None)
        clock.advance(days=-400)
        store.save(me, replace(pattern, name="Flow"), 1)
        clock.advance(days=9000)
        store.save(me, replace(pattern, name="Slack"), 2)
        assert [one.name for one in store.revisions(me, pattern.id)] == ["Slack", "Flow", "Ebb"]
        assert store.record(me, pattern.id).name == "Slack"


def test_a_log_keeps_its_order_whatever_phones_say_the_time_is(folder):
    times = ("2099-01-01T00:00:00Z", "1970-01-01T00:00:00Z", "", "noon", "2026-02-30T25:61:00Z")
    with closing(open_store(folder / STORE)) as store:
        me = home_account(store).id
        sent = [
            shot(EVENT, number, client_time=time, kind=kind)
            for number, time in enumerate(times, start=1)
            for kind in (JottingKind.SHOT, JottingKind.VISIT)
        ]
        store.append(me, sent)
        assert [kept.jotting for kept in store.log(me, EVENT)] == sent


def test_a_result_that_is_made_after_the_clock_was_set_back_is_the_one_that_shows(folder):
    with closing(open_store(folder / STORE)) as store:
        me, ahead = home_account(store).id, 60 * 24 * 365
        for number in range(5):
            store.keep_computed(me, result(EVENT, ahead + number))
        now = result(EVENT, 0)
        store.keep_computed(me, now)
        newest = store.computed(me, EVENT, "sheet")
        assert newest is not None
        assert newest.id == now.id
        assert store.computed_by_id(me, now.id).made_at == NOON


def test_a_session_ends_by_a_clock_set_forward_and_is_kept_by_one_set_back(folder):
    with closing(open_store(folder / STORE)) as store:
        me = account(store)
        tickets = [Ticket(uuid4().hex, me, NOON + 30 * DAY, once=False) for _ in range(2)]
        for ticket in tickets:
            store.keep_ticket(ticket)
        assert store.ticket(tickets[0].digest, datetime(2099, 1, 1, tzinfo=UTC)) is None
        assert store.ticket(tickets[1].digest, NOON - 400 * DAY) == tickets[1]
        assert store.ticket(tickets[1].digest, NOON + 31 * DAY) is None
