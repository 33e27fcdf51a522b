"""A bad network: stands between a client and the server, and spoils what passes through it.

Each connection carries one request, so that a fault meets exactly the requests that it is meant
for: none of it is a mock in the page or in the server.
"""

from __future__ import annotations

import socket
import struct
import threading
from dataclasses import dataclass, field
from enum import Enum, auto

HEAD_ENDS = b"\r\n\r\n"
CHUNK_BYTES = 65536
SIGN_IN_PAGE = b"<!doctype html><title>Guest network</title><h1>Accept the terms to go online</h1>"


class Fault(Enum):
    """What becomes of a request."""

    NONE = auto()
    CUT = auto()
    """Nobody answers: the connection is reset."""
    LOSE_ANSWER = auto()
    """The server did what was asked; the answer gets lost on the way."""
    HANG = auto()
    """The request goes nowhere and nothing comes back, for as long as the fault lasts."""
    HANG_AFTER = auto()
    """The server did what was asked, and nothing comes back for as long as the fault lasts."""
    SIGN_IN_PAGE = auto()
    """The venue's network answers in the server's place: 200 and a page of its own."""
    SIGN_IN_REDIRECT = auto()
    """The same as a redirect."""


PORTAL_ANSWERS = {
    Fault.SIGN_IN_PAGE: (b"200 OK", b""),
    Fault.SIGN_IN_REDIRECT: (b"302 Found", b"Location: /guest-network\r\n"),
}


@dataclass(slots=True)
class Spell:
    """A fault, the requests it meets (those whose path holds `path`), and how many of them."""

    fault: Fault = Fault.NONE
    path: str = ""
    times: int | None = None
    ended: threading.Event = field(default_factory=threading.Event)


class Proxy:
    """Listens on `port` of the loopback and hands requests on to the server's port."""

    def __init__(self, server_port: int) -> None:
        self.server_port = server_port
        self.met = 0
        """Requests that a fault has met."""
        self.detours: dict[str, int] = {}
        """Ports of other servers for paths that begin so."""
        self._spell = Spell()
        self._lock = threading.Lock()
        self._open: set[socket.socket] = set()
        self._listener = socket.create_server(("127.0.0.1", 0))
        self.port = self._listener.getsockname()[1]
        threading.Thread(target=self._listen, daemon=True).start()

    @property
    def url(self) -> str:
        """Where a client asks."""
        return f"http://127.0.0.1:{self.port}"

    def spoil(self, fault: Fault, path: str = "", times: int | None = None) -> None:
        """From now on a fault meets requests; connections that are open end."""
        with self._lock:
            self._spell.ended.set()
            self._spell = Spell(fault, path, times)
            left, self._open = self._open, set()
        for connection in left:
            _reset(connection)

    def mend(self) -> None:
        """The network is good again."""
        self.spoil(Fault.NONE)

    def close(self) -> None:
        """Stop listening."""
        self.spoil(Fault.CUT)
        # A listener that is only closed goes on holding its port while another thread accepts.
        self._listener.shutdown(socket.SHUT_RDWR)
        self._listener.close()

    def _listen(self) -> None:
        while True:
            try:
                connection, _ = self._listener.accept()
            except OSError:
                return
            threading.Thread(target=self._serve, args=(connection,), daemon=True).start()

    def _serve(self, client: socket.socket) -> None:
        with self._lock:
            self._open.add(client)
        try:
            self._pass_on(client)
        except OSError:
            pass
        finally:
            with self._lock:
                self._open.discard(client)
            client.close()

    def _pass_on(self, client: socket.socket) -> None:
        request = _whole_request(client)
        if not request:
            return
        spell = self._met_by(request)
        if spell.fault is Fault.NONE:
            self._exchange(request, client)
        elif spell.fault in PORTAL_ANSWERS:
            client.sendall(_portal_answer(spell.fault))
        else:
            if spell.fault in (Fault.LOSE_ANSWER, Fault.HANG_AFTER):
                self._exchange(request, None)
            if spell.fault in (Fault.HANG, Fault.HANG_AFTER):
                spell.ended.wait()
            _reset(client)

    def _port_for(self, request: bytes) -> int:
        path = _path_of(request)
        ports = (port for beginning, port in self.detours.items() if path.startswith(beginning))
        return next(ports, self.server_port)

    def _met_by(self, request: bytes) -> Spell:
        path = _path_of(request)
        with self._lock:
            spell = self._spell
            if spell.fault is Fault.NONE or spell.path not in path or spell.times == 0:
                return Spell()
            if spell.times is not None:
                spell.times -= 1
            self.met += 1
            return spell

    def _exchange(self, request: bytes, client: socket.socket | None) -> None:
        """Ask the server, and hand its answer on if there is a client to hear it."""
        try:
            server = socket.create_connection(("127.0.0.1", self._port_for(request)), timeout=60)
        except OSError:
            if client is not None:
                _reset(client)
            return
        with self._lock:
            self._open.add(server)
        try:
            server.sendall(request)
            while answer := server.recv(CHUNK_BYTES):
                if client is not None:
                    client.sendall(answer)
        finally:
            with self._lock:
                self._open.discard(server)
            server.close()


def _whole_request(client: socket.socket) -> bytes:
    """One request, head and body, that asks for the connection to end after the answer."""
    received = b""
    while HEAD_ENDS not in received:
        chunk = client.recv(CHUNK_BYTES)
        if not chunk:
            return b""
        received += chunk
    head, _, body = received.partition(HEAD_ENDS)
    first, *fields = head.split(b"\r\n")
    length = 0
    kept = [first]
    for line in fields:
        name, _, value = line.partition(b":")
        if name.lower() == b"content-length":
            length = int(value)
        if name.lower() not in (b"connection", b"keep-alive"):
            kept.append(line)
    while len(body) < length:
        chunk = client.recv(CHUNK_BYTES)
        if not chunk:
            return b""
        body += chunk
    return b"\r\n".join([*kept, b"Connection: close"]) + HEAD_ENDS + body


def _path_of(request: bytes) -> str:
    return request.split(b" ", 2)[1].decode("latin-1")


def _portal_answer(fault: Fault) -> bytes:
    status, more = PORTAL_ANSWERS[fault]
    return (
        b"HTTP/1.1 " + status + b"\r\nContent-Type: text/html\r\nConnection: close\r\n" + more
    ) + b"Content-Length: %d\r\n\r\n%s" % (len(SIGN_IN_PAGE), SIGN_IN_PAGE)


def _reset(connection: socket.socket) -> None:
    """End a connection as a network that is gone does, not as a server that says goodbye."""
    try:
        connection.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
        connection.shutdown(socket.SHUT_RDWR)
    except OSError:
        pass
    connection.close()
