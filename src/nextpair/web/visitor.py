"""Who asks: the account behind a request."""

from __future__ import annotations

from collections.abc import AsyncIterator
from ipaddress import IPv6Address, ip_address, ip_network
from typing import Annotated

from fastapi import Depends, Request
from fastapi.responses import Response

from nextpair.application.accounts import (
    SESSION_LASTS,
    Admission,
    NotSignedInError,
    account_of_secret,
    digest_of,
)
from nextpair.application.store import Account
from nextpair.web.home import Home

COOKIE, SECURE_COOKIE = "nextpair", "__Host-nextpair"
LONGEST_DEVICE = 60


async def home_of(request: Request) -> Home:
    """The server that was asked."""
    home: Home = request.app.state.home
    return home


Here = Annotated[Home, Depends(home_of)]


def secret_of(request: Request, home: Home) -> str | None:
    """The secret in the visitor's cookie."""
    return request.cookies.get(_cookie_name(home))


def visitor(request: Request, home: Here) -> Account:
    """Whose things are asked for. Raises NotSignedInError."""
    if not home.address.needs_sign_in:
        return home.owner
    secret = secret_of(request, home)
    if secret is None:
        raise NotSignedInError("session")
    return account_of_secret(home.store, secret, home.now())


Visitor = Annotated[Account, Depends(visitor)]


async def in_turn(home: Here, account: Visitor) -> AsyncIterator[None]:
    """Waits for the account's turn. Raises TooManyError."""
    async with home.turns.turn_of(str(account.id)):
        yield


async def in_turn_to_sign_in(home: Here) -> AsyncIterator[None]:
    """Waits for a turn to have a password looked at. Raises TooManyError."""
    async with home.sign_in_turns.turn_of("sign-in"):
        yield


HEAVY = Depends(in_turn, scope="function")
"""For routes that take a core for long: an account has few answered at the same time. The turn is
over before the answer is sent, however slowly it is read."""
CHECKS_PASSWORD = Depends(in_turn_to_sign_in, scope="function")


def asker_of(request: Request) -> str:
    """From where somebody asks: by that, tries are counted. Whoever has one public IPv6 address
    has all of its /64 (RFC 4291, section 2.5.1), so they count as one."""
    if request.client is None:
        return "somewhere"
    try:
        place = ip_address(request.client.host)
    except ValueError:
        return request.client.host
    if isinstance(place, IPv6Address) and place.is_global:
        return str(ip_network((place, 64), strict=False))
    return str(place)


def device_of(request: Request) -> str:
    """What the visitor's browser calls itself, in short: told to the owner of the account."""
    agent = request.headers.get("user-agent", "")
    known = ("iPhone", "iPad", "Android", "Windows", "Macintosh", "Linux")
    return next((name for name in known if name in agent), agent[:LONGEST_DEVICE] or "a device")


def let_in(request: Request, response: Response, home: Home, admission: Admission) -> None:
    """Give a new session to the visitor's browser; the one that it came with ends."""
    end_session(request, home)
    response.set_cookie(
        _cookie_name(home),
        admission.secret,
        max_age=int(SESSION_LASTS.total_seconds()),
        httponly=True,
        samesite="lax",
        secure=home.address.secure,
        path="/",
    )


def end_session(request: Request, home: Home) -> None:
    """End the session that the visitor's browser came with, for every copy of its cookie."""
    secret = secret_of(request, home)
    if secret is not None:
        home.store.drop_ticket(digest_of(secret))


def let_out(response: Response, home: Home) -> None:
    """Take the session from the visitor's browser."""
    response.delete_cookie(
        _cookie_name(home), path="/", httponly=True, secure=home.address.secure, samesite="lax"
    )


def _cookie_name(home: Home) -> str:
    return SECURE_COOKIE if home.address.secure else COOKIE
