"""Signing in and out, links for the phone, sessions and passwords."""

from __future__ import annotations

from fastapi import APIRouter, HTTPException, Request, Response
from fastapi.responses import RedirectResponse

from nextpair.application.accounts import (
    NotSignedInError,
    change_password,
    digest_of,
    make_link,
    open_link,
    sign_in,
)
from nextpair.web.code_picture import code_picture
from nextpair.web.errors import NotAllowedError
from nextpair.web.visitor import (
    Here,
    Visitor,
    asker_of,
    device_of,
    let_in,
    let_out,
    secret_of,
)
from nextpair.web.wire import (
    LinkOut,
    PasswordIn,
    SignedIn,
    SignInIn,
    TicketList,
    told_account,
    told_ticket,
)

router = APIRouter(tags=["accounts"])
LINKS = APIRouter()
"""The one page that a link opens, beside the API."""


@router.post("/sign-in")
def enter(body: SignInIn, request: Request, response: Response, home: Here) -> SignedIn:
    """A session for who knows the password; after five wrong ones it takes patience."""
    keys = (f"from {asker_of(request)}", f"as {body.name.strip().casefold()}")
    home.tries.spend(*keys)
    account, admission = sign_in(
        home.store, body.name, body.password, home.hasher, device_of(request), home.now()
    )
    home.tries.forget(*keys)
    let_in(response, home, admission)
    return SignedIn(account=told_account(account))


@router.post("/sign-out", status_code=204)
def leave(request: Request, response: Response, home: Here) -> None:
    """End this session."""
    secret = secret_of(request, home)
    if secret is not None:
        home.store.drop_ticket(digest_of(secret))
    let_out(response, home)


@router.post("/links", status_code=201)
def link(home: Here, account: Visitor) -> LinkOut:
    """A link that lets one device in, once, for ten minutes."""
    if not home.address.needs_sign_in:
        raise NotAllowedError("a link, while no other device can reach this server")
    admission = make_link(home.store, account, home.now())
    url = home.address.url(f"/open/{admission.secret}")
    return LinkOut(url=url, expires_at=admission.ticket.expires_at, qr_svg=code_picture(url))


@router.get("/tickets")
def tickets(home: Here, account: Visitor) -> TicketList:
    """Devices that are let in, and links that were not opened yet."""
    found = home.store.tickets(account.id, home.now())
    return TicketList(items=[told_ticket(ticket) for ticket in found])


@router.delete("/tickets/{digest}", status_code=204)
def end(digest: str, home: Here, account: Visitor) -> None:
    """Shut one device out."""
    own = {ticket.digest for ticket in home.store.tickets(account.id, home.now())}
    if digest not in own:
        raise HTTPException(404, "no such device")
    home.store.drop_ticket(digest)


@router.put("/password", status_code=204)
def password(body: PasswordIn, response: Response, home: Here, account: Visitor) -> None:
    """Another password; every device signs in again."""
    key = f"as {account.name.casefold()}"
    home.tries.spend(key)
    change_password(home.store, account, body.old, body.new, home.hasher)
    home.tries.forget(key)
    let_out(response, home)


@LINKS.get("/open/{secret}", include_in_schema=False)
def opened(secret: str, request: Request, home: Here) -> Response:
    """Let the phone in that opens a link, and show it its page."""
    keys = (f"from {asker_of(request)}",)
    home.tries.spend(*keys)
    try:
        admission = open_link(home.store, secret, device_of(request), home.now())
    except NotSignedInError:
        return RedirectResponse("/used-link", status_code=303)
    home.tries.forget(*keys)
    response = RedirectResponse("/lanes/", status_code=303)
    let_in(response, home, admission)
    return response
