"""Records over HTTP: kept, checked, clashed, put away and taken back."""

from __future__ import annotations

import pytest

from served import client_of, home_at

NOWHERE = "159c2ce4-274b-4be2-b907-e953490f6f57"
"""An id that nothing is kept under."""

API = "/api/v1/records"
HOUSE = {"name": "Copperfield Lanes", "lanes": 24, "surface": "synthetic"}


@pytest.fixture
def client():
    with client_of(home_at()) as client:
        yield client


def add(client, kind, document):
    made = client.post(f"{API}/{kind}", json={"document": document})
    assert made.status_code == 201, made.text
    return made.json()


def names(client, kind, query=""):
    return [one["name"] for one in client.get(f"{API}/{kind}{query}").json()["items"]]


def test_a_record_is_kept_with_what_would_be_guessed_of_it(client):
    made = add(client, "house", HOUSE)
    assert made["revision"] == 1
    assert made["document"] == HOUSE
    assert any("temperature_c" in guess for guess in made["guessed"])
    assert client.get(f"{API}/house/{made['id']}").json()["document"] == HOUSE


def test_a_document_is_refused_with_every_problem_of_it(client):
    refused = client.post(
        f"{API}/house", json={"document": {"name": "X", "lanes": 3.5, "surface": "ice"}}
    )
    assert refused.status_code == 422
    assert {problem["place"] for problem in refused.json()["problems"]} == {"lanes", "surface"}
    assert all(problem["words"] for problem in refused.json()["problems"])


def test_a_document_is_checked_without_being_kept(client):
    path = f"{API}/house/check"
    wrong = client.post(path, json={"document": {"name": "X", "lanes": 0}})
    assert wrong.status_code == 200
    assert [problem["place"] for problem in wrong.json()["problems"]] == ["lanes"]
    right = client.post(path, json={"document": HOUSE}).json()
    assert right["problems"] == []
    assert right["guessed"]
    assert names(client, "house") == []


def test_who_saves_an_old_version_is_shown_the_new_one(client):
    made = add(client, "house", HOUSE)
    path = f"{API}/house/{made['id']}"
    newer = HOUSE | {"lanes": 32}
    saved = client.put(path, json={"document": newer, "revision": 1})
    assert (saved.status_code, saved.json()["revision"]) == (200, 2)
    stale = client.put(path, json={"document": HOUSE | {"lanes": 16}, "revision": 1})
    assert stale.status_code == 409
    assert stale.json()["current"]["document"] == newer
    assert stale.json()["problems"]
    versions = client.get(f"{path}/revisions").json()["items"]
    assert [one["document"]["lanes"] for one in versions] == [32, 24]


def test_a_record_is_put_away_and_taken_back(client):
    made = add(client, "house", HOUSE)
    path = f"{API}/house/{made['id']}"
    assert client.delete(path).json()["deleted"]
    assert names(client, "house") == []
    assert names(client, "house", "?deleted=true") == [HOUSE["name"]]
    assert not client.post(f"{path}/restore").json()["deleted"]
    assert names(client, "house") == [HOUSE["name"]]


def test_what_others_need_stays_and_says_who_needs_it(client):
    event = client.post("/api/v1/demo").json()["event"]
    house = event["document"]["house"]
    refused = client.delete(f"{API}/house/{house}")
    assert refused.status_code == 409
    assert event["name"] in refused.json()["problems"][0]["words"]


@pytest.mark.parametrize("linked", [NOWHERE, "no id", 7])
def test_a_link_leads_to_a_record_of_the_right_kind(client, linked):
    event = client.post("/api/v1/demo").json()["event"]
    document = event["document"] | {"house": linked}
    refused = client.put(
        f"{API}/event/{event['id']}", json={"document": document, "revision": event["revision"]}
    )
    assert refused.status_code in (404, 422)
    document = event["document"] | {"house": event["document"]["bowler"]}
    refused = client.put(
        f"{API}/event/{event['id']}", json={"document": document, "revision": event["revision"]}
    )
    assert refused.status_code == 404


def test_an_id_of_another_kind_is_none_of_this_kind(client):
    made = add(client, "house", HOUSE)
    for kind in ("bowler", "event"):
        assert client.get(f"{API}/{kind}/{made['id']}").status_code == 404
        assert client.delete(f"{API}/{kind}/{made['id']}").status_code == 404
    assert client.get(f"{API}/alley").status_code == 422


@pytest.mark.parametrize(
    "body",
    [
        '{"document": {"name": "X", "lanes": NaN}}',
        '{"document": {"name": "\\ud800", "lanes": 12}}',
        '{"document": {"name": "a\\u0000b", "lanes": 12}}',
        '{"document": {"name": "X", "lanes": 12, "notes": ' + "[" * 3000 + "]" * 3000 + "}}",
        '{"document": []}',
        '{"document": {}, "more": 1}',
        "[]",
        "",
        "{",
    ],
)
def test_what_no_document_can_hold_is_refused_in_one_form(client, body):
    refused = client.post(
        f"{API}/house", content=body, headers={"Content-Type": "application/json"}
    )
    assert refused.status_code in (400, 422)
    assert refused.json()["problems"][0]["words"]


def test_numbers_are_numbers_and_not_what_looks_like_one(client):
    made = add(client, "house", HOUSE)
    for revision in (True, "1", 1.5, -1, None):
        refused = client.put(
            f"{API}/house/{made['id']}", json={"document": HOUSE, "revision": revision}
        )
        assert refused.status_code == 422


def test_a_private_value_is_not_repeated_in_a_refusal(client):
    document = {"name": "Ada Quill", "hand": "right", "style": "one-handed", "average": 202,
                "care": {"watch": "left knee"}}  # fmt: skip
    for answer in (
        client.post(f"{API}/bowler", json={"document": document}),
        client.post(f"{API}/bowler/check", json={"document": document}),
    ):
        assert answer.json()["problems"]
        assert "left knee" not in answer.text
