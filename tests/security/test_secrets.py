"""What a server in use writes down: nothing secret in its words, its log or what it keeps.

The program runs as it is installed, in a process of its own, with a store on disk. Marked words go
in wherever secrets do, answers from 200 to 500 come back, and then every file is searched.
"""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from dataclasses import dataclass, field
from datetime import UTC, datetime
from http.client import HTTPConnection
from http.cookies import SimpleCookie
from pathlib import Path
from urllib.parse import quote, urlsplit
from uuid import UUID, uuid4

import pytest

from browser.running import Server, run_program
from event_folder import DEMO
from nextpair.application.store import Computed
from nextpair.files.results import result_document
from nextpair.store.opening import open_store
from served import PASSWORD
from unit.reports.sheet_factory import a_sheet

NAME, READER = "Ada Quill", "Coach Brannock"
STORE = "nextpair.sqlite3"
MARK = "zwqx"
OWN, NEXT, WRONG, MISTAKEN = (f"{MARK} {word} pass words" for word in ("own", "next", "no", "bad"))
"""Passwords: the account's, the one after it, a wrong one, and one sent to another place."""
CARE, HOUSE, DIARY, NOTE = (f"{MARK}-{word}-kept" for word in ("care", "house", "diary", "note"))
LOST = f"{MARK}-lost-note"
"""What was to be written as the store failed."""
ID = "00000000-0000-4000-8000-00000000000"


@dataclass
class Used:
    """A server that was used and stopped: where it wrote, what it answered, what it gave out."""

    folder: Path
    words: str = ""
    statuses: set[int] = field(default_factory=set)
    given_out: set[str] = field(default_factory=set)
    """Cookies and the secrets of links."""
    before: dict[str, bytes] = field(default_factory=dict)
    """Every file before the store failed."""

    def files(self, *folders: str) -> dict[str, bytes]:
        """What lies there, by its path; of all folders where none is told."""
        roots = [self.folder / name for name in folders] or [self.folder]
        found = [path for root in roots for path in root.rglob("*") if path.is_file()]
        return {str(path.relative_to(self.folder)): path.read_bytes() for path in found}


class Asker:
    """A browser that writes down what it is given."""

    def __init__(self, server: Server, used: Used) -> None:
        self.folder = used.folder
        self._used, self._port = used, server.port
        self._cookie = ""

    def __call__(self, path: str, body: object = None, method: str | None = None) -> bytes:
        method = method or ("GET" if body is None else "POST")
        address = path if path.startswith(("/guest", "/open")) else f"/api/v1{path}"
        sent = body if isinstance(body, bytes) else json.dumps(body).encode() if body else None
        headers = {"Content-Type": "application/json", "Cookie": self._cookie}
        with closing(HTTPConnection("127.0.0.1", self._port, timeout=30)) as way:
            way.request(method, address, sent, headers)
            answer = way.getresponse()
            told = answer.read()
        self._used.statuses.add(answer.status)
        for name, morsel in SimpleCookie(answer.getheader("Set-Cookie", "")).items():
            self._cookie = f"{name}={morsel.value}"
            self._used.given_out |= {morsel.value} - {""}
        return told

    def link(self, path: str, body: object) -> str:
        """The address that a link leads to; its secret is remembered."""
        address = urlsplit(json.loads(self(path, body))["url"]).path
        self._used.given_out.add(address.rpartition("/")[2])
        return address


@pytest.fixture(scope="module")
def used(tmp_path_factory) -> Used:
    """A day of a server, its store failing in the end."""
    folder = tmp_path_factory.mktemp("secrets")
    used, store = Used(folder), folder / STORE
    for name, password in ((NAME, OWN), (READER, PASSWORD)):
        add = ("account", "add", name, "--password-stdin", "--data-dir", str(folder))
        run_program(*add, store=store, told=f"{password}\n")
    with Server(folder, "--sign-in", "--data-dir", str(folder)) as server:
        asker, stranger = Asker(server, used), Asker(server, used)
        event = _use(asker, stranger)
        used.before = used.files()
        _use_in_vain(asker, stranger, event)
    used.words = server.words
    return used


def _use(asker: Asker, stranger: Asker) -> str:
    """Ask for all kinds of things, rightly and wrongly; the event that is kept."""
    asker("/sign-in", {"name": NAME, "password": WRONG})
    asker("/sign-in", {"name": WRONG, "password": WRONG})
    asker("/sign-in", {"name": [MISTAKEN], "password": {"pass": MISTAKEN}})
    asker("/sign-in", b'{"name": "' + MISTAKEN.encode() + b'", "password": ')
    asker("/sign-in", {"name": NAME, "password": OWN})
    files = {path.name: path.read_text("utf-8") for path in DEMO.iterdir() if path.is_file()}
    care = f'[care]\nstraps = ["{CARE}"]\n'
    files["bowler.toml"] = files["bowler.toml"].replace("[care]\n", care)
    files["house.toml"] = f'private_notes = ["{HOUSE}"]\n{files["house.toml"]}'
    event = json.loads(asker("/import", {"files": files}))["event"]["id"]
    prompt = json.loads(asker(f"/events/{event}/diary"))["prompts"][0]["key"]
    asker(f"/events/{event}/diary", {"prompt": prompt, "text": DIARY})
    asker(f"/events/{event}/diary", {"prompt": f"{MARK}-prompt", "text": [LOST]})
    wrong = _note(event, 2, NOTE) | {"payload": {"about": LOST}}
    asker("/sync", {"jottings": [_note(event, 1, NOTE), wrong]})
    asker("/shares", {"reader": READER, "event": event})
    asker("/shares", {"reader": f"{MARK} nobody"})
    _keep_a_sheet(asker.folder / STORE, event)
    guest = asker.link(f"/events/{event}/guest-links", {"days": 7})
    device = asker.link("/links", {})
    for address in (guest, device, device, f"{guest[:-3]}abc", f"/open/{MARK}-no-link"):
        stranger(address)
    stranger(f"/tickets/{MARK}?password={quote(MISTAKEN)}")
    asker("/password", {"old": MISTAKEN, "new": NEXT}, "PUT")
    asker("/password", {"old": OWN, "new": NEXT}, "PUT")
    asker("/tickets")
    asker("/sign-in", {"name": NAME, "password": NEXT})
    asker("/nowhere", {"password": MISTAKEN})
    return event


def _note(event: str, number: int, text: str) -> dict[str, object]:
    payload = {"about": "house", "text": text}
    told = {"event": event, "device": "phone", "kind": "note", "schema_version": 1}
    return told | {"id": f"{ID}{number}", "device_seq": number, "payload": payload}


def _keep_a_sheet(place: Path, event: str) -> None:
    """What a guest may see, without computing it."""
    with closing(open_store(place)) as store:
        owner = next(one.id for one in store.accounts() if one.name == NAME)
        now, document = datetime.now(UTC), result_document(a_sheet())
        computed = Computed(uuid4(), UUID(event), "sheet", "m", 7, "f", None, now, document)
        store.keep_computed(owner, computed)


def _use_in_vain(asker: Asker, stranger: Asker, event: str) -> None:
    """Ask a server whose store takes nothing in, and then one whose store lacks a table."""
    house = json.loads(asker("/records/house"))["items"][0]
    document = house["document"] | {"private_notes": [LOST]}
    fails = "CREATE TRIGGER fails_{0} BEFORE INSERT ON {0} BEGIN SELECT RAISE(ABORT, 'no'); END;"
    tables = ("jotting", "revision", "guest_link", "ticket")
    _tell(asker.folder / STORE, "".join(fails.format(table) for table in tables))
    asker("/sync", {"jottings": [_note(event, 3, LOST)]})
    asker("/records/house", {"document": document})
    change = {"document": document, "revision": house["revision"]}
    asker(f"/records/house/{house['id']}", change, "PUT")
    asker(f"/events/{event}/guest-links", {"days": 7})
    stranger("/sign-in", {"name": NAME, "password": NEXT})
    _tell(asker.folder / STORE, "DROP TABLE guest_link; DROP TABLE ticket;")
    stranger(f"/guest/{MARK}-no-guest")
    stranger("/sign-in", {"name": NAME, "password": NEXT})
    stranger(f"/open/{MARK}-no-device")
    asker("/links", {})


def _tell(store: Path, statements: str) -> None:
    with closing(sqlite3.connect(store)) as kept, kept:
        kept.executescript(statements)


def test_the_server_was_used_in_every_way(used):
    assert {200, 201, 204, 303, 400, 401, 404, 422, 500} <= used.statuses
    assert len(used.given_out) >= 5, (
        "two sign-ins, a device, and the links of a device and a guest"
    )
    kept = b"".join(content for name, content in used.before.items() if "sqlite" in name)
    for word in (CARE, HOUSE, DIARY, NOTE):
        assert word.encode() in kept, "what is searched is where it is kept"
    faults = [json.loads(line) for line in used.files("log")["log/nextpair.log"].splitlines()]
    assert any(fault["level"] == "ERROR" for fault in faults)
    assert "nextpair" in used.words


def test_nothing_that_was_said_to_the_server_is_in_its_words_or_its_log(used):
    for name, content in {**used.files("log"), "terminal": used.words.encode()}.items():
        assert MARK.encode() not in content, (name, content[content.index(MARK.encode()) - 80 :])
        for secret in used.given_out:
            assert secret.encode() not in content, name


def test_no_password_session_or_link_lies_in_any_file(used):
    for name, content in [*used.before.items(), *used.files().items()]:
        for secret in (OWN, NEXT, WRONG, MISTAKEN, PASSWORD, *used.given_out):
            for form in (secret, secret.replace(" ", "+"), secret.replace(" ", "%20")):
                assert form.encode() not in content, (name, secret)
