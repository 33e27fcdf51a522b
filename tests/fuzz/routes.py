"""Targets: every route of the API, by its own description, and the bodies that go deep.

The store is put back before each case, so that a case is the same alone; a refusal must leave it
as it was.
"""

from __future__ import annotations

import copy
import json
from functools import cache
from typing import Any
from unittest.mock import patch
from urllib.parse import quote

import schemathesis
from hypothesis import strategies as st
from schemathesis.generation import GenerationMode
from starlette.testclient import TestClient

from fuzz import originals
from fuzz.damage import damaged_documents, damaged_texts
from fuzz.judge import first_fault, require
from fuzz.keeping import put, sound_archive, sound_state, state_of
from fuzz.target import Target
from nextpair.application import spare_plan
from nextpair.bootstrap import Program
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.event import Event
from nextpair.domain.spare import SpareSheet
from nextpair.store.memory import MemoryStore
from nextpair.web.app import api_of
from nextpair.web.home import Home
from served import home_at
from unit.reports.spare_factory import a_spare_sheet

FIRST_REFUSAL, FIRST_FAULT = 400, 500
BESIDE = ("_tickets", "_jobs")
"""Not kept of a request, but of who asks."""
FOREIGN_WORDS = ("Input should", "Value error", "pydantic", "Traceback")
Request = dict[str, Any]


class Unrolled(Program):
    """The program, but that a leave is read and nothing is rolled at it: that takes a core for a
    second, on purpose."""

    def shoot_spares(self, event: Event, leave: str | None, seed: int) -> SpareSheet:
        with patch.object(spare_plan, "_spare_sheet", lambda *_: a_spare_sheet()):
            return spare_plan.shoot_spares(event, leave, seed)


@cache
def api() -> tuple[Home, TestClient]:
    """A server on the small event."""
    home = home_at()
    home.program = Unrolled(home.program.settings)
    require(isinstance(home.store, MemoryStore), "the store is none in memory")
    put(home.store, sound_state())
    _ = home.owner
    return home, TestClient(api_of(home), base_url=home.address.url(""))


@cache
def kept_ids() -> list[str]:
    """Ids of everything that is kept."""
    store = MemoryStore()
    put(store, sound_state())
    return [str(one.id) for account in store.accounts() for one in store.records(account.id)]


def answer(request: Request) -> None:
    """Send one request. Raises InvalidValueError with the words of a refusal."""
    home, client = api()
    put(home.store, sound_state())
    sent: dict[str, Any] = {"headers": request.get("headers") or {}}
    if "json" in request:
        sent["content"] = json.dumps(request["json"]).encode()
        sent["headers"] = {"content-type": "application/json", **sent["headers"]}
    if "content" in request:
        sent["content"] = request["content"]
    got = client.request(request["method"], request["path"], **sent)
    require(got.status_code < FIRST_FAULT, f"status {got.status_code}: {got.text[:300]}")
    if got.status_code < FIRST_REFUSAL:
        return
    now, before = copy.copy(state_of(home.store)), dict(sound_state())
    for beside in BESIDE:
        now.pop(beside), before.pop(beside)
    require(now == before, f"partial write: status {got.status_code} and something was kept")
    told = got.json()["problems"]
    require(bool(told), "a refusal without a problem")
    for problem in told:
        require(bool(problem["place"] and problem["found"] and problem["allowed"]),
                f"a part of the refusal is empty: {problem}")  # fmt: skip
        fault = first_fault(problem["words"])
        require(not fault, fault)
        foreign = [words for words in FOREIGN_WORDS if words in problem["words"]]
        require(not foreign, f"a library's words: {problem['words'][:300]}")
    raise InvalidValueError(told[0]["place"], told[0]["found"], told[0]["allowed"])


@cache
def operations() -> list[Any]:
    """Every operation of the API's description."""
    schema = schemathesis.openapi.from_asgi("/openapi.json", api()[1].app)
    return [result.ok() for result in schema.get_all_operations()]


@st.composite
def requests(draw: st.DrawFn) -> Request:
    """A request as its route's description has it, or against it; half of them of what is kept."""
    operation = draw(st.sampled_from(operations()))
    modes = [GenerationMode.POSITIVE, GenerationMode.POSITIVE, GenerationMode.NEGATIVE]
    case = draw(operation.as_strategy(generation_mode=draw(st.sampled_from(modes))))
    parts = {key: str(value) for key, value in (case.path_parameters or {}).items()}
    for key in parts:
        if key.endswith("id") and draw(st.booleans()):
            parts[key] = draw(st.sampled_from(kept_ids()))
    path = case.path.format(**{key: quote(value, safe="") for key, value in parts.items()})
    query = "&".join(
        f"{quote(str(key))}={quote(str(one))}"
        for key, value in (case.query or {}).items()
        for one in (value if isinstance(value, list) else [value])
    )
    request: Request = {"method": case.method, "path": f"{path}?{query}" if query else path}
    if isinstance(case.body, dict | list | str | int | float | bool | None):
        request["json"] = case.body
    return request


@st.composite
def bodies(draw: st.DrawFn) -> Request:
    """A body that a route reads with a parser of its own: sound but for what was damaged."""
    event = draw(st.sampled_from(kept_ids()))
    kind = draw(st.sampled_from(sorted(originals.records())))
    document = {"document": draw(damaged_documents(originals.records()[kind]))}
    texts = {
        f"/events/{event}/scores": originals.SCORES,
        f"/events/{event}/shots": originals.SHOTS,
        "/squads/paste": originals.FILES["squad.csv"],
        "/balls/paste": originals.FILES["locker.csv"],
        "/scores/paste": originals.SCORES,
        "/houses/shared": originals.SHARED_HOUSE,
    }
    path, sound = draw(st.sampled_from(sorted(texts.items())))
    ways: list[Request] = [
        {"method": "POST", "path": f"/records/{kind}", "json": document},
        {"method": "POST", "path": f"/records/{kind}/check", "json": document},
        {"method": "PUT", "path": f"/records/{kind}/{event}", "json": document | {"revision": 1}},
        {"method": "POST", "path": path, "json": {"text": draw(damaged_texts([sound]))}},
        {"method": "POST", "path": "/archive", "json": draw(damaged_documents([sound_archive()]))},
        {"method": "POST", "path": "/sync", "json": {
            "jottings": draw(damaged_documents([originals.jottings()]))}},
        {"method": "POST", "path": f"/houses/{event}/visits", "json": {
            "visit": draw(damaged_documents([VISIT]))}},
        {"method": "POST", "path": draw(st.sampled_from(["/sync", "/archive"])),
         "content": draw(st.binary(max_size=60)), "headers": {"content-type": "application/json"}},
        {"method": "POST", "path": f"/events/{event}/spare", "json": {
            "leave": draw(damaged_texts(["3-10", "1-2-4-10"]))}},
    ]  # fmt: skip
    return draw(st.sampled_from(ways))


VISIT = {"date": "2026-05-02", "games": 6, "pins": 1200, "lanes": {"7": "hooks early"},
         "learned": {"dry_log": [0, 0.07, 0.03, 0.04]}, "friction": 1.02}  # fmt: skip
TARGETS = (
    Target("every route", requests, answer, weight=6),
    Target("routes' bodies", bodies, answer, weight=6),
)
