"""The web app on the command line."""

from __future__ import annotations

import logging
from dataclasses import replace
from threading import Thread
from time import sleep
from typing import TYPE_CHECKING, Annotated

import typer

from nextpair.cli.options import takes
from nextpair.cli.session import Session
from nextpair.domain.errors import InvalidValueError, NextpairError

if TYPE_CHECKING:
    from socket import socket

    from nextpair.application.store import Store
    from nextpair.bootstrap import Program
    from nextpair.web.address import Address
    from nextpair.web.certificates import Certificates

LOOKED_EVERY_S = 600.0
"""How often a running server looks whether a new day wants its copy."""

Host = Annotated[
    str,
    typer.Option("--host", metavar="HOST", help="Address to listen on; 0.0.0.0 is the network's."),
]
Port = Annotated[int, typer.Option("--port", metavar="PORT", help="Port to listen on.")]
SignIn = Annotated[bool, typer.Option("--sign-in", help="Ask for a password at home too.")]
Tls = Annotated[
    bool, typer.Option("--tls", help="Speak https, by a certificate authority of your own.")
]
ReachedAt = Annotated[
    str | None,
    typer.Option("--reached-at", metavar="URL", help="Address of a proxy that passes on to it."),
]


@takes("data_dir", "store", "threads", "cache_dir", "debug")
def serve(
    ctx: typer.Context,
    host: Host = "127.0.0.1",
    port: Port = 8707,
    sign_in: SignIn = False,
    reached_at: ReachedAt = None,
    tls: Tls = False,
) -> str:
    """Run the web app, for this computer unless told otherwise."""
    from nextpair.bootstrap import start_log
    from nextpair.web.address import Address
    from nextpair.web.certificates import TLS_FOLDER, certificates
    from nextpair.web.hands import Hands
    from nextpair.web.home import Home
    from nextpair.web.passwords import Argon2Hasher
    from nextpair.web.server import listen, run

    session: Session = ctx.obj
    kept = session.program()
    address = Address(host, port, encrypts=tls, asks_sign_in=sign_in, reached_at=reached_at)
    listening = listen(address)
    store = _opened(kept, listening)
    try:
        _check_somebody_can_sign_in(address, store)
        own = certificates(kept.data_folder() / TLS_FOLDER) if tls else None
        typer.echo(_where(address, own), err=True)
        start_log(session.settings, "nextpair serve")
        program = session.assemble(replace(session.settings, threads=1))
        hands = Hands(session.settings)
        papers = program.papers()
        Thread(target=_copy_daily, args=(kept,), name="daily copies", daemon=True).start()
        run(Home(program, store, papers, address, Argon2Hasher(), hands, own), listening)
    finally:
        listening.close()
        store.close()
    return ""


def _opened(program: Program, listening: socket) -> Store:
    """The store, every page of it checked; the port is let go where it does not open."""
    try:
        program.require_sound()
        return program.store()
    except NextpairError:
        listening.close()
        raise


def _copy_daily(program: Program) -> None:
    """Copy the store on each day that the server runs, for as long as it does."""
    while True:
        sleep(LOOKED_EVERY_S)
        try:
            program.keep_daily()
        except NextpairError as damaged:
            logging.getLogger("nextpair.store").error("%s", damaged)


def _check_somebody_can_sign_in(address: Address, store: Store) -> None:
    if address.needs_sign_in and not any(one.password_hash for one in store.accounts()):
        allowed = "one that signs in: nextpair account password home"
        raise InvalidValueError("account", "none with a password", allowed)


def _where(address: Address, own: Certificates | None) -> str:
    """Where it runs and who can reach it, in words."""
    lines = [f"nextpair runs at {address.url()}"]
    if address.at_home:
        lines.append("Only this computer can reach it. It keeps running until you press Ctrl+C.")
        return "\n".join(lines)
    lines.append("Other devices can reach it, and have to sign in. Ctrl+C stops it.")
    if own is not None:
        lines.append(f"A phone's first visit is to {address.url('/trust')}. There it should show:")
        lines.append(f"  {own.fingerprint}")
    if not address.secure:
        lines.append(
            "Nothing is encrypted: whoever listens on this network can read it, and a phone does "
            "not keep the page for offline. Use --tls."
        )
    return "\n".join(lines)
