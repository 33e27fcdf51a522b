"""Who may read what, whatever was shared, stopped, deleted and taken back before: a model says so,
and every route agrees with it."""

from __future__ import annotations

from contextlib import ExitStack
from uuid import UUID

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from event_folder import DEMO
from nextpair.application.accounts import add_account
from nextpair.application.sharing import readable, readable_events, shared_with_me
from nextpair.application.store import NotKeptError
from nextpair.web.app import api_of
from served import ON_THE_NETWORK, PASSWORD, browser_of, client_of, home_at

API = "/api/v1"
PEOPLE, EVENTS = range(3), range(2)
"""Each keeps the same two events, by the same ids."""
EXAMPLES = 12
PREFIX = "/shared/{owner}/events/{id}"
ROUTES = sorted(path for path in api_of(home_at()).openapi()["paths"] if path.startswith(PREFIX))
OF_EVERYTHING = {f"{PREFIX}{part}" for part in ("", "/sheet", "/scores", "/shots.csv")}
"""Quick ones: the others are asked where they must refuse, and once where they answer."""

whom = st.tuples(st.sampled_from(PEOPLE), st.sampled_from(PEOPLE)).filter(
    lambda pair: pair[0] != pair[1]
)
which = st.sampled_from([*EVENTS, None])
steps = st.one_of(
    st.tuples(st.sampled_from(["share", "stop"]), whom, which),
    st.tuples(
        st.sampled_from(["delete", "restore"]), st.sampled_from(PEOPLE), st.sampled_from(EVENTS)
    ),
)


class Model:
    """What is kept, and what is shared: (owner, reader, event or None for all)."""

    def __init__(self) -> None:
        self.kept = {(owner, event) for owner in PEOPLE for event in EVENTS}
        self.shared: set[tuple[int, int, int | None]] = set()

    def do(self, what, who, event) -> None:
        if what == "delete":
            self.kept.discard((who, event))
            self.shared = {one for one in self.shared if (one[0], one[2]) != (who, event)}
        elif what == "restore":
            self.kept.add((who, event))
        elif what == "stop":
            self.shared.discard((*who, event))
        elif event is None or (who[0], event) in self.kept:
            self.shared.add((*who, event))

    def reads(self, reader, owner, event) -> bool:
        shared = any((owner, reader, one) in self.shared for one in (event, None))
        return (owner, event) in self.kept and (reader == owner or shared)


class Server:
    """Three people who keep the same two events, each signed in."""

    def __init__(self, stack: ExitStack) -> None:
        self.home = home_at(ON_THE_NETWORK)
        names = [f"Bowler {number}" for number in PEOPLE]
        self.people = [
            add_account(self.home.store, name, PASSWORD, self.home.hasher).id for name in names
        ]
        self.clients = [stack.enter_context(client_of(self.home))]
        self.clients += [stack.enter_context(browser_of(self.home)) for _ in names[1:]]
        files = {path.name: path.read_text("utf-8") for path in DEMO.iterdir() if path.is_file()}
        second = files["event.toml"].replace("Samphire", "Winter", 1)
        for client, name in zip(self.clients, names, strict=True):
            client.post(f"{API}/sign-in", json={"name": name, "password": PASSWORD})
            made = [
                client.post(f"{API}/import", json={"files": one}).json()["event"]["id"]
                for one in (files, files | {"event.toml": second})
            ]
        self.events = [UUID(id) for id in made]

    def reset(self) -> None:
        for owner in self.people:
            for share in self.home.store.shares(owner):
                self.home.store.drop_share(owner, share.reader, share.event)
            for event in self.events:
                self.home.store.restore(owner, event)

    def do(self, what, who, event) -> None:
        id = None if event is None else str(self.events[event])
        if what == "share":
            body = {"reader": f"Bowler {who[1]}", "event": id}
            self.clients[who[0]].post(f"{API}/shares", json=body)
        elif what == "stop":
            path = f"{API}/shares/{self.people[who[1]]}"
            self.clients[who[0]].delete(path, params={"event": id} if id else {})
        else:
            method, ending = ("DELETE", "") if what == "delete" else ("POST", "/restore")
            self.clients[who].request(method, f"{API}/records/event/{id}{ending}")

    def lets(self, path, reader, owner, event) -> bool:
        """Whether a route answers: a result that nobody computed is refused by its own name."""
        asked = path.replace("{owner}", str(self.people[owner]))
        answer = self.clients[reader].get(API + asked.replace("{id}", str(self.events[event])))
        assert answer.status_code in (200, 404), answer.text
        return answer.status_code == 200 or answer.json()["problems"][0]["place"] != "event"


@pytest.fixture(scope="module")
def server():
    with ExitStack() as stack:
        yield Server(stack)


def allowed(server, reader, owner, event) -> bool:
    try:
        found = readable(
            server.home.store, server.people[reader], server.people[owner], server.events[event]
        )
    except NotKeptError:
        return False
    return found.record.id == server.events[event]


def listed(server, reader, owner) -> set[int]:
    try:
        _, events = readable_events(server.home.store, server.people[reader], server.people[owner])
    except NotKeptError:
        return set()
    return {server.events.index(one.id) for one in events}


def test_the_routes_are_looked_at():
    assert len(ROUTES) >= 10
    assert set(ROUTES) >= OF_EVERYTHING


@given(done=st.lists(steps, max_size=12))
@settings(
    max_examples=EXAMPLES,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
def test_everybody_reads_what_is_shared_with_them_and_nothing_else(server, done):
    server.reset()
    model = Model()
    for step in done:
        model.do(*step)
        server.do(*step)
    now = server.home.now().date()
    for reader in PEOPLE:
        sharing = {one.owner.id for one in shared_with_me(
            server.home.store, server.people[reader], now).athletes}  # fmt: skip
        assert sharing == {server.people[one[0]] for one in model.shared if one[1] == reader}
        for owner in PEOPLE:
            reads = {event for event in EVENTS if model.reads(reader, owner, event)}
            assert listed(server, reader, owner) == reads
            for event in EVENTS:
                assert allowed(server, reader, owner, event) == (event in reads)
                paths = OF_EVERYTHING if event in reads else ROUTES
                said = {path: server.lets(path, reader, owner, event) for path in paths}
                assert set(said.values()) == {event in reads}, said


@pytest.mark.parametrize("path", ROUTES)
def test_every_route_lets_the_coach_read_and_nobody_else(server, path):
    server.reset()
    server.do("share", (0, 1), 0)
    assert server.lets(path, 1, 0, 0)
    for reader, owner, event in ((1, 0, 1), (0, 1, 0), (2, 0, 0), (1, 2, 0)):
        assert not server.lets(path, reader, owner, event)
