"""Two accounts in one store: nobody sees, changes or counts what is another's."""

from __future__ import annotations

import inspect
from dataclasses import replace
from datetime import timedelta

import pytest

from contracts.things import NOON, account, draft, job, result, shot
from nextpair.application.store import NotKeptError, Store, Ticket
from nextpair.domain.jotting import Answer
from nextpair.domain.record import Kind
from nextpair.domain.sharing import GuestLink, Share

NOT_BY_ACCOUNT = {
    "account",
    "account_of_key",
    "accounts",
    "add_account",
    "close",
    "drop_ticket",
    "guest_link",
    "ticket",
}
"""What is asked about everybody, or by a secret."""


class Season:
    """What one bowler keeps, one of everything."""

    def __init__(self, store: Store, digest: str) -> None:
        self.id = account(store)
        self.bowler, self.gone = draft(Kind.BOWLER, "Ada Voss"), draft(name="Ebb")
        self.event = draft(Kind.EVENT, "Harbour Open", self.bowler.id)
        self.shot = shot(self.event.id)
        self.sheet = result(self.event.id)
        self.job = job(self.id)
        self.ticket = Ticket(digest, self.id, NOON.replace(hour=13), once=False)
        store.save_all(self.id, [self.bowler, self.event, self.gone])
        store.delete(self.id, self.gone.id)
        store.append(self.id, [self.shot])
        store.keep_computed(self.id, self.sheet)
        store.keep_job(self.job)
        store.keep_ticket(self.ticket)
        self.coach = account(store)
        later = NOON + timedelta(days=7)
        self.link = GuestLink(f"guest of {digest}", self.id, self.event.id, NOON, later)
        store.keep_share(Share(self.id, self.coach, None, NOON))
        store.keep_share(Share(self.coach, self.id, None, NOON))
        store.keep_guest_link(self.link)

    def everything(self, store: Store):
        return (
            store.every_revision(self.id),
            store.log(self.id, self.event.id),
            store.computed(self.id, self.event.id, "sheet"),
            store.jobs(self.id, ["waiting"]),
            store.tickets(self.id, NOON),
            store.shares(self.id),
            store.shared_with(self.id),
            store.guest_links(self.id, NOON),
        )


LOOKS = {
    "records": lambda store, me, _: store.records(me),
    "every_revision": lambda store, me, _: store.every_revision(me),
    "changes": lambda store, me, _: store.changes(me),
    "log": lambda store, me, other: store.log(me, other.event.id),
    "logged_events": lambda store, me, _: store.logged_events(me),
    "computed": lambda store, me, other: store.computed(me, other.event.id, "sheet"),
    "computed_notes": lambda store, me, other: store.computed_notes(me, other.event.id),
    "jobs": lambda store, me, _: store.jobs(me, ["waiting"]),
    "tickets": lambda store, me, _: store.tickets(me, NOON),
    "shares": lambda store, me, _: store.shares(me),
    "shared_with": lambda store, me, _: store.shared_with(me),
    "guest_links": lambda store, me, _: store.guest_links(me, NOON),
}
REFUSED = {
    "record": lambda store, me, other: store.record(me, other.event.id),
    "revisions": lambda store, me, other: store.revisions(me, other.event.id),
    "save": lambda store, me, other: store.save(me, replace(other.event, name="mine"), 1),
    "save_all": lambda store, me, other: store.save_all(
        me, [draft(Kind.EVENT, "Pier Cup", other.bowler.id)]
    ),
    "delete": lambda store, me, other: store.delete(me, other.event.id),
    "restore": lambda store, me, other: store.restore(me, other.gone.id),
    "computed_by_id": lambda store, me, other: store.computed_by_id(me, other.sheet.id),
    "job": lambda store, me, other: store.job(me, other.job.id),
    "keep_share": lambda store, me, other: store.keep_share(
        Share(me, other.id, other.event.id, NOON)
    ),
    "keep_guest_link": lambda store, me, other: store.keep_guest_link(
        replace(other.link, digest="mine", owner=me)
    ),
}
OWN_COPIES = {
    "append": lambda store, me, other: store.append(
        me, [replace(other.shot, payload={"game": 9}), shot(other.event.id, 2)]
    ),
    "merge_revisions": lambda store, me, other: store.merge_revisions(
        me, [replace(one, name="mine") for one in store.every_revision(other.id)]
    ),
    "keep_computed": lambda store, me, other: [
        store.keep_computed(me, replace(other.sheet, kind="read")),
        *(store.keep_computed(me, result(other.event.id, later)) for later in range(1, 9)),
    ],
    "keep_job": lambda store, me, other: store.keep_job(
        replace(other.job, account=me, state="done")
    ),
    "keep_ticket": lambda store, me, _: store.keep_ticket(Ticket("mine", me, NOON, False)),
    "drop_share": lambda store, me, other: store.drop_share(me, other.coach, None),
    "drop_guest_link": lambda store, me, other: store.drop_guest_link(me, other.link.digest),
    "change_password": lambda store, me, _: store.change_password(me, "$argon2id$x"),
}


def test_every_method_is_tried():
    methods = {name for name, _ in inspect.getmembers(Store, inspect.isfunction)}
    public = {name for name in methods if not name.startswith("_")}
    assert public == NOT_BY_ACCOUNT | LOOKS.keys() | REFUSED.keys() | OWN_COPIES.keys()


@pytest.mark.parametrize("look", LOOKS)
def test_what_is_anothers_is_not_seen(store, look):
    other, me = Season(store, "theirs"), account(store)
    assert not LOOKS[look](store, me, other)
    assert LOOKS[look](store, other.id, other)


@pytest.mark.parametrize("touch", REFUSED)
def test_what_is_anothers_is_not_there(store, touch):
    other, me = Season(store, "theirs"), account(store)
    before = other.everything(store)
    with pytest.raises(NotKeptError):
        REFUSED[touch](store, me, other)
    assert other.everything(store) == before
    assert store.records(me) == ()


@pytest.mark.parametrize("keep", OWN_COPIES)
def test_the_same_ids_can_be_kept_by_both(store, keep):
    other, me = Season(store, "theirs"), account(store)
    before = other.everything(store)
    OWN_COPIES[keep](store, me, other)
    assert other.everything(store) == before


def test_a_jotting_that_another_has_is_new_to_me(store):
    other, me = Season(store, "theirs"), account(store)
    receipts = store.append(me, [other.shot, other.shot])
    assert [(one.answer, one.seq) for one in receipts] == [
        (Answer.STORED, 1),
        (Answer.DUPLICATE, 1),
    ]


def test_two_who_keep_the_same_event_do_not_get_in_each_others_way(store):
    first, second = Season(store, "d1"), account(store)
    store.merge_revisions(second, store.every_revision(first.id))
    assert store.delete(second, first.event.id).deleted
    assert store.delete(second, first.bowler.id).deleted
    assert not store.record(first.id, first.event.id).deleted
