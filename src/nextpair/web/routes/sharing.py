"""Letting others read: accounts of this server, and guests by a link."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated
from uuid import UUID

from fastapi import APIRouter, HTTPException
from pydantic import BaseModel, BeforeValidator, Field

from nextpair.application.sharing import (
    LINK_DAYS,
    make_guest_link,
    share_with,
    stop_sharing,
)
from nextpair.application.store import Account
from nextpair.domain.sharing import LONGEST_LINK, SHORTEST_LINK, Share
from nextpair.web.code_picture import code_picture
from nextpair.web.errors import NotAllowedError
from nextpair.web.tries import Tally
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import AccountOut, LinkOut, Text, Wire, as_number, told_account

router = APIRouter(tags=["sharing"])
Days = Annotated[
    int, Field(ge=SHORTEST_LINK.days, le=LONGEST_LINK.days), BeforeValidator(as_number)
]


class ShareIn(Wire):
    """Who is to read, by the name of an account; and which event, or all where none is told."""

    reader: Text
    event: UUID | None = None


class ShareOut(BaseModel):
    """Who may read what; all events where `event` is null."""

    reader: AccountOut
    event: UUID | None
    since: datetime


class ShareList(BaseModel):
    items: list[ShareOut]


class GuestLinkIn(Wire):
    """For how many days."""

    days: Days = LINK_DAYS


class GuestLinkOut(BaseModel):
    """A link for guests as its owner sees it: its address is told once, when it is made."""

    digest: str
    event: UUID
    made_at: datetime
    expires_at: datetime


class GuestLinkMade(GuestLinkOut, LinkOut):
    """A link that was just made, with its address."""


class GuestLinkList(BaseModel):
    items: list[GuestLinkOut]


@router.get("/shares")
def shares(home: Here, account: Visitor) -> ShareList:
    """Who may read what of yours."""
    found = home.store.shares(account.id)
    return ShareList(items=[_told_share(one, home.store.account(one.reader)) for one in found])


@router.post("/shares", status_code=201)
def share(body: ShareIn, home: Here, account: Visitor) -> ShareOut:
    """Let an account read an event of yours, or all of them; after five names that nobody has it
    takes patience."""
    key = Tally(f"share by {account.id}")
    home.tries.spend(key)
    made, reader = share_with(home.store, account.id, body.reader, body.event, home.now())
    home.tries.give_back(key)
    return _told_share(made, reader)


@router.delete("/shares/{reader}", status_code=204)
def stop(reader: UUID, home: Here, account: Visitor, event: UUID | None = None) -> None:
    """Let an account read one event no more, or what was shared as all of them."""
    stop_sharing(home.store, account.id, reader, event)


@router.get("/guest-links")
def guest_links(home: Here, account: Visitor) -> GuestLinkList:
    """Your links for guests that have not expired."""
    found = home.store.guest_links(account.id, home.now())
    return GuestLinkList(
        items=[GuestLinkOut.model_validate(link, from_attributes=True) for link in found]
    )


@router.post("/events/{id}/guest-links", status_code=201)
def guest_link(id: UUID, body: GuestLinkIn, home: Here, account: Visitor) -> GuestLinkMade:
    """A link that shows the event's newest sheet, and nothing else, to whoever has it."""
    if not home.address.needs_sign_in:
        raise NotAllowedError("a link, while no other device can reach this server")
    secret, link = make_guest_link(home.store, account.id, id, body.days, home.now())
    url = home.address.url(f"/guest/{secret}")
    told = GuestLinkOut.model_validate(link, from_attributes=True)
    return GuestLinkMade(**told.model_dump(), url=url, qr_svg=code_picture(url))


@router.delete("/guest-links/{digest}", status_code=204)
def end(digest: str, home: Here, account: Visitor) -> None:
    """Let nobody in by a link any more."""
    if not home.store.drop_guest_link(account.id, digest):
        raise HTTPException(404, "no such link")


def _told_share(share: Share, reader: Account) -> ShareOut:
    return ShareOut(reader=told_account(reader), event=share.event, since=share.since)
