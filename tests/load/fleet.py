"""A fleet of phones at one team server: who they are, what they send, and what goes wrong."""

from __future__ import annotations

import http.client
import json
import random
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, suppress
from dataclasses import dataclass, field
from itertools import islice
from typing import Any
from uuid import UUID, uuid4

from browser.jotter import SENT, Jotter, Jotting, shots
from browser.running import Server
from nextpair.application.accounts import add_account
from nextpair.store.opening import open_store
from nextpair.web.passwords import Argon2Hasher

PASSWORD = "a long season of ten frames"
PHONES_AN_ACCOUNT = 2
"""The bowler's phone, and the coach's beside the approach that logs for the same event."""
MOST_BETWEEN_SYNCS = 6
PATIENCE_S = 30.0
FAULTS_IN_TEN = 2
RETRY_S = 0.05


@dataclass(slots=True)
class Phone:
    """One phone: writes shots down and syncs every few, over a network that spoils two requests
    in ten: the request is cut in half, its answer is lost, or it goes out twice."""

    jotter: Jotter
    chance: random.Random
    times_ms: list[float] = field(default_factory=list)
    """Of every sync that was answered, from the first byte sent to the last one read."""
    spoilt: int = 0

    def log(self, many: int, pause_s: float = 0.0) -> None:
        """Write so many shots down and have each acknowledged, with a pause before each sync."""
        written = shots(1)
        while len(self.jotter.jottings) < many:
            left = many - len(self.jotter.jottings)
            for payload in islice(written, min(left, self.chance.randint(1, MOST_BETWEEN_SYNCS))):
                self.jotter.jot(payload)
            if pause_s:
                time.sleep(self.chance.uniform(0.0, 2.0 * pause_s))
            self.sync()
        while self.jotter.unsent:
            if not self.sync():
                time.sleep(RETRY_S)

    def sync(self) -> bool:
        """Send what is not acknowledged; whether all of it is now."""
        if self.chance.randrange(10) < FAULTS_IN_TEN:
            self.spoilt += 1
            self._spoil(self.chance.choice(("cut", "lose", "twice")))
            return False
        begun_s = time.perf_counter()
        receipts = self.jotter.post(self.jotter.unsent)
        if receipts is None:
            return False
        self.times_ms.append((time.perf_counter() - begun_s) * 1000)
        self.jotter.sent |= {one["id"] for one in receipts if one["answer"] in SENT}
        return not self.jotter.unsent

    def _spoil(self, fault: str) -> None:
        body = json.dumps({"jottings": self.jotter.unsent}).encode()
        for _ in range(2 if fault == "twice" else 1):
            asking = http.client.HTTPConnection(
                self.jotter.host, self.jotter.port, timeout=PATIENCE_S
            )
            with closing(asking), suppress(OSError, http.client.HTTPException):
                asking.putrequest("POST", "/api/v1/sync")
                for name, value in {**self.jotter.headers, "Content-Length": len(body)}.items():
                    asking.putheader(name, str(value))
                asking.endheaders(body[: len(body) // 2] if fault == "cut" else body)
                if fault == "twice":
                    asking.getresponse().read()


@dataclass(frozen=True, slots=True)
class Fleet:
    """All phones, and the events that they log: one an account."""

    phones: tuple[Phone, ...]
    events: dict[UUID, str]
    """The cookie of each event's account."""

    def log(self, shots_each: int, pause_s: float = 0.0) -> None:
        """Have every phone log and sync at the same time."""
        with ThreadPoolExecutor(len(self.phones)) as pool:
            for done in [pool.submit(one.log, shots_each, pause_s) for one in self.phones]:
                done.result()

    def written(self, event: UUID) -> dict[str, Jotting]:
        """Everything that was written down for an event, by its id."""
        own = (one.jotter for one in self.phones if one.jotter.event == event)
        return {jotting["id"]: jotting for jotter in own for jotting in jotter.jottings}

    @property
    def times_ms(self) -> list[float]:
        """Of every sync that was answered, shortest first."""
        return sorted(time_ms for phone in self.phones for time_ms in phone.times_ms)


def enrol(place: str, accounts: int) -> list[str]:
    """Accounts of a new store; returns their names."""
    names = [f"athlete {number}" for number in range(1, accounts + 1)]
    hasher = Argon2Hasher()
    with closing(open_store(place)) as store:
        for name in names:
            add_account(store, name, PASSWORD, hasher)
    return names


def fleet_at(server: Server, names: list[str], seed: int = 1) -> Fleet:
    """Two phones for each account, signed in, with an event that both log."""
    phones: list[Phone] = []
    events: dict[UUID, str] = {}
    for name in names:
        event, cookie = uuid4(), signed_in(server, name)
        events[event] = cookie
        for _ in range(PHONES_AN_ACCOUNT):
            number = seed * 1000 + len(phones)
            jotter = Jotter(server.url, event, number, patience_s=PATIENCE_S, cookie=cookie)
            phones.append(Phone(jotter, random.Random(number)))
    return Fleet(tuple(phones), events)


def signed_in(server: Server, name: str) -> str:
    """The cookie of a session. Raises RuntimeError where none is given."""
    with closing(http.client.HTTPConnection("127.0.0.1", server.port, timeout=30)) as asking:
        body = json.dumps({"name": name, "password": PASSWORD})
        asking.request("POST", "/api/v1/sign-in", body, {"Content-Type": "application/json"})
        answer = asking.getresponse()
        answer.read()
        cookie = answer.getheader("Set-Cookie")
    if cookie is None:
        raise RuntimeError(f"{name} was not let in: {answer.status}")
    return cookie.partition(";")[0]


def kept(server: Server, event: UUID, cookie: str) -> list[dict[str, Any]]:
    """An event's log as the server tells it to the account of the cookie."""
    items: list[dict[str, Any]] = []
    with closing(http.client.HTTPConnection("127.0.0.1", server.port, timeout=30)) as asking:
        while True:
            path = f"/api/v1/events/{event}/log?after={len(items)}"
            asking.request("GET", path, headers={"Cookie": cookie})
            more = json.loads(asking.getresponse().read())["items"]
            if not more:
                return items
            items += more
