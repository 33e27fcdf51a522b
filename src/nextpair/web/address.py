"""Where the program is served, and under which names it may be asked for."""

from __future__ import annotations

import ipaddress
import re
import socket
from dataclasses import dataclass
from urllib.parse import urlsplit

from nextpair.domain.errors import InvalidValueError, require

DEFAULT_HOST = "127.0.0.1"
DEFAULT_PORT = 8707
"""Fixed, since the phone keeps its log under the address that it was opened at."""
HOST = re.compile(r"(?:\[(?P<number>[0-9a-f:.]+)\]|(?P<name>[^\[\]:@/?#,\s]+))(?::\d*)?")
LOOPBACK_NAMES = frozenset({"localhost", "127.0.0.1", "::1"})


@dataclass(frozen=True, slots=True)
class Address:
    """Host and port that are listened on. `encrypts` is whether it speaks https itself;
    `reached_at` is the address of whatever passes requests on to it, such as a proxy."""

    host: str = DEFAULT_HOST
    port: int = DEFAULT_PORT
    encrypts: bool = False
    asks_sign_in: bool = False
    reached_at: str | None = None

    def __post_init__(self) -> None:
        require(1 <= self.port <= 65535, "--port", self.port, "1 to 65535")
        if self.reached_at is not None:
            _check_url(self.reached_at)

    @property
    def at_home(self) -> bool:
        """Whether only this machine can ask."""
        return is_loopback(self.host) and self.reached_at is None

    @property
    def needs_sign_in(self) -> bool:
        """Whether somebody has to sign in: always where others can ask."""
        return self.asks_sign_in or not self.at_home

    @property
    def secure(self) -> bool:
        """Whether what others send and get is encrypted."""
        return self.encrypts or (self.reached_at or "").startswith("https:")

    def answers_to(self, host: str) -> bool:
        """Whether a Host header names this server. A page of somebody else's whose name was
        pointed here (DNS rebinding) carries its own name, never one of these."""
        name = host_name(host)
        if name in LOOPBACK_NAMES or (
            self.reached_at and name == urlsplit(self.reached_at).hostname
        ):
            return True
        if is_loopback(self.host):
            return False
        return is_number(name) or name in machine_names()

    def url(self, path: str = "/") -> str:
        """The address of one page, for other devices where they can ask: by a name, since the
        network may hand out another number tomorrow."""
        if self.reached_at is not None:
            return self.reached_at.rstrip("/") + path
        name = "localhost" if self.at_home else local_name()
        return f"{'https' if self.encrypts else 'http'}://{name}:{self.port}{path}"


def _check_url(url: str) -> None:
    parts = urlsplit(url)
    try:
        whole = parts.scheme in ("http", "https") and parts.hostname and parts.port != 0
    except ValueError:
        whole = False
    if not whole or parts.path.strip("/") or parts.query or parts.username:
        allowed = "an address such as https://laptop.example.net"
        raise InvalidValueError("--reached-at", url, allowed)


def is_loopback(host: str) -> bool:
    """Whether only this machine can connect to a host."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def is_number(host: str) -> bool:
    """Whether a host is an address in numbers."""
    try:
        ipaddress.ip_address(host)
    except ValueError:
        return False
    return True


def host_name(header: str) -> str:
    """The name in a Host header, without port and brackets; nothing where it holds more than that
    (RFC 9110, section 7.2: a host, and a port or none)."""
    whole = HOST.fullmatch(header.strip().lower())
    if whole is None:
        return ""
    return whole["number"] or whole["name"].removesuffix(".")


def local_name() -> str:
    """This machine's name on the local network."""
    return f"{_short_name()}.local"


def machine_names() -> frozenset[str]:
    """Names by which the local network finds this machine."""
    return frozenset({_short_name(), local_name(), socket.gethostname().lower()})


def _short_name() -> str:
    return socket.gethostname().partition(".")[0].lower()
