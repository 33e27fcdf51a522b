"""The diary over HTTP: written at home and on the phone, corrected, taken back, and private."""

from __future__ import annotations

from uuid import uuid4

import pytest

from nextpair.application.diary import LONGEST_TEXT, PROMPTS
from served import client_of, home_at

API = "/api/v1"


@pytest.fixture
def client():
    with client_of(home_at()) as client:
        yield client


@pytest.fixture
def diary(client) -> str:
    return f"{API}/events/{client.post(f'{API}/demo').json()['event']['id']}/diary"


def entries(client, diary):
    return [(one["prompt"], one["text"]) for one in client.get(diary).json()["entries"]]


def test_what_is_asked_is_told_in_its_order(client, diary):
    told = client.get(diary).json()
    assert {one["key"]: one["words"] for one in told["prompts"]} == PROMPTS
    assert [one["key"] for one in told["prompts"]] == list(PROMPTS)
    assert told["entries"] == []


def test_an_entry_is_written_written_anew_and_taken_back(client, diary):
    made = client.post(diary, json={"prompt": "went_well", "text": "Stayed calm."})
    assert made.status_code == 201
    again = {"prompt": "went_well", "text": "Stayed with it.", "replaces": made.json()["id"]}
    assert client.post(diary, json=again).json()["id"] == made.json()["id"]
    assert entries(client, diary) == [("went_well", "Stayed with it.")]
    assert client.delete(f"{diary}/{made.json()['id']}").status_code == 204
    assert entries(client, diary) == []
    assert client.delete(f"{diary}/{made.json()['id']}").status_code == 404


def test_what_the_phone_wrote_stands_there_too(client, diary):
    note = {
        "id": str(uuid4()), "event": diary.split("/")[-2], "device": "phone", "device_seq": 1,
        "kind": "note", "payload": {"about": "diary", "prompt": "lane", "text": "15 dried up."},
        "supersedes": None, "schema_version": 1, "client_time": "2026-10-17T12:00:00Z",
    }  # fmt: skip
    client.post(f"{API}/sync", json={"jottings": [note]})
    (entry,) = client.get(diary).json()["entries"]
    assert (entry["text"], entry["written_at"]) == ("15 dried up.", "2026-10-17T12:00:00Z")


@pytest.mark.parametrize(
    "body",
    [
        {"prompt": "mood", "text": "Calm."}, {"prompt": "free", "text": "  "},
        {"prompt": "free", "text": "x" * (LONGEST_TEXT + 1)}, {"prompt": "free"},
    ],
)  # fmt: skip
def test_what_is_no_entry_is_refused(client, diary, body):
    assert client.post(diary, json=body).status_code == 422
    assert entries(client, diary) == []


def test_no_diary_without_its_event(client):
    nowhere = f"{API}/events/{uuid4()}/diary"
    assert client.get(nowhere).status_code == 404
    assert client.post(nowhere, json={"prompt": "free", "text": "x"}).status_code == 404


def test_no_folder_for_others_or_for_oneself_has_it(client, diary):
    client.post(diary, json={"prompt": "free", "text": "Quince marmalade."})
    event = diary.removesuffix("/diary")
    for private in ("false", "true"):
        assert "Quince" not in client.get(f"{event}/files?private={private}").text
