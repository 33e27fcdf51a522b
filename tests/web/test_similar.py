"""Relatives of patterns and the chart of conditions over HTTP: of one's own account alone."""

from __future__ import annotations

from uuid import uuid4

import pytest

from event_folder import DEMO
from nextpair.application.accounts import add_account
from served import ON_THE_NETWORK, PASSWORD, browser_of, client_of, home_at

API = "/api/v1"
SECRET = "Stay inside of board 8."


@pytest.fixture
def client():
    with client_of(home_at()) as client:
        yield client


def take_in(client):
    record = client.post(f"{API}/demo").json()["event"]
    text = (DEMO / "scores.csv").read_text("utf-8")
    client.post(f"{API}/events/{record['id']}/scores", json={"text": text})
    return record


def page(client, key):
    return client.get(f"{API}/similar", params={"pattern": key})


def write_note(client, log, text):
    jotting = {
        "id": str(uuid4()), "event": log, "device": "home-1", "device_seq": 1, "kind": "note",
        "payload": {"about": "pattern", "text": text}, "supersedes": None, "schema_version": 1,
        "client_time": "2026-05-02T10:00:00Z",
    }  # fmt: skip
    answer = client.post(f"{API}/sync", json={"jottings": [jotting]}).json()
    assert [one["answer"] for one in answer["receipts"]] == ["stored"]


def test_a_pattern_has_its_results_notes_and_relatives(client):
    key = take_in(client)["document"]["pattern"]
    told = page(client, key).json()
    write_note(client, told["log"], SECRET)
    told = page(client, key).json()
    assert [one["text"] for one in told["notes"]] == [SECRET]
    assert [one["mean_pins"] for one in told["outings"]] == [190.5]
    beside = page(client, told["relatives"][0]["key"]).json()
    mine = next(one for one in beside["relatives"] if one["key"] == key)
    assert [one["text"] for one in mine["notes"]] == [SECRET]


def test_a_library_pattern_takes_notes_too(client):
    told = page(client, "library: Lee Shore 39").json()
    write_note(client, told["log"], SECRET)
    notes = page(client, "library: Lee Shore 39").json()["notes"]
    assert [one["text"] for one in notes] == [SECRET]


def test_a_key_of_nothing_is_refused(client):
    assert page(client, "library: No Such").status_code == 422
    assert page(client, str(uuid4())).status_code == 422


def test_conditions_tell_what_was_scored(client):
    assert client.get(f"{API}/conditions").json()["rows"] == []
    take_in(client)
    rows = client.get(f"{API}/conditions").json()["rows"]
    assert [(row["events"], row["games"]) for row in rows] == [(1, 4)]


def test_nothing_of_it_is_shown_to_another_account():
    home = home_at(ON_THE_NETWORK)
    with client_of(home) as first, browser_of(home) as second:
        for client, name in ((first, "ada"), (second, "bo")):
            add_account(home.store, name, PASSWORD, home.hasher)
            client.post(f"{API}/sign-in", json={"name": name, "password": PASSWORD})
        key = take_in(first)["document"]["pattern"]
        write_note(first, page(first, "library: Lee Shore 39").json()["log"], SECRET)
        theirs = page(second, "library: Lee Shore 39").json()
        assert theirs["notes"] == []
        assert all(one["key"].startswith("library: ") for one in theirs["relatives"])
        assert page(second, key).status_code == 422
        assert second.get(f"{API}/conditions").json()["rows"] == []
