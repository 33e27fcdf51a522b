"""Accounts and tickets: who is let in, for how long, and how often."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from uuid import uuid4

import pytest

from contracts.things import NOON, account
from nextpair.application.accounts import find_account
from nextpair.application.store import Account, NotKeptError, Ticket
from nextpair.domain.errors import InvalidValueError
from nextpair.store.database import IDS_AT_ONCE

HOUR = timedelta(hours=1)


def ticket(account, digest="d1", once=False, hours=1, device="phone") -> Ticket:
    return Ticket(digest, account, NOON + hours * HOUR, once, device)


def test_accounts_are_told_first_one_first(store):
    names = ["Zoe", "Ada", "Mia"]
    added = [Account(uuid4(), name, None if name == "Mia" else "$argon2id$x") for name in names]
    for one in added:
        store.add_account(one)
    assert store.accounts() == tuple(added)


def test_one_account_is_found_by_its_id_or_there_is_none(store):
    me, other = account(store), account(store)
    assert store.account(me).id == me
    assert store.account(other) == store.accounts()[1]
    nobody = uuid4()
    with pytest.raises(NotKeptError):
        store.account(nobody)


def test_a_name_is_taken_once(store):
    taken = account(store, "Ada")
    with pytest.raises(InvalidValueError, match="name"):
        store.add_account(Account(uuid4(), "Ada", None))
    with pytest.raises(InvalidValueError):
        store.add_account(Account(taken, "Mia", None))
    assert [one.name for one in store.accounts()] == ["Ada"]


def test_a_name_is_taken_however_it_is_written(store):
    account(store, "Zo\u00eb Marr")
    for same in ("zo\u00eb marr", "ZOE\u0308  MARR", " Zoe\u0308 Marr"):
        with pytest.raises(InvalidValueError, match="name"):
            store.add_account(Account(uuid4(), same, None))
    other = account(store, "Zoe Marr")
    assert [one.id for one in store.accounts()][1:] == [other]


def test_an_account_is_found_by_its_name_however_it_is_written(store):
    account(store, "Ada")
    wanted = account(store, "Zo\u00eb Marr")
    assert store.account_of_key("zo\u00eb marr").id == wanted
    for other in ("Zo\u00eb Marr", "zoe marr", "", "zo\u00eb%"):
        assert store.account_of_key(other) is None
    for written in ("ZO\u00cb MARR", " zoe\u0308  marr "):
        assert find_account(store, written).id == wanted


def test_accounts_are_told_by_their_ids_first_one_first(store):
    added = [account(store, f"name {number}") for number in range(IDS_AT_ONCE + 2)]
    asked = {*added[1:], uuid4()}
    assert [one.id for one in store.accounts(asked)] == added[1:]
    assert store.accounts(()) == ()


def test_a_ticket_lets_in_until_it_expires(store):
    me = account(store)
    session = ticket(me)
    store.keep_ticket(session)
    for _ in range(2):
        assert store.ticket("d1", NOON) == session
    assert store.ticket("other", NOON) is None
    assert store.ticket("d1", NOON + HOUR) is None


def test_a_link_lets_in_once(store):
    me = account(store)
    store.keep_ticket(ticket(me, once=True))
    assert store.ticket("d1", NOON) == ticket(me, once=True)
    assert store.ticket("d1", NOON) is None
    store.keep_ticket(ticket(me, "late", once=True))
    assert store.ticket("late", NOON + HOUR) is None
    assert store.ticket("late", NOON) is None


def test_a_ticket_that_is_dropped_lets_nobody_in(store):
    me = account(store)
    for digest in ("d1", "d2"):
        store.keep_ticket(ticket(me, digest))
    store.drop_ticket("d1")
    store.drop_ticket("never there")
    assert store.ticket("d1", NOON) is None
    assert store.ticket("d2", NOON) == ticket(me, "d2")


def test_whoever_is_let_in_now_is_told(store):
    me, other = account(store), account(store)
    for digest, hours in (("d2", 2), ("d1", 1), ("d3", 3)):
        store.keep_ticket(ticket(me, digest, hours=hours))
    store.keep_ticket(ticket(other, "theirs"))
    assert [one.digest for one in store.tickets(me, NOON + HOUR)] == ["d2", "d3"]
    assert store.tickets(other, NOON) == (ticket(other, "theirs"),)


def test_another_password_ends_every_session_of_that_account(store):
    me, other = account(store), account(store)
    store.keep_ticket(ticket(me))
    store.keep_ticket(ticket(other, "theirs"))
    store.change_password(me, "$argon2id$new")
    by_id = {one.id: one for one in store.accounts()}
    assert by_id[me].password_hash == "$argon2id$new"
    assert by_id[other].password_hash is None
    assert store.tickets(me, NOON) == ()
    assert store.ticket("d1", NOON) is None
    assert store.ticket("theirs", NOON) is not None


def test_a_ticket_kept_again_is_the_new_one(store):
    me = account(store)
    store.keep_ticket(ticket(me))
    longer = replace(ticket(me), expires_at=NOON + 9 * HOUR)
    store.keep_ticket(longer)
    assert store.tickets(me, NOON) == (longer,)


def test_nobody_is_let_in_to_an_account_that_is_not_here(store):
    with pytest.raises(NotKeptError):
        store.keep_ticket(ticket(uuid4()))
    with pytest.raises(NotKeptError):
        store.change_password(uuid4(), None)
