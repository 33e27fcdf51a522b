"""Two accounts never see each other's things, over every route that there is."""

from __future__ import annotations

from uuid import UUID, uuid4

import pytest

from event_folder import DEMO
from nextpair.application.accounts import add_account
from nextpair.application.store import Computed
from nextpair.web.app import api_of
from served import ON_THE_NETWORK, PASSWORD, browser_of, client_of, home_at

API = "/api/v1"
MARK = "Owner's Own"
"""Stands in all that the first account keeps: the name of the house, the event and the bowler."""
OPEN = {"/status", "/sign-in", "/sign-out"}
SHARED = {
    "/library",
    "/patterns/film",
    "/codes",
    "/squads/paste",
    "/balls/paste",
    "/scores/paste",
    "/records/{kind}/check",
}
"""Answered alike to everybody: they tell of nothing that anybody keeps."""
NOTE = {
    "id": str(uuid4()), "event": str(uuid4()), "device": "phone", "device_seq": 1, "kind": "note",
    "payload": {"about": "house", "text": MARK}, "supersedes": None, "schema_version": 1,
    "client_time": "",
}  # fmt: skip
SHOT = {"ball": "Slate Weir", "laydown_board": 24.5, "launch_angle_deg": 2.4}
BODIES = {
    ("PUT", "/records/{kind}/{id}"): {"document": {"name": "Taken", "lanes": 12}, "revision": 1},
    ("POST", "/events/{id}/jobs"): {"kind": "sheet"},
    ("POST", "/events/{id}/try"): SHOT,
    ("POST", "/events/{id}/spare"): {"leave": "3-10"},
    ("POST", "/events/{id}/shots"): {"text": "id\n"},
    ("POST", "/events/{id}/scores"): {"text": "Ada,1,200"},
    ("POST", "/events/{id}/games"): {"game": 1, "balls": "X"},
    ("POST", "/events/{id}/games/check"): {"game": 1, "balls": "X"},
    ("POST", "/events/{id}/lessons"): {"key": "moves", "accepted": True},
    ("POST", "/events/{id}/lessons/rest"): {"key": "moves"},
    ("POST", "/events/{id}/diary"): {"prompt": "free", "text": "Taken."},
    ("POST", "/houses/{id}/visits"): {"visit": {"date": "2026-01-01"}},
    ("PUT", "/houses/{id}/visits/{visit_id}"): {"visit": {"date": "2026-01-01"}},
    ("POST", "/houses/{id}/friction"): {"revision": 1},
    ("POST", "/events/{id}/packing/missing"): {"item": "Tape"},
    ("POST", "/sync"): {"jottings": []},
    ("POST", "/import"): {"files": {"event.toml": ""}},
    ("POST", "/records/{kind}"): {"document": {"name": "Own", "lanes": 12}},
    ("POST", "/patterns/film"): {"name": "library: Mill Race 35"},
    ("POST", "/codes"): {"width": 16, "height": 16, "grey": "AAAA"},
    ("POST", "/squads/paste"): {"text": "13-14,Ada"},
    ("POST", "/balls/paste"): {"text": "Kestrel"},
    ("POST", "/scores/paste"): {"text": "Ada,1,200"},
    ("PUT", "/password"): {"old": "not this one at all", "new": PASSWORD},
    ("POST", "/shares"): {"reader": "Owner"},
    ("POST", "/events/{id}/guest-links"): {"days": 7},
    ("POST", "/archive"): {"app": "nextpair", "archive": 1, "records": [], "jottings": []},
    ("POST", "/records/{kind}/check"): {"document": {"name": "Own", "lanes": 12}},
}
ROUTES = sorted(
    (method.upper(), path)
    for path, operations in api_of(home_at()).openapi()["paths"].items()
    for method in operations
)


@pytest.fixture(scope="module")
def served():
    """Somebody with an event, a log, a sheet and a job; and somebody else."""
    home = home_at(ON_THE_NETWORK)
    owner = add_account(home.store, "Owner", PASSWORD, home.hasher)
    add_account(home.store, "Other", PASSWORD, home.hasher)
    with client_of(home) as first, browser_of(home) as second:
        for client, name in ((first, "Owner"), (second, "Other")):
            signed_in = client.post(f"{API}/sign-in", json={"name": name, "password": PASSWORD})
            assert signed_in.status_code == 200
        files = {file.name: file.read_text("utf-8") for file in DEMO.glob("*.*")}
        for word in ("Samphire", "Quernstone", "Maren"):
            files = {name: text.replace(word, MARK) for name, text in files.items()}
        event = first.post(f"{API}/import", json={"files": files}).json()["event"]
        first.post(f"{API}/sync", json={"jottings": [NOTE | {"event": event["id"]}]})
        job = first.post(f"{API}/events/{event['id']}/jobs", json={"kind": "spares"}).json()
        result = Computed(
            uuid4(), UUID(event["id"]), "sheet", "model", 7, "inputs", None, home.now(),
            {"house": MARK},
        )  # fmt: skip
        home.store.keep_computed(owner.id, result)
        digest = first.get(f"{API}/tickets").json()["items"][0]["digest"]
        linked = first.post(f"{API}/events/{event['id']}/guest-links", json={}).json()
        ids = {"event": event["id"], "house": event["document"]["house"], "job": job["id"],
               "sheet": str(result.id), "digest": digest, "owner": str(owner.id),
               "link": linked["digest"]}  # fmt: skip
        yield home, owner, first, second, ids


def filled(path, ids):
    path = path.replace("{owner}", ids["owner"]).replace("{reader}", ids["owner"])
    if path.startswith("/shared"):
        return path.replace("{id}", ids["event"])
    if path.startswith("/guest-links"):
        return path.replace("{digest}", ids["link"])
    for start, name in (("/events", "event"), ("/jobs", "job"), ("/sheets", "sheet")):
        if path.startswith(start):
            return path.replace("{id}", ids[name]).replace("{entry}", ids["sheet"])
    return (
        path.replace("{kind}", "house").replace("{id}", ids["house"])
        .replace("{visit_id}", ids["sheet"]).replace("{digest}", ids["digest"])
    )  # fmt: skip


def kept_of(home, owner, ids):
    store = home.store
    return (
        store.every_revision(owner.id), store.log(owner.id, UUID(ids["event"])),
        store.shares(owner.id), store.guest_links(owner.id, home.now()),
    )  # fmt: skip


def test_there_are_routes_enough():
    assert len(ROUTES) > 35
    assert set(BODIES) <= set(ROUTES)


@pytest.mark.parametrize(("method", "path"), ROUTES, ids=lambda part: part)
def test_nobody_reads_or_changes_what_is_another_ones(served, method, path):
    home, owner, first, second, ids = served
    before = kept_of(home, owner, ids)
    answer = second.request(method, API + filled(path, ids), json=BODIES.get((method, path)))
    assert answer.status_code != 500
    if path not in SHARED:
        assert MARK not in answer.text
    if "{" in path.replace("{kind}", "") and path != "/events/{id}/log":
        assert answer.status_code == 404, answer.text
    assert before == kept_of(home, owner, ids)
    assert first.get(f"{API}/tickets").status_code == 200
    if path == "/sign-out":
        second.post(f"{API}/sign-in", json={"name": "Other", "password": PASSWORD})


@pytest.mark.parametrize(("method", "path"), ROUTES, ids=lambda part: part)
def test_nobody_who_is_not_signed_in_is_answered(served, method, path):
    home, _, _, _, ids = served
    with browser_of(home) as stranger:
        answer = stranger.request(
            method, API + filled(path, ids), json=BODIES.get((method, path), {})
        )
    if path not in OPEN:
        assert answer.status_code == 401
    assert MARK not in answer.text


def test_the_owner_sees_all_of_it(served):
    _, _, first, _, ids = served
    assert MARK in first.get(f"{API}/records/house/{ids['house']}").text
    assert MARK in first.get(f"{API}/events/{ids['event']}/log").text
    assert first.get(f"{API}/jobs/{ids['job']}").status_code == 200


def test_the_same_id_at_two_accounts_is_two_logs(served):
    _, _, first, second, ids = served
    own = NOTE | {"event": ids["event"], "payload": {"about": "house", "text": "mine"}}
    [receipt] = second.post(f"{API}/sync", json={"jottings": [own]}).json()["receipts"]
    assert receipt["answer"] == "stored"
    assert MARK in first.get(f"{API}/events/{ids['event']}/log").text
    assert MARK not in second.get(f"{API}/events/{ids['event']}/log").text
