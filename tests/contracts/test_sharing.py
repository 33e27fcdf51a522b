"""Shares and guests' links: kept once, told by whose they are, ended with their event."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from uuid import UUID, uuid4

import pytest

from contracts.things import NOON, account, draft
from nextpair.application.store import NotKeptError
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.record import Kind
from nextpair.domain.sharing import GuestLink, Share

DAY = timedelta(days=1)


def event_of(store, me, name="Harbour Open") -> UUID:
    return store.save(me, draft(Kind.EVENT, name), None).id


def link(me, event, digest="d1", days=7) -> GuestLink:
    return GuestLink(digest, me, event, NOON, NOON + days * DAY)


def test_what_is_shared_is_told_to_both(store):
    me, coach, other = (account(store) for _ in range(3))
    one = store.keep_share(Share(me, coach, event_of(store, me), NOON))
    every = store.keep_share(Share(me, other, None, NOON + DAY))
    theirs = store.keep_share(Share(other, coach, None, NOON + 2 * DAY))
    assert store.shares(me) == (one, every)
    assert store.shares(me, coach) == (one,)
    assert store.shared_with(coach) == (one, theirs)
    assert store.shared_with(coach, other) == (theirs,)
    assert store.shared_with(other) == (every,)
    assert store.shared_with(me) == store.shares(coach) == ()


@pytest.mark.parametrize("which", ["one event", "all events"])
def test_what_is_shared_twice_is_shared_once_since_the_first_time(store, which):
    me, coach = account(store), account(store)
    event = event_of(store, me) if which == "one event" else None
    first = store.keep_share(Share(me, coach, event, NOON))
    assert store.keep_share(Share(me, coach, event, NOON + DAY)) == first
    assert store.shares(me) == (first,)


def test_one_event_and_all_events_are_shared_and_ended_each_by_itself(store):
    me, coach = account(store), account(store)
    event = event_of(store, me)
    for what in (event, None):
        store.keep_share(Share(me, coach, what, NOON))
    assert store.drop_share(me, coach, None)
    assert [one.event for one in store.shares(me)] == [event]
    assert not store.drop_share(me, coach, None)
    assert not store.drop_share(coach, me, event)
    assert store.drop_share(me, coach, event)
    assert store.shared_with(coach) == ()


def test_nothing_is_shared_that_is_not_kept_or_with_nobody(store):
    me, coach = account(store), account(store)
    event, house = event_of(store, me), store.save(me, draft(Kind.HOUSE, "Quay"), None).id
    gone = store.delete(me, event_of(store, me, "Gone")).id
    for owner, reader, what in (
        (me, coach, uuid4()), (me, coach, house), (me, coach, gone), (coach, me, event),
        (me, uuid4(), event), (me, uuid4(), None), (uuid4(), coach, None),
    ):  # fmt: skip
        with pytest.raises(NotKeptError):
            store.keep_share(Share(owner, reader, what, NOON))
        if what is not None:
            with pytest.raises(NotKeptError):
                store.keep_guest_link(replace(link(owner, what), event=uuid4()))
    for what in (house, gone):
        with pytest.raises(NotKeptError):
            store.keep_guest_link(link(me, what))
    assert store.shares(me) == store.guest_links(me, NOON) == ()


def test_deleting_an_event_ends_its_shares_and_links_for_good(store):
    me, coach = account(store), account(store)
    event, stays = event_of(store, me), event_of(store, me, "Pier Cup")
    for what in (event, stays, None):
        store.keep_share(Share(me, coach, what, NOON))
    for digest, what in (("d1", event), ("d2", stays)):
        store.keep_guest_link(link(me, what, digest))
    store.delete(me, event)
    store.restore(me, event)
    assert {one.event for one in store.shares(me)} == {stays, None}
    assert [one.digest for one in store.guest_links(me, NOON)] == ["d2"]
    assert store.guest_link("d1", NOON) is None


def test_the_same_event_of_another_account_stays_shared(store):
    me, other, coach = (account(store) for _ in range(3))
    event = event_of(store, me)
    store.merge_revisions(other, store.every_revision(me))
    shared = store.keep_share(Share(other, coach, event, NOON))
    store.keep_guest_link(link(other, event))
    store.delete(me, event)
    assert store.shared_with(coach) == (shared,)
    assert store.guest_link("d1", NOON) is not None


def test_an_event_that_comes_deleted_from_elsewhere_is_shared_no_more(store):
    me, coach, elsewhere = (account(store) for _ in range(3))
    event = event_of(store, me)
    store.merge_revisions(elsewhere, store.every_revision(me))
    store.keep_share(Share(me, coach, event, NOON))
    store.delete(elsewhere, event)
    store.merge_revisions(me, store.every_revision(elsewhere))
    assert store.record(me, event).deleted
    assert store.shares(me) == ()


def test_a_link_is_good_until_it_expires_and_as_often_as_one_likes(store):
    me = account(store)
    made = link(me, event_of(store, me))
    store.keep_guest_link(made)
    for _ in range(2):
        assert store.guest_link("d1", NOON + 7 * DAY - timedelta(seconds=1)) == made
    assert store.guest_link("d1", NOON + 7 * DAY) is None
    assert store.guest_links(me, NOON + 7 * DAY) == ()
    assert store.guest_link("d2", NOON) is None


def test_links_are_listed_as_they_were_made_and_ended_by_their_owner_alone(store):
    me, other = account(store), account(store)
    event = event_of(store, me)
    links = [replace(link(me, event, digest), made_at=NOON + hours * timedelta(hours=1))
             for digest, hours in (("b", 1), ("c", 0), ("a", 2))]  # fmt: skip
    for one in links:
        store.keep_guest_link(one)
    assert [one.digest for one in store.guest_links(me, NOON)] == ["c", "b", "a"]
    assert not store.drop_guest_link(other, "b")
    assert store.drop_guest_link(me, "b")
    assert not store.drop_guest_link(me, "b")
    assert [one.digest for one in store.guest_links(me, NOON)] == ["c", "a"]


def test_a_new_link_sweeps_away_what_has_expired(database):
    me = account(database)
    event = event_of(database, me)
    database.keep_guest_link(link(me, event))
    later = replace(link(me, event, "d2"), made_at=NOON + 8 * DAY, expires_at=NOON + 9 * DAY)
    database.keep_guest_link(later)
    assert database.guest_links(me, NOON) == (later,)


def test_another_password_ends_no_share_and_no_link(store):
    me, coach = account(store), account(store)
    shared = store.keep_share(Share(me, coach, None, NOON))
    store.keep_guest_link(link(me, event_of(store, me)))
    for one in (me, coach):
        store.change_password(one, "$argon2id$x")
    assert store.shared_with(coach) == (shared,)
    assert store.guest_link("d1", NOON) is not None


@pytest.mark.parametrize("days", [0, 31])
def test_a_link_lasts_from_a_day_to_thirty(days):
    with pytest.raises(InvalidValueError, match="1 to 30 days"):
        link(uuid4(), uuid4(), days=days)


def test_nobody_shares_with_himself_or_the_event_that_is_none():
    me = uuid4()
    with pytest.raises(InvalidValueError, match="somebody else"):
        Share(me, me, None, NOON)
    with pytest.raises(InvalidValueError, match="event"):
        Share(me, uuid4(), UUID(int=0), NOON)
