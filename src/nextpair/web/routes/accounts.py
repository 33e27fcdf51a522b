"""Signing in and out, links for the phone, sessions and passwords."""

from __future__ import annotations

from fastapi import APIRouter, HTTPException, Request, Response
from fastapi.responses import RedirectResponse

from nextpair.application.accounts import (
    NotSignedInError,
    change_password,
    make_link,
    open_link,
    sign_in,
)
from nextpair.web.access import OWN_SITES
from nextpair.web.code_picture import code_picture
from nextpair.web.errors import NotAllowedError
from nextpair.web.pages import OPEN_YOURSELF, plain_page
from nextpair.web.tries import PLACE_ANOTHER_AFTER_S, PLACE_TRIES, Tally
from nextpair.web.visitor import (
    CHECKS_PASSWORD,
    Here,
    Visitor,
    asker_of,
    device_of,
    end_session,
    let_in,
    let_out,
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


@router.post("/sign-in", dependencies=[CHECKS_PASSWORD])
def enter(body: SignInIn, request: Request, response: Response, home: Here) -> SignedIn:
    """A session for who knows the password; after five wrong ones it takes patience."""
    place = asker_of(request)
    home.sign_in_tries.spend(body.name, place)
    account, admission = sign_in(
        home.store, body.name, body.password, home.hasher, device_of(request), home.now()
    )
    home.sign_in_tries.was_right(body.name, place)
    let_in(request, response, home, admission)
    return SignedIn(account=told_account(account))


@router.post("/sign-out", status_code=204)
def leave(request: Request, response: Response, home: Here) -> None:
    """End this session."""
    end_session(request, home)
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


@router.put("/password", status_code=204, dependencies=[CHECKS_PASSWORD])
def password(body: PasswordIn, response: Response, home: Here, account: Visitor) -> None:
    """Another password; every device signs in again."""
    tally = Tally(f"password of {account.id}")
    home.tries.spend(tally)
    change_password(home.store, account, body.old, body.new, home.hasher)
    home.tries.forget(tally)
    let_out(response, home)


@LINKS.get("/open/{secret}", include_in_schema=False)
def opened(secret: str, request: Request, home: Here) -> Response:
    """Let the phone in that opens a link, and show it its page. Another site's page may not open
    one for its reader, who would keep things in somebody else's account from then on."""
    if request.headers.get("sec-fetch-site", "none") not in OWN_SITES:
        return plain_page("Open it yourself", OPEN_YOURSELF, 403)
    tally = Tally(f"link from {asker_of(request)}", PLACE_TRIES, PLACE_ANOTHER_AFTER_S)
    home.tries.spend(tally)
    try:
        admission = open_link(home.store, secret, device_of(request), home.now())
    except NotSignedInError:
        return RedirectResponse("/used-link", status_code=303)
    home.tries.give_back(tally)
    response = RedirectResponse("/lanes/", status_code=303)
    let_in(request, response, home, admission)
    return response
