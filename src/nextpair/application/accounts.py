"""Who is let in: accounts, passwords, sessions, and links that work once."""

from __future__ import annotations

import hashlib
import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Protocol
from uuid import uuid4

from nextpair.application.names import plain_name
from nextpair.application.store import Account, Store, Ticket
from nextpair.domain.errors import InvalidValueError, NextpairError, require

HOME = "home"
"""Name of the account that is used where nobody signs in."""
SECRET_BYTES = 32
SESSION_LASTS = timedelta(days=60)
LINK_LASTS = timedelta(minutes=10)
SHORTEST_PASSWORD, LONGEST_PASSWORD = 10, 200
LONGEST_NAME = 60


class NotSignedInError(NextpairError):
    """Nobody is let in by that name, password, link or session."""


class PasswordHasher(Protocol):
    """Turns passwords into what may be kept of them."""

    def hash(self, password: str) -> str:
        """What is kept of a password."""

    def matches(self, kept: str | None, password: str) -> bool:
        """Whether it is the password; takes as long where nothing is kept."""


@dataclass(frozen=True, slots=True)
class Admission:
    """A ticket with its secret, which whoever is let in carries and nobody keeps."""

    secret: str
    ticket: Ticket


def digest_of(secret: str) -> str:
    """What is kept of a secret: its SHA-256."""
    return hashlib.sha256(secret.encode()).hexdigest()


def home_account(store: Store) -> Account:
    """The account of whoever uses the program at home, made when it is first asked for."""
    if (account := _home(store)) is not None:
        return account
    made = Account(uuid4(), HOME, None)
    try:
        store.add_account(made)
    except InvalidValueError:
        # Somebody who asked at the same moment may have been quicker.
        if (account := _home(store)) is None:
            raise
        return account
    return made


def account_named(store: Store, name: str) -> Account:
    """An account by its name. Raises InvalidValueError, telling which there are."""
    account = home_account(store) if name == HOME else find_account(store, name)
    if account is None:
        raise InvalidValueError("name", name, _names(store))
    return account


def find_account(store: Store, name: str) -> Account | None:
    """An account by its name, whatever its case and blanks; None where there is none."""
    return store.account_of_key(plain_name(name))


def add_account(store: Store, name: str, password: str, hasher: PasswordHasher) -> Account:
    """Somebody new. Raises InvalidValueError for a name that is taken or a weak password."""
    name = name.strip()
    require(
        0 < len(name) <= LONGEST_NAME and name.isprintable(),
        "name",
        name[:LONGEST_NAME],
        f"a name of 1 to {LONGEST_NAME} characters",
    )
    require(plain_name(name) != HOME, "name", name, "another name: this one is yours already")
    account = Account(uuid4(), name, hasher.hash(_long_enough(password)))
    store.add_account(account)
    return account


def set_password(store: Store, name: str, password: str, hasher: PasswordHasher) -> Account:
    """Another password for an account, by its name; whoever was signed in is not any more."""
    account = account_named(store, name)
    store.change_password(account.id, hasher.hash(_long_enough(password)))
    return account


def change_password(
    store: Store, account: Account, old: str, new: str, hasher: PasswordHasher
) -> None:
    """Another password for who knows the old one. Raises NotSignedInError for who does not."""
    if account.password_hash is not None and not hasher.matches(account.password_hash, old):
        raise NotSignedInError("password")
    store.change_password(account.id, hasher.hash(_long_enough(new)))


def sign_in(
    store: Store, name: str, password: str, hasher: PasswordHasher, device: str, now: datetime
) -> tuple[Account, Admission]:
    """A session for who knows the password. Raises NotSignedInError, whatever was wrong."""
    account = find_account(store, name)
    kept = None if account is None else account.password_hash
    if not hasher.matches(kept, password) or account is None:
        raise NotSignedInError("name or password")
    return account, _admit(store, account, now, SESSION_LASTS, device)


def make_link(store: Store, account: Account, now: datetime) -> Admission:
    """A link that lets one more device in, once, within ten minutes."""
    return _admit(store, account, now, LINK_LASTS, "link", once=True)


def open_link(store: Store, secret: str, device: str, now: datetime) -> Admission:
    """A session for who opens a link. Raises NotSignedInError for one that is used or old."""
    ticket = store.ticket(digest_of(secret), now)
    if ticket is None or not ticket.once:
        raise NotSignedInError("link")
    return _admit(store, store.account(ticket.account), now, SESSION_LASTS, device)


def account_of_secret(store: Store, secret: str, now: datetime) -> Account:
    """Whose session it is. Raises NotSignedInError."""
    ticket = store.ticket(digest_of(secret), now)
    if ticket is None or ticket.once:
        raise NotSignedInError("session")
    return store.account(ticket.account)


def _admit(
    store: Store,
    account: Account,
    now: datetime,
    lasts: timedelta,
    device: str,
    once: bool = False,
) -> Admission:
    secret = secrets.token_urlsafe(SECRET_BYTES)
    ticket = Ticket(digest_of(secret), account.id, now + lasts, once, device)
    store.keep_ticket(ticket)
    return Admission(secret, ticket)


def _home(store: Store) -> Account | None:
    return store.account_of_key(HOME)


def _names(store: Store) -> str:
    return ", ".join(account.name for account in store.accounts()) or "an account"


def _long_enough(password: str) -> str:
    require(
        SHORTEST_PASSWORD <= len(password) <= LONGEST_PASSWORD,
        "password",
        f"{len(password)} characters",
        f"{SHORTEST_PASSWORD} to {LONGEST_PASSWORD} characters",
    )
    return password
