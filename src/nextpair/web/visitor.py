"""Who asks: the account behind a request."""

from __future__ import annotations

from typing import Annotated

from fastapi import Depends, Request
from fastapi.responses import Response

from nextpair.application.accounts import (
    SESSION_LASTS,
    Admission,
    NotSignedInError,
    account_of_secret,
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


def asker_of(request: Request) -> str:
    """From where somebody asks: by that, tries are counted."""
    return request.client.host if request.client else "somewhere"


def device_of(request: Request) -> str:
    """What the visitor's browser calls itself, in short: told to the owner of the account."""
    agent = request.headers.get("user-agent", "")
    known = ("iPhone", "iPad", "Android", "Windows", "Macintosh", "Linux")
    return next((name for name in known if name in agent), agent[:LONGEST_DEVICE] or "a device")


def let_in(response: Response, home: Home, admission: Admission) -> None:
    """Give a session to the visitor's browser."""
    response.set_cookie(
        _cookie_name(home),
        admission.secret,
        max_age=int(SESSION_LASTS.total_seconds()),
        httponly=True,
        samesite="lax",
        secure=home.address.secure,
        path="/",
    )


def let_out(response: Response, home: Home) -> None:
    """Take the session from the visitor's browser."""
    response.delete_cookie(
        _cookie_name(home), path="/", httponly=True, secure=home.address.secure, samesite="lax"
    )


def _cookie_name(home: Home) -> str:
    return SECURE_COOKIE if home.address.secure else COOKIE
