"""What phones and servers of earlier programs left, taken in and answered by the one of today."""

from __future__ import annotations

import shutil
from contextlib import closing
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from starlette.testclient import TestClient

from contracts.frozen_programs import frozen_programs, missing, shape, thaw_store, told_by
from contracts.test_frozen_stores import lost
from nextpair.application import jobs
from nextpair.application.accounts import home_account
from nextpair.application.archive import archive_of, unpack
from nextpair.application.settings import Settings
from nextpair.bootstrap import Program
from nextpair.cli.main import exit_code
from nextpair.files.log_codes import jottings_of_codes
from nextpair.store.memory import MemoryStore
from nextpair.store.opening import open_store
from nextpair.web.address import Address
from nextpair.web.app import api_of
from nextpair.web.home import Home
from served import Clock, IdleHands, QuickHasher, client_of, home_at

API = "/api/v1"
PROGRAMS = frozen_programs()
UNASKED = {"/events/{id}/debrief", "/similar", "/season.ics"}
"""Made where somebody orders it; asked for by a pattern; and refused where nothing is due."""


@pytest.fixture(scope="module")
def stores(tmp_path_factory) -> Path:
    """Their stores, brought up to date."""
    folder = tmp_path_factory.mktemp("programs")
    for name in PROGRAMS:
        (folder / name).mkdir()
        thaw_store(name, folder / name / "nextpair.sqlite3")
        open_store(folder / name / "nextpair.sqlite3").close()
    return folder


@dataclass(frozen=True)
class Thawed:
    """Today's server on an earlier program's store."""

    told: Any
    client: TestClient
    place: Path

    @property
    def ids(self) -> dict[str, str]:
        """One record of each kind that it kept."""
        return {one["kind"]: one["id"] for one in self.told["archive"]["records"]}

    def at(self, path: str) -> str | None:
        """Where a route of the API answers for what that program kept; None where it had no such
        thing."""
        event = self.told["event"]
        filled = path.replace("{kind}", "event").replace("{event}", event)
        for beginning, id_ in (
            ("/events/", event),
            ("/records/", event),
            ("/houses/", self.ids["house"]),
        ):
            if filled.startswith(beginning):
                filled = filled.replace("{id}", id_)
        return None if "{" in filled else API + filled


@pytest.fixture(params=PROGRAMS)
def thawed(request, stores, tmp_path):
    place = tmp_path / "nextpair.sqlite3"
    shutil.copyfile(stores / request.param / "nextpair.sqlite3", place)
    program = Program(Settings(threads=1, data_dir=tmp_path))
    with closing(open_store(place)) as store:
        home = Home(
            program, store, program.papers(), Address(), QuickHasher(), IdleHands(), Clock()
        )
        home.is_warm = True
        with client_of(home) as client:
            yield Thawed(told_by(request.param), client, place)


@cache
def routes_to_read() -> list[str]:
    """Every GET of today's API."""
    paths = api_of(home_at()).openapi()["paths"]
    return sorted(path for path, methods in paths.items() if "get" in methods)


def receipts(client: TestClient, jottings: list) -> list[dict]:
    answer = client.post(f"{API}/sync", json={"jottings": jottings})
    assert answer.status_code == 200, answer.text
    return list(answer.json()["receipts"])


def kept(client: TestClient, event: str) -> list[dict]:
    answer = client.get(f"{API}/events/{event}/log").json()
    return [item["jotting"] for item in answer["items"]]


def by_id(jottings: list[dict]) -> list[dict]:
    return sorted(jottings, key=lambda one: str(one["id"]))


def test_there_are_programs_that_differ():
    assert len(PROGRAMS) >= 3
    assert len({frozenset(told_by(name)["pocket"]) for name in PROGRAMS}) >= 3
    assert {len(told_by(name)["sent"]) for name in PROGRAMS}.isdisjoint({0})


@pytest.mark.parametrize("name", PROGRAMS)
def test_what_its_phone_sent_is_taken_in_as_it_was_sent_and_answered_in_its_form(name):
    told = told_by(name)
    with client_of(home_at()) as client:
        for turn in ("stored", "duplicate"):
            for exchange in told["sent"]:
                answer = client.post(f"{API}/sync", json=exchange["request"])
                assert missing(shape(exchange["answer"]), shape(answer.json())) == []
                assert {one["answer"] for one in answer.json()["receipts"]} == {turn}
        assert kept(client, told["event"]) == [item["jotting"] for item in told["log"]]


@pytest.mark.parametrize("name", PROGRAMS)
def test_its_log_by_file_and_by_codes_is_the_log_that_it_wrote(name):
    told = told_by(name)
    written = by_id([item["jotting"] for item in told["log"]])
    coded = jottings_of_codes(told["codes"])
    assert by_id(coded) == written
    for jottings in (told["saved"]["jottings"], coded):
        with client_of(home_at()) as client:
            assert {one["answer"] for one in receipts(client, jottings)} == {"stored"}
            assert by_id(kept(client, told["event"])) == written


@pytest.mark.parametrize("name", PROGRAMS)
def test_its_archive_is_taken_in_whole(name):
    before = told_by(name)["archive"]
    store = MemoryStore()
    me = home_account(store).id
    unpack(store, me, before)
    assert lost(before, archive_of(store, me)) == []


def test_nothing_of_its_store_is_lost(thawed):
    assert lost(thawed.told["archive"], thawed.client.get(f"{API}/archive").json()) == []
    event = thawed.told["event"]
    assert kept(thawed.client, event) == [item["jotting"] for item in thawed.told["log"]]
    given = thawed.client.get(f"{API}/events/{event}/pocket").json()["pocket"]
    for part in ("games", "spares", "reading", "balls", "event"):
        assert lost(thawed.told["pocket"][part], given[part]) == []


def test_everything_that_it_kept_is_shown_on_every_page(thawed):
    score = {"name": thawed.told["pocket"]["event"]["bowler"], "game": 1, "score": 187}
    one = thawed.told["log"][0]["jotting"] | {"id": str(uuid4()), "device_seq": 900}
    receipts(thawed.client, [one | {"kind": "score", "payload": score}])
    asked = [path for path in routes_to_read() if thawed.at(path) and path not in UNASKED]
    assert len(asked) > 30
    for path in asked:
        answer = thawed.client.get(str(thawed.at(path)))
        assert answer.status_code == 200, f"{path}: {answer.text[:500]}"
    shown = thawed.client.get(f"{API}/similar", params={"pattern": thawed.ids["pattern"]})
    assert shown.status_code == 200, shown.text
    sheet = thawed.client.get(str(thawed.at("/events/{id}/sheet"))).json()["id"]
    page = thawed.client.get(f"{API}/sheets/{sheet}.html")
    assert (page.status_code, "Samphire Scratch Singles" in page.text) == (200, True)


def test_its_page_is_answered_with_every_key_that_it_reads(thawed, monkeypatch):
    model = thawed.told["pocket"]["model_version"]
    monkeypatch.setattr(jobs, "model_version", lambda: model)  # else what was read is out of date
    before = thawed.told["answers"]
    assert len(before) > 12
    for path, form in before.items():
        answer = thawed.client.get(str(thawed.at(path)))
        assert answer.status_code == 200, path
        assert missing(form, shape(answer.json())) == [], path


def test_its_records_can_be_saved_again_as_its_page_saves_them(thawed):
    """A form that knows no newer key sends the document back without it."""
    for record in thawed.told["archive"]["records"]:
        place = f"{API}/records/{record['kind']}/{record['id']}"
        found = thawed.client.get(place).json()
        body = {"document": record["document"], "revision": found["revision"]}
        answer = thawed.client.put(place, json=body)
        assert answer.status_code == 200, answer.text
        assert lost(record["document"], answer.json()["document"]) == []


@pytest.mark.parametrize(
    "words",
    ["season", "ledger", "house", "season --json"],
)
def test_commands_tell_what_it_kept(thawed, words, capsys):
    assert exit_code([*words.split(), "--data-dir", str(thawed.place.parent)]) == 0
    told = capsys.readouterr()
    assert told.err == ""
    assert told.out


def test_a_loss_is_seen():
    before = shape({"a": [{"b": 1}, {"c": None}], "d": "x"})
    assert missing(before, shape({"a": [{"b": 2.5, "c": 0, "e": 1}], "d": "", "f": 1})) == []
    assert missing(before, shape({"a": [{"b": "1", "c": 0}], "d": "x"})) == [
        ".a[].b: 'number' was, 'str' is"
    ]
    assert missing(before, shape({"a": [{"b": 1, "c": 2}]})) == [".d"]
    assert missing(before, shape({"a": {}, "d": "x"})) != []
