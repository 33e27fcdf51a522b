"""Who asks too much waits for himself alone: phones sync, and others are answered, meanwhile."""

from __future__ import annotations

import asyncio
import threading
from concurrent.futures import ThreadPoolExecutor

import pytest
from fastapi.routing import iter_route_contexts

from nextpair.application.accounts import add_account, set_password
from nextpair.web.app import api_of
from nextpair.web.errors import TooManyError
from nextpair.web.turns import EACH, MOST_IN_LINE, TOGETHER, Turns
from nextpair.web.visitor import CHECKS_PASSWORD, HEAVY
from served import ON_THE_NETWORK, PASSWORD, client_of, home_at

API = "/api/v1"
SOON_S = 20.0
HEAVY_ROUTES = {
    "POST /events/{id}/try", "POST /events/{id}/spare", "POST /codes", "POST /import",
    "POST /archive", "GET /archive", "GET /backup", "POST /patterns/film", "POST /squads/paste",
    "POST /events/{id}/jobs", "GET /sheets/{id}.pdf", "GET /events/{id}/recap.png",
    "GET /shared/{owner}/events/{id}/sheet.pdf", "GET /events/{id}/folder.zip",
    "GET /events/{id}/standing", "POST /demo/season", "GET /season",
}  # fmt: skip
NEVER_HELD_UP = {"POST /sync", "GET /events/{id}/log", "GET /status", "GET /jobs/{id}/progress"}


def routes():
    """Every route of the API, with what it depends on."""
    return {
        f"{method} {route.path}": {one.dependency for one in getattr(route, "dependencies", ())}
        for route in iter_route_contexts(api_of(home_at()).routes)
        for method in route.methods or ()
    }


def test_what_takes_long_is_answered_in_turn_and_phones_are_never_held_up():
    found = routes()
    assert {path for path in HEAVY_ROUTES if HEAVY.dependency not in found[path]} == set()
    assert {path for path in NEVER_HELD_UP if HEAVY.dependency in found[path]} == set()
    assert CHECKS_PASSWORD.dependency in found["POST /sign-in"]
    assert CHECKS_PASSWORD.dependency in found["PUT /password"]


class Question:
    """Many ask at the same time; counts how many are answered at once, until it is let go."""

    def __init__(self):
        self.let_go = threading.Event()
        self.lock = threading.Lock()
        self.inside = self.most = 0
        self.begun = threading.Semaphore(0)

    def __call__(self, *_arguments, **_named):
        with self.lock:
            self.inside += 1
            self.most = max(self.most, self.inside)
        self.begun.release()
        assert self.let_go.wait(SOON_S)
        with self.lock:
            self.inside -= 1
        raise TooManyError(7.0)


@pytest.fixture
def home():
    home = home_at(ON_THE_NETWORK)
    set_password(home.store, "home", PASSWORD, home.hasher)
    add_account(home.store, "Ada Quill", PASSWORD, home.hasher)
    return home


def test_one_accounts_many_questions_hold_up_nobody_else(home, monkeypatch):
    question = Question()
    monkeypatch.setattr(home.papers, "pattern", question)
    asked = 2 * MOST_IN_LINE
    with client_of(home) as client, ThreadPoolExecutor(asked) as pool:
        signed_in = {}
        for name in ("home", "Ada Quill"):
            client.post(f"{API}/sign-in", json={"name": name, "password": PASSWORD})
            signed_in[name] = {"Cookie": f"__Host-nextpair={client.cookies['__Host-nextpair']}"}
            client.cookies.clear()
        film = {"name": "any"}

        def ask(name):
            return client.post(f"{API}/patterns/film", json=film, headers=signed_in[name])

        greedy = [pool.submit(ask, "home") for _ in range(asked)]
        for _ in range(EACH):
            assert question.begun.acquire(timeout=SOON_S)
        try:
            # Forty questions wait, and the phones of the same account and of another one sync.
            for name in signed_in:
                synced = client.post(f"{API}/sync", json={"jottings": []}, headers=signed_in[name])
                assert synced.status_code == 200
            other = pool.submit(ask, "Ada Quill")
            assert question.begun.acquire(timeout=SOON_S), "another account has its own turn"
        finally:
            question.let_go.set()
        waits = [answer.result().headers["Retry-After"] for answer in greedy]
        assert other.result().headers["Retry-After"] == "7"
    assert question.most <= EACH + 1
    assert waits.count("7") >= MOST_IN_LINE, "those in line were answered in the end"
    assert waits.count("2") > 0, "those for whom the line was too long were told so"


def test_all_accounts_together_leave_threads_for_the_others():
    # anyio's default: forty threads answer (its documentation, "Working with threads").
    assert TOGETHER <= 40 / 2

    async def ask(turns, who, inside):
        async with turns.turn_of(who):
            inside.append(len(inside) + 1)
            most.append(len(inside))
            await asyncio.sleep(0.01)
            inside.pop()

    async def everybody():
        turns = Turns()
        inside = []
        await asyncio.gather(*(ask(turns, str(number), inside) for number in range(50)))
        return turns

    most: list[int] = []
    turns = asyncio.run(everybody())
    assert max(most) == TOGETHER
    assert len(most) == 50
    assert turns._lines == {}, "nobody is remembered who waits no more"


def test_who_gives_up_waiting_leaves_the_line():
    async def wait_in_vain():
        turns = Turns(each=1)
        async with turns.turn_of("one"):
            waiting = [asyncio.create_task(turns.turn_of("one").__aenter__()) for _ in range(5)]
            await asyncio.sleep(0)
            for one in waiting:
                one.cancel()
            await asyncio.gather(*waiting, return_exceptions=True)
        async with asyncio.timeout(SOON_S), turns.turn_of("one"):
            return turns._lines["one"].length

    assert asyncio.run(wait_in_vain()) == 1
