"""The book of houses over HTTP."""

from __future__ import annotations

import json

import pytest

from event_folder import DEMO
from nextpair.application.accounts import add_account
from served import ON_THE_NETWORK, PASSWORD, browser_of, client_of, home_at

API = "/api/v1"
HOUSE = {
    "name": "Copperfield Lanes",
    "lanes": 24,
    "approach": "tacky",
    "private_notes": ["zyx-ask for Lena"],
}
VISIT = {
    "date": "2026-06-13",
    "event": "Harbour Lights",
    "pattern": "Long Tide 43",
    "games": 6,
    "pins": 1240,
    "lanes": {"13": "hooks early"},
    "learned": {"dry_log": [0, 0.07, 0.05, 0.03]},
}


@pytest.fixture
def client():
    with client_of(home_at()) as client:
        yield client


def kept_house(client, document=HOUSE):
    told = client.post(f"{API}/records/house", json={"document": document})
    assert told.status_code == 201
    return f"{API}/houses/{told.json()['id']}"


def added(client, house, visit=VISIT):
    """Answer to a visit that is sent in plain ASCII, as half of a character can be."""
    sent = json.dumps({"visit": visit})
    json_type = {"content-type": "application/json"}
    return client.post(f"{house}/visits", content=sent, headers=json_type)


def test_a_visit_is_added_corrected_and_taken_back(client):
    house = kept_house(client)
    told = added(client, house)
    assert told.status_code == 201
    [visit] = told.json()["visits"]
    assert {key: visit[key] for key in VISIT} == VISIT
    address = f"{house}/visits/{visit['id']}"
    book = client.put(address, json={"visit": VISIT | {"notes": "dry"}}).json()
    [corrected] = book["visits"]
    assert (corrected["notes"], corrected["id"]) == ("dry", visit["id"])
    assert "notes" not in corrected["earlier"][0]
    assert client.delete(address).json()["visits"] == []
    assert client.delete(address).status_code == 404


@pytest.mark.parametrize(
    "wrong",
    [
        {"date": "in May"},
        {"games": 900},
        {"hours": 3},
        {"id": "mine"},
        {"lanes": {"13": ""}},
        {"lanes": {"9" * 5000: "dry"}},
        {"lanes": {"199": "dry"}},
        {"lane_friction": {"199": 1.1}},
        {"learned": {"lane_199_dry_log": [0, 0.07, 0.03, 0.04]}},
        {"length_ft": -3},
        {"volume_ml": 1e9},
        {"notes": "half of \ud83c"},
        {"half of \ud83c": 1},
    ],
)
def test_what_is_no_visit_is_refused_by_its_key(client, wrong):
    house = kept_house(client)
    told = added(client, house, VISIT | wrong)
    assert told.status_code == 422
    [key] = wrong
    key = key.encode("ascii", errors="backslashreplace").decode()
    assert key.split("_")[0].removesuffix("s") in told.json()["problems"][0]["place"]
    assert client.get(f"{house}/book").json()["visits"] == []


def test_the_book_tells_what_was_met_and_learned(client):
    house = kept_house(client)
    added(client, house)
    book = client.get(f"{house}/book").json()
    assert book["patterns"] == [
        {"pattern": "Long Tide 43", "length_ft": None, "visits": 1, "games": 6, "pins": 1240}
    ]
    learned = book["friction"]["house"]
    low, high = learned["interval_80"]
    assert 1 < learned["factor"] < 1.05
    assert low < learned["factor"] < high
    assert learned["visits"][0]["date"] == "2026-06-13"


def test_friction_is_accepted_of_the_revision_that_was_looked_at(client):
    house = kept_house(client)
    book = added(client, house).json()
    told = client.post(f"{house}/friction", json={"revision": book["revision"]})
    factor = book["friction"]["house"]["factor"]
    assert told.json()["house"]["friction"] == factor
    stale = client.post(f"{house}/friction", json={"revision": book["revision"]})
    assert stale.status_code == 409
    assert stale.json()["current"]["document"]["friction"] == factor


def test_houses_are_looked_for(client):
    added(client, kept_house(client))
    kept_house(client, {"name": "Quay Street Bowl", "lanes": 8, "surface": "wood"})
    for query, names in (
        ("", ["Copperfield Lanes", "Quay Street Bowl"]),
        ("?text=hooks", ["Copperfield Lanes"]),
        ("?surface=wood", ["Quay Street Bowl"]),
        ("?approach=tacky&lanes=20&pinfall=free&pattern=tide", ["Copperfield Lanes"]),
    ):
        found = client.get(f"{API}/houses{query}").json()["houses"]
        assert [one["name"] for one in found] == names
    assert client.get(f"{API}/houses?surface=sand").status_code == 422


def test_an_event_is_drafted_as_a_visit(client):
    files = {file.name: file.read_text("utf-8") for file in DEMO.glob("*.*")}
    event = client.post(f"{API}/import", json={"files": files}).json()["event"]
    told = client.get(f"{API}/events/{event['id']}/visit").json()
    assert told["house"] == event["document"]["house"]
    visit = told["visit"]
    assert (visit["date"], visit["event_id"]) == (event["document"]["date"], event["id"])
    assert "learned" not in visit
    house = f"{API}/houses/{told['house']}"
    assert added(client, house, visit).status_code == 201
    again = client.get(f"{API}/events/{event['id']}/visit").json()["visit"]
    assert again["id"] == visit["id"]


def test_a_house_is_shared_with_another_account_without_what_is_private():
    home = home_at(ON_THE_NETWORK)
    for name in ("Ada", "Bo"):
        add_account(home.store, name, PASSWORD, home.hasher)
    with browser_of(home) as ada, browser_of(home) as bo:
        for client, name in ((ada, "Ada"), (bo, "Bo")):
            sign_in = {"name": name, "password": PASSWORD}
            assert client.post(f"{API}/sign-in", json=sign_in).status_code == 200
        house = kept_house(ada)
        added(ada, house)
        added(ada, house, VISIT | {"notes": "zyx-lost a bet", "private": True})
        text = ada.get(f"{house}/shared").json()["text"]
        assert "zyx" not in text
        assert bo.get(f"{house}/book").status_code == 404
        taken = bo.post(f"{API}/houses/shared", json={"text": text})
        assert taken.status_code == 201
        assert (taken.json()["is_new"], taken.json()["new_visits"]) == (True, 1)
        book = bo.get(f"{API}/houses/{taken.json()['id']}/book").json()
        assert book["visits"][0]["lanes"] == VISIT["lanes"]
        refused = bo.post(f"{API}/houses/shared", json={"text": "[house]"})
        assert refused.status_code == 422
