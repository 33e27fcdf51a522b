"""Who may read what of whom, and what they are given: nothing that one would not pass on.

`readable` is the one place that lets an account read what is another's. Whatever is not shared,
was put away, or never was, is refused alike.
"""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from uuid import UUID

from nextpair.application.accounts import SECRET_BYTES, digest_of, find_account
from nextpair.application.bundle import EventBundle
from nextpair.application.events import for_others
from nextpair.application.keeping import record_of
from nextpair.application.names import plain_name
from nextpair.application.store import Account, NotKeptError, Store
from nextpair.domain.errors import InvalidValueError, require
from nextpair.domain.record import Kind, Record
from nextpair.domain.sharing import GuestLink, Share

LINK_DAYS = 7
"""How long a guest's link lasts, unless its owner says otherwise."""
MOST_LINKS = 50
"""Of one account at a time: more of them nobody keeps in mind."""
PAGE = 25
"""Athletes told at once."""
NO_MONEY_OF_MONEY = ("cut_to", "entries")
"""Keys of an event's `money` that say how it is decided."""


@dataclass(frozen=True, slots=True)
class Readable:
    """An event that somebody may read, and whose it is."""

    owner: Account
    record: Record


@dataclass(frozen=True, slots=True)
class Athlete:
    """Somebody who shares something: how many events, and the next one, or else the last."""

    owner: Account
    events: int
    next: Record | None


@dataclass(frozen=True, slots=True)
class Athletes:
    """A page of those who share something with somebody, by name. `total` are on all pages."""

    page: int
    pages: int
    total: int
    athletes: tuple[Athlete, ...]


def share_with(
    store: Store, owner: UUID, reader_name: str, event: UUID | None, now: datetime
) -> tuple[Share, Account]:
    """Let an account read an event, or all of them; twice is once. Raises InvalidValueError for a
    name that nobody has, or one's own; NotKeptError for an event that is not kept."""
    reader = find_account(store, reader_name)
    if reader is None:
        raise InvalidValueError("reader", reader_name, "the name of another account here")
    return store.keep_share(Share(owner, reader.id, event, now)), reader


def stop_sharing(store: Store, owner: UUID, reader: UUID, event: UUID | None) -> None:
    """Let an account read no more, from its next request on. Raises NotKeptError."""
    if not store.drop_share(owner, reader, event):
        raise NotKeptError("share", reader)


def readable(store: Store, reader: UUID, owner: UUID, event: UUID) -> Readable:
    """What lets an account read an event of another: that it is shared and kept. One's own can be
    read so too, to see what others see. Raises NotKeptError, whatever is in the way."""
    own = reader == owner
    if own or any(share.covers(event) for share in store.shared_with(reader, owner)):
        found = _kept(store, owner, event)
        if found is not None:
            return Readable(store.account(owner), found)
    raise NotKeptError("event", event)


def readable_events(store: Store, reader: UUID, owner: UUID) -> tuple[Account, tuple[Record, ...]]:
    """The events of an account that another may read, first day first. Raises NotKeptError where
    nothing is shared, alike for an account that is not here."""
    shares = store.shared_with(reader, owner)
    if not shares and reader != owner:
        raise NotKeptError("account", owner)
    everything = reader == owner or any(share.event is None for share in shares)
    return store.account(owner), _events(store, owner, shares, everything)


def shared_with_me(
    store: Store, reader: UUID, today: date, search: str = "", page: int = 1
) -> Athletes:
    """Who shares something with an account, by name: those whose name has the words of `search`.
    Events are looked up for the page alone. A page past the last is the last."""
    shares: dict[UUID, list[Share]] = {}
    for share in store.shared_with(reader):
        shares.setdefault(share.owner, []).append(share)
    words = plain_name(search)
    found = [account for account in store.accounts(shares) if words in account.key]
    found.sort(key=lambda one: (one.name.casefold(), one.id))
    pages = max(1, -(-len(found) // PAGE))
    page = min(page, pages)
    told = found[(page - 1) * PAGE : page * PAGE]
    athletes = tuple(_athlete(store, one, shares[one.id], today) for one in told)
    return Athletes(page, pages, len(found), athletes)


def make_guest_link(
    store: Store, owner: UUID, event: UUID, days: int, now: datetime
) -> tuple[str, GuestLink]:
    """A link to the sheet of an event, with its secret, which nobody keeps. Raises
    InvalidValueError for a time that is too short or long, and for too many links; NotKeptError
    where there is no sheet."""
    links = len(store.guest_links(owner, now))
    require(links < MOST_LINKS, "link", links, f"up to {MOST_LINKS} at a time: end one first")
    record_of(store, owner, Kind.EVENT, event)
    if store.computed(owner, event, "sheet") is None:
        raise NotKeptError("sheet", event)
    secret = secrets.token_urlsafe(SECRET_BYTES)
    link = GuestLink(digest_of(secret), owner, event, now, now + timedelta(days=days))
    store.keep_guest_link(link)
    return secret, link


def open_guest_link(store: Store, secret: str, now: datetime) -> GuestLink | None:
    """What a guest may read; None for a link that never was, has expired or was ended."""
    return store.guest_link(digest_of(secret), now)


def as_shared(bundle: EventBundle) -> EventBundle:
    """An event as whoever may read it has it: as for others, and how many go on."""
    money = bundle.event.get("money")
    public = for_others(bundle)
    if not isinstance(money, Mapping):
        return public
    kept = {key: money[key] for key in NO_MONEY_OF_MONEY if key in money}
    return replace(public, event={**public.event, "money": kept}) if kept else public


def _athlete(store: Store, owner: Account, shares: list[Share], today: date) -> Athlete:
    everything = any(share.event is None for share in shares)
    events = _events(store, owner.id, shares, everything)
    coming = [one for one in events if day_of(one) >= today.isoformat()]
    return Athlete(owner, len(events), coming[0] if coming else events[-1] if events else None)


def _events(
    store: Store, owner: UUID, shares: tuple[Share, ...] | list[Share], everything: bool
) -> tuple[Record, ...]:
    if everything:
        found = store.records(owner, Kind.EVENT)
    else:
        named = {share.event for share in shares if share.event is not None}
        kept = (_kept(store, owner, event) for event in named)
        found = tuple(record for record in kept if record is not None)
    return tuple(sorted(found, key=lambda one: (day_of(one), one.name, one.id)))


def _kept(store: Store, owner: UUID, event: UUID) -> Record | None:
    try:
        record = record_of(store, owner, Kind.EVENT, event)
    except NotKeptError:
        return None
    return None if record.deleted else record


def day_of(record: Record) -> str:
    """An event's day, ISO 8601; empty where its record says none."""
    return str(record.document.get("date") or "")
