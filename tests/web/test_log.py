"""A phone's log over HTTP: each jotting once, whatever else is in the batch."""

from __future__ import annotations

from uuid import uuid4

import pytest

from nextpair.application.sync import MOST_AT_ONCE
from served import client_of, home_at

API = "/api/v1"


@pytest.fixture
def client():
    with client_of(home_at()) as client:
        yield client


def jotting(event, number=1, **changes):
    return {
        "id": str(uuid4()),
        "event": event,
        "device": "phone",
        "device_seq": number,
        "kind": "note",
        "payload": {"about": "lane 13", "text": f"note {number}"},
        "supersedes": None,
        "schema_version": 1,
        "client_time": "2026-06-13T09:41:00+02:00",
    } | changes


def sync(client, *jottings):
    answer = client.post(f"{API}/sync", json={"jottings": list(jottings)})
    assert answer.status_code == 200, answer.text
    assert answer.json()["app"] == "nextpair"
    return answer.json()["receipts"]


def test_a_jotting_is_stored_once_and_a_changed_one_never_takes_its_place(client):
    event = str(uuid4())
    first = jotting(event)
    assert [one["answer"] for one in sync(client, first)] == ["stored"]
    assert [one["answer"] for one in sync(client, first, first)] == ["duplicate"] * 2
    changed = first | {"payload": {"about": "lane 13", "text": "another"}}
    [conflict] = sync(client, changed)
    assert conflict["answer"] == "conflict"
    [kept] = client.get(f"{API}/events/{event}/log").json()["items"]
    assert kept["jotting"] == first


BAD = [
    pytest.param(lambda _: 7, id="a number"),
    pytest.param(lambda _: None, id="nothing"),
    pytest.param(lambda _: [], id="a list"),
    pytest.param(lambda _: {}, id="an empty object"),
    pytest.param(lambda good: good | {"id": "no id"}, id="no id"),
    pytest.param(lambda good: good | {"kind": "rumour"}, id="another kind"),
    pytest.param(lambda good: good | {"kind": []}, id="a list for a kind"),
    pytest.param(lambda good: good | {"device_seq": True}, id="true for a number"),
    pytest.param(lambda good: good | {"device_seq": 0}, id="a number too low"),
    pytest.param(lambda good: good | {"device": ""}, id="no device"),
    pytest.param(lambda good: good | {"device": "a\x00b"}, id="a null in a text"),
    pytest.param(lambda good: good | {"payload": "text"}, id="no object"),
    pytest.param(lambda good: good | {"payload": {"text": "x" * 5000}}, id="too long"),
    pytest.param(lambda good: good | {"schema_version": 99}, id="of a newer program"),
    pytest.param(lambda good: good | {"supersedes": good["id"]}, id="superseding itself"),
    pytest.param(lambda good: good | {"kind": "void"}, id="taking back nothing"),
    pytest.param(lambda good: good | {"more": 1}, id="another key"),
    pytest.param(lambda good: {key: good[key] for key in good if key != "event"}, id="no event"),
]


@pytest.mark.parametrize("spoil", BAD)
def test_one_bad_jotting_is_refused_by_itself(client, spoil):
    event = str(uuid4())
    before, bad, after = jotting(event, 1), spoil(jotting(event, 2)), jotting(event, 3)
    receipts = sync(client, before, bad, after)
    assert [one["answer"] for one in receipts] == ["stored", "refused", "stored"]
    assert receipts[1]["why"]
    assert [receipts[0]["id"], receipts[2]["id"]] == [before["id"], after["id"]]
    items = client.get(f"{API}/events/{event}/log").json()["items"]
    assert [one["jotting"]["device_seq"] for one in items] == [1, 3]


@pytest.mark.parametrize("value", ["NaN", "1e999", '"\\ud800"', "[" * 2000 + "]" * 2000])
def test_what_json_cannot_say_is_refused_by_itself(client, value):
    event = str(uuid4())
    good = jotting(event)
    text = str(jotting(event, 2)).replace("'", '"').replace("None", "null")
    bad = text.replace('"note 2"', value)
    body = (
        f'{{"jottings": [{bad}, {str(good).replace(chr(39), chr(34)).replace("None", "null")}]}}'
    )
    answer = client.post(
        f"{API}/sync", content=body.encode(), headers={"Content-Type": "application/json"}
    )
    if answer.status_code == 200:
        assert [one["answer"] for one in answer.json()["receipts"]] == ["refused", "stored"]
    else:  # what the reader of JSON itself gives up on; the phone splits its batch then
        assert answer.status_code in (400, 422)


def test_a_batch_has_at_most_500(client):
    event = str(uuid4())
    many = [jotting(event, number) for number in range(1, MOST_AT_ONCE + 2)]
    refused = client.post(f"{API}/sync", json={"jottings": many})
    assert refused.status_code == 422
    assert len(sync(client, *many[:-1])) == MOST_AT_ONCE


def test_a_log_is_given_out_page_by_page(client):
    event = str(uuid4())
    many = [jotting(event, number) for number in range(1, MOST_AT_ONCE + 3)]
    sync(client, *many[:MOST_AT_ONCE])
    sync(client, *many[MOST_AT_ONCE:])
    got, after = [], 0
    while page := client.get(f"{API}/events/{event}/log?after={after}").json():
        assert page["app"] == "nextpair"
        if not page["items"]:
            break
        got += [one["jotting"] for one in page["items"]]
        after = page["next"]
    assert got == many


@pytest.mark.parametrize("after", ["-1", "x", "1e30", "true"])
def test_a_place_in_a_log_is_a_number(client, after):
    assert client.get(f"{API}/events/{uuid4()}/log?after={after}").status_code == 422
