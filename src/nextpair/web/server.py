"""The web server itself: a port of its own, quiet about who asks for what."""

from __future__ import annotations

import errno
import logging
import os
import socket
import sys

import uvicorn

from nextpair.domain.errors import InvalidValueError
from nextpair.web.address import Address
from nextpair.web.app import create_app
from nextpair.web.home import Home

GRACE_S = 3
"""How long answers that are under way may take once the server is told to stop."""


def listen(address: Address) -> socket.socket:
    """The port, held before anything else is opened. Raises InvalidValueError if it is taken.

    It names its protocol: the event loop sends an answer's last piece at once only where it does,
    and otherwise waits 40 ms for whoever asked.
    """
    family = socket.AF_INET6 if ":" in address.host else socket.AF_INET
    listening = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    if os.name == "posix":
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((address.host, address.port))
        listening.listen(128)
    except (OSError, OverflowError) as refused:
        listening.close()
        raise _taken(address, refused) from refused
    return listening


def _taken(address: Address, refused: Exception) -> InvalidValueError:
    code = getattr(refused, "errno", None)
    if code == errno.EADDRINUSE:
        allowed = "a port that nobody uses; nextpair may be running already"
        return InvalidValueError("--port", address.port, allowed)
    if code == errno.EACCES:
        return InvalidValueError("--port", address.port, "a port above 1023")
    return InvalidValueError("--host", address.host, "an address of this machine")


def _warn_on_the_terminal() -> None:
    handler = logging.StreamHandler(sys.stderr)
    handler.setLevel(logging.WARNING)
    handler.setFormatter(logging.Formatter("nextpair: %(message)s"))
    logging.getLogger().addHandler(handler)


def run(home: Home, listening: socket.socket) -> None:
    """Serve until somebody stops it."""
    _warn_on_the_terminal()
    own = home.certificates
    config = uvicorn.Config(
        create_app(home),
        log_config=None,
        access_log=False,
        server_header=False,
        proxy_headers=home.address.reached_at is not None,
        timeout_graceful_shutdown=GRACE_S,
        ssl_keyfile=None if own is None else own.server_key,
        ssl_certfile=None if own is None else own.server_chain,
    )
    server = uvicorn.Server(config)
    home.is_stopping = lambda: server.should_exit
    server.run([listening])
