"""What one account is answered does not depend on what another has and does.

The same questions are asked twice: on a server with another account, which is busy, and alone.
Every answer must be the same to the byte. So no text of the other's can be in one, no id, no
count, no time, and no status that tells something of another from something that is nobody's
(non-interference: Goguen and Meseguer, "Security Policies and Security Models", 1982).
"""

from __future__ import annotations

import io
import secrets
import sys
import zipfile
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import fields, replace
from uuid import UUID, uuid5

import pytest
from anyio.from_thread import start_blocking_portal
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient

from event_folder import DEMO
from nextpair.application.accounts import add_account
from nextpair.application.store import Computed
from nextpair.files.results import result_document
from nextpair.store.memory import MemoryStore
from nextpair.store.opening import open_store
from nextpair.web.app import api_of, create_app
from security.account_questions import (
    API,
    NOBODYS,
    ON_PURPOSE,
    OTHERS,
    OWN,
    QUESTIONS,
    WHOSE,
    Asker,
    Belongings,
    address_of,
)
from served import ON_THE_NETWORK, PASSWORD, Clock, home_at
from unit.reports.sheet_factory import a_sheet

FIRST, SECOND = "Zwqx Quill", "Vkjy Farr"
"""Names of the accounts, and marks in all that each writes."""
WORDS = ("Samphire", "Quernstone", "Maren")
"""Of the bundled event: of its name, its house and its bowler."""
LINES = {"scores.csv": 10, "squad.csv": 8, "shots.csv": 5}
"""Of the bundled event's long files: enough, and quick to take in again and again."""
FILES = {
    file.name: "\n".join(file.read_text("utf-8").splitlines()[: LINES.get(file.name)])
    for file in DEMO.glob("*.*")
}
SHEET = a_sheet()
HOME = home_at(ON_THE_NETWORK)
APP = create_app(HOME)
"""Its routes take half a second to put together: it is one, of which all but that is new for each
server."""
ROUTES = {
    (method.upper(), path)
    for path, operations in api_of(home_at()).openapi()["paths"].items()
    for method in operations
}
EACH = sorted(QUESTIONS, key=lambda route: (route[0] != "GET", route))
"""Every question, first those that change nothing."""
LIGHT = [route for route in EACH if not QUESTIONS[route].computes]
STEP = st.tuples(
    st.sampled_from((FIRST, SECOND)), st.sampled_from(LIGHT), st.sampled_from(WHOSE),
    st.integers(0, 11),
)  # fmt: skip


class Chance:
    """Stands in for what is random: each account has its own row of ids and secrets, which no
    other's doing moves on."""

    def __init__(self) -> None:
        self.who, self.drawn = "nobody", dict.fromkeys((FIRST, SECOND, "nobody"), 0)

    def id(self) -> UUID:
        self.drawn[self.who] += 1
        return uuid5(NOBODYS, f"{self.who} {self.drawn[self.who]}")

    def secret(self, _bytes: int = 32) -> str:
        return self.id().hex + self.id().hex


@contextmanager
def without_chance(chance: Chance, clock: Clock) -> Iterator[None]:
    """Have all ids and secrets drawn from there, and all times told by that clock."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(secrets, "token_urlsafe", chance.secret)
        for name, module in list(sys.modules.items()):
            for what, stands_in in (("uuid4", chance.id), ("now_utc", clock)):
                if name.startswith("nextpair.") and hasattr(module, what):
                    patched.setattr(module, what, stands_in)
        yield


class Server:
    """A server with two accounts that have something of everything, or with the first alone."""

    def __init__(self, stack: ExitStack, is_second_there: bool, store=None) -> None:
        clock = Clock()
        self.chance = Chance()
        stack.enter_context(without_chance(self.chance, clock))
        fresh = replace(home_at(ON_THE_NETWORK, clock), store=store or MemoryStore(clock))
        for one in fields(HOME):
            setattr(HOME, one.name, getattr(fresh, one.name))
        HOME.is_stopping = lambda: True  # streams end at once
        self.home = HOME
        self.clients = {}
        portal = stack.enter_context(start_blocking_portal())
        self.has = {name: Belongings(name) for name in (FIRST, SECOND)}
        self.transcript: list[tuple[object, ...]] = []
        places = {FIRST: "192.168.1.2", SECOND: "192.168.1.3"}
        accounts = (FIRST, SECOND) if is_second_there else (FIRST,)
        for name in accounts:
            self.chance.who = name
            account = add_account(self.home.store, name, PASSWORD, self.home.hasher)
            self.has[name].add("account", account.id)
            self.clients[name] = TestClient(
                APP, ON_THE_NETWORK.url(""), client=(places[name], 50_000)
            )
            self.clients[name].portal = portal  # one event loop for all that is asked
            stack.callback(self.clients[name].close)
            self._tell(name, "POST", "/sign-in", {"name": name, "password": PASSWORD})
            [ticket] = self.home.store.tickets(account.id, clock())
            self.has[name].add("ticket", ticket.digest)
        for name in accounts:
            self._furnish(name)

    def _furnish(self, name: str) -> None:
        """Give an account something of every kind, its mark in all of it."""
        self.chance.who = name
        has, store = self.has[name], self.home.store
        account = UUID(has.ids["account"][0])
        files = dict(FILES)
        for word in WORDS:
            files = {file: text.replace(word, name) for file, text in files.items()}
        event = self._tell(name, "POST", "/import", {"files": files})["event"]["id"]
        self._tell(name, "POST", "/records/kit", {"document": {"name": f"Kit of {name}"}})
        house = event_house = None
        for record in store.every_revision(account):
            has.add(f"record:{record.kind.value}", record.id)
            if record.kind.value == "event":
                has.add("event", record.id)
                event_house = record.document["house"]
        house = str(event_house)
        has.add("house", house)
        visit = {"visit": {"date": "2026-01-02", "notes": name}}
        book = self._tell(name, "POST", f"/houses/{house}/visits", visit)
        has.add("visit", book["visits"][0]["id"])
        self._tell(name, "POST", f"/events/{event}/diary", {"prompt": "free", "text": name})
        self._tell(name, "POST", f"/events/{event}/packing/missing", {"item": f"Tape of {name}"})
        for kept in store.log(account, UUID(event)):
            has.add("jotting", kept.jotting.id)
            has.add("entry", kept.jotting.id)
        job = self._tell(name, "POST", f"/events/{event}/jobs", {"kind": "spares"})
        has.add("job", job["id"])
        document = result_document(replace(SHEET, event=name, games=SHEET.games[:1]))
        sheet = Computed(self.chance.id(), UUID(event), "sheet", "model", 7, "inputs", None,
                         self.home.now(), document)  # fmt: skip
        store.keep_computed(account, sheet)
        has.add("sheet", sheet.id)
        link = self._tell(name, "POST", f"/events/{event}/guest-links", {"days": 2})
        has.add("link", link["digest"])

    def _tell(self, name, method, path, body):
        answer = self.clients[name].request(method, API + path, json=body)
        assert answer.status_code < 300, (path, answer.text[:500])
        return answer.json()

    def ask(self, name: str, route: tuple[str, str], whose: str, turn: int, other: Belongings):
        """Ask a question; what the first account is answered is written down."""
        self.chance.who = name
        method, path = route
        asker = Asker(self.has[name], other, whose, turn)
        question = QUESTIONS[route]
        answer = self.clients[name].request(
            method,
            address_of(path, asker),
            params=None if question.params is None else question.params(asker),
            json=None if question.body is None else question.body(asker),
        )
        assert answer.status_code != 500, (route, answer.text)
        if name == FIRST:
            self.transcript.append((route, whose, answer.status_code, words_of(answer)))
        return answer


def words_of(answer):
    """What an answer says; of packed files what they hold, since it is also told when."""
    if answer.headers.get("content-type") != "application/zip":
        return answer.content
    with zipfile.ZipFile(io.BytesIO(answer.content)) as packed:
        return [(name, packed.read(name)) for name in packed.namelist()]


def seen_beside(steps, is_second_there: bool, other: Belongings | None = None, store=None):
    """What the first account is answered, and what the second has."""
    with ExitStack() as stack:
        server = Server(stack, is_second_there, store)
        for name, route, whose, turn in steps:
            if name == FIRST:
                server.ask(name, route, whose, turn, other or server.has[SECOND])
            elif is_second_there:
                server.ask(name, route, whose, turn, server.has[FIRST])
        return server.transcript, server.has[SECOND]


def require_same(steps, stores=(None, None)) -> None:
    busy, other = seen_beside(steps, True, store=stores[0])
    quiet, _ = seen_beside(steps, False, other, store=stores[1])
    assert len(busy) == len(quiet)
    for beside_busy, beside_quiet in zip(busy, quiet, strict=True):
        assert beside_busy == beside_quiet


def test_every_route_is_asked_or_told_why_not():
    assert set(QUESTIONS) | set(ON_PURPOSE) == ROUTES
    assert not set(QUESTIONS) & set(ON_PURPOSE)


def test_both_have_something_of_every_kind_and_see_it():
    with ExitStack() as stack:
        server = Server(stack, True)
        empty = {kind for kind, ids in server.has[SECOND].ids.items() if not ids}
        assert empty <= {"record:squad", "record:goal"}
        for name in (FIRST, SECOND):
            for route in (("GET", "/archive"), ("GET", "/season"), ("GET", "/events/{id}/files")):
                assert name in server.ask(name, route, OWN, 0, server.has[SECOND]).text


def test_about_what_is_anothers_each_route_answers_as_about_nothing():
    """Every route, one after the other, with ids of the other account in all places."""
    require_same([(FIRST, route, OTHERS, turn) for route in EACH for turn in (0, 1)])


def test_what_another_does_everywhere_changes_nothing():
    """Every route, asked by the other about what is the first one's; then all that he sees."""
    steps = [(SECOND, route, OTHERS, turn) for route in reversed(EACH) for turn in (0, 1)]
    steps += [(SECOND, route, OWN, 1) for route in LIGHT]
    require_same(steps + [(FIRST, route, OWN, 0) for route in LIGHT])


@given(st.lists(STEP, min_size=4, max_size=20))
@settings(
    max_examples=20,
    deadline=None,
    suppress_health_check=list(HealthCheck),
)
def test_no_answer_depends_on_what_another_account_has_or_does(steps):
    require_same(steps)


def test_the_same_in_a_database(tmp_path):
    stores = [open_store(tmp_path / name, Clock()) for name in ("busy", "quiet")]
    try:
        steps = [(who, route, OTHERS, 1) for route in LIGHT for who in (FIRST, SECOND)]
        steps += [(SECOND, route, OWN, 1) for route in LIGHT]
        require_same(steps + [(FIRST, route, OWN, 2) for route in LIGHT], stores)
    finally:
        for store in stores:
            store.close()
