"""A kept sheet shows what other events have taught by now, and is no staler for it."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from uuid import UUID, uuid4

import pytest

from debriefs import SINGLE_PINS, SURFACE
from event_folder import DEMO
from nextpair.application.jobs import inputs_of
from nextpair.application.lessons import decide
from nextpair.application.model_version import model_version
from nextpair.application.store import Computed
from nextpair.files.results import result_document
from served import client_of, home_at
from unit.reports.sheet_factory import a_sheet

API = "/api/v1"
FILES = {path.name: path.read_text("utf-8") for path in DEMO.iterdir() if path.is_file()}


@pytest.fixture
def home():
    return home_at()


@pytest.fixture
def client(home):
    with client_of(home) as client:
        yield client


def taken_in(client, name: str, date: str) -> UUID:
    event = FILES["event.toml"].replace("Samphire Scratch Singles", name, 1)
    files = FILES | {"event.toml": event.replace("2026-10-17", date, 1)}
    return UUID(client.post(f"{API}/import", json={"files": files}).json()["event"]["id"])


@pytest.fixture
def earlier(client):
    return taken_in(client, "Earlier Open", "2026-09-12")


@pytest.fixture
def sheet(home, client) -> tuple[UUID, UUID]:
    """An event with a sheet that is kept: its id, and the sheet's."""
    event, id = taken_in(client, "Later Open", "2026-11-14"), uuid4()
    bundle = home.events.at_hand(home.owner.id, event).bundle
    made = replace(a_sheet(games=1), event="Later Open")
    home.store.keep_computed(
        home.owner.id,
        Computed(
            id, event, "sheet", model_version(), 7, inputs_of(bundle, "sheet"), None,
            datetime(2026, 11, 1, tzinfo=UTC), result_document(made),
        ),
    )  # fmt: skip
    return event, id


def test_a_kept_sheet_shows_lessons_as_they_are_decided(home, client, earlier, sheet):
    event, id = sheet
    asked = f"{API}/events/{event}/sheet"
    assert client.get(asked).json()["sheet"]["lessons"] == []
    decide(home.store, home.owner.id, earlier, SURFACE, accepted=True)
    told = client.get(asked).json()
    assert [one["key"] for one in told["sheet"]["lessons"]] == [SURFACE.key]
    assert told["sheet"]["lessons"][0]["event"] == "Earlier Open"
    assert not told["stale"]
    page = client.get(f"{API}/sheets/{id}.html").text
    assert "Take the Slate Weir to 2000." in page
    decide(home.store, home.owner.id, earlier, SURFACE, accepted=False)
    assert client.get(asked).json()["sheet"]["lessons"] == []
    assert "Take the Slate Weir" not in client.get(f"{API}/sheets/{id}.html").text


def test_an_event_whose_records_are_not_in_order_keeps_its_sheet(home, client, earlier, sheet):
    event, id = sheet
    decide(home.store, home.owner.id, earlier, SINGLE_PINS, accepted=True)
    record = client.get(f"{API}/records/event/{event}").json()
    document = record["document"] | {"bowler_name": "Nobody Here"}
    client.put(
        f"{API}/records/event/{event}",
        json={"document": document, "revision": record["revision"]},
    )
    told = client.get(f"{API}/events/{event}/sheet")
    assert told.status_code == 200
    assert told.json()["sheet"]["lessons"] == []
    assert client.get(f"{API}/sheets/{id}.html").status_code == 200
