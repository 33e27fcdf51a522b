"""A debrief over HTTP: told with what was decided, stale by shots and scores alone."""

from __future__ import annotations

from datetime import UTC, datetime
from uuid import UUID, uuid4

import pytest

from debriefs import HOUSE_NOTE, SINGLE_PINS, SURFACE, a_debrief
from event_folder import DEMO
from nextpair.application.jobs import inputs_of
from nextpair.application.lessons import decide
from nextpair.application.model_version import model_version
from nextpair.application.store import Computed
from nextpair.domain.debrief import Debrief
from nextpair.files.results import result_document, result_of
from served import client_of, home_at

API = "/api/v1"
FILES = {path.name: path.read_text("utf-8") for path in DEMO.iterdir() if path.is_file()}


@pytest.fixture
def home():
    return home_at()


@pytest.fixture
def client(home):
    with client_of(home) as client:
        yield client


@pytest.fixture
def event(client) -> UUID:
    return UUID(client.post(f"{API}/import", json={"files": FILES}).json()["event"]["id"])


@pytest.fixture
def path(event) -> str:
    return f"{API}/events/{event}"


@pytest.fixture
def kept(home, event) -> None:
    """The debrief is kept, made of the log as it is."""
    owner = home.owner.id
    bundle = home.events.at_hand(owner, event).bundle
    seq = home.store.log(owner, event)[-1].seq
    home.store.keep_computed(
        owner,
        Computed(
            uuid4(), event, "debrief", model_version(), 7, inputs_of(bundle, "debrief"), seq,
            datetime(2026, 10, 18, tzinfo=UTC), result_document(a_debrief()),
        ),
    )  # fmt: skip


def test_a_debrief_is_kept_to_the_last_digit():
    assert result_of(Debrief, result_document(a_debrief())) == a_debrief()


def test_there_is_none_before_it_is_made(client, path):
    assert client.get(f"{path}/debrief").status_code == 404
    body = {"key": SURFACE.key, "accepted": True}
    assert client.post(f"{path}/lessons", json=body).status_code == 404
    assert client.get(f"{path}/summary").json()["debrief"] is None


@pytest.mark.usefixtures("kept")
def test_it_is_told_with_the_owners_money_as_it_is_now(client, path):
    told = client.get(f"{path}/debrief").json()
    assert not told["stale"]
    assert told["debrief"]["findings"][0]["key"] == SINGLE_PINS.key
    assert told["debrief"]["money"]["cost"] == "329.50"
    assert client.get(f"{path}/summary").json()["debrief"]["id"] == told["id"]


@pytest.mark.usefixtures("kept")
def test_findings_are_accepted_and_dropped_and_put_to_rest(client, path):
    def decisions():
        findings = client.get(f"{path}/debrief").json()["debrief"]["findings"]
        return [finding["decision"] for finding in findings]

    assert decisions() == [None, None, None]
    made = client.post(f"{path}/lessons", json={"key": SURFACE.key, "accepted": True})
    assert made.json()["change"]["ball"] == "Slate Weir"
    client.post(f"{path}/lessons", json={"key": HOUSE_NOTE.key, "accepted": False})
    assert decisions() == [None, "accepted", "dropped"]
    assert client.post(f"{path}/lessons/rest", json={"key": SURFACE.key}).json()["done"]
    assert decisions() == [None, "learned", "dropped"]
    again = {"key": SURFACE.key, "done": False}
    assert not client.post(f"{path}/lessons/rest", json=again).json()["done"]
    client.post(f"{path}/lessons", json={"key": SURFACE.key, "accepted": False})
    assert decisions() == [None, "dropped", "dropped"]


@pytest.mark.usefixtures("kept")
def test_what_is_no_finding_of_it_is_refused(client, path):
    refused = client.post(f"{path}/lessons", json={"key": "luck", "accepted": True})
    assert refused.status_code == 422
    assert SURFACE.key in refused.text
    assert client.post(f"{path}/lessons/rest", json={"key": SURFACE.key}).status_code == 422


@pytest.mark.usefixtures("kept")
def test_decisions_and_the_diary_make_it_no_staler(client, path):
    client.post(f"{path}/lessons", json={"key": SURFACE.key, "accepted": True})
    client.post(f"{path}/diary", json={"prompt": "free", "text": "Slept well."})
    assert not client.get(f"{path}/debrief").json()["stale"]


@pytest.mark.usefixtures("kept")
@pytest.mark.parametrize("more", ["score", "game", "counting"])
def test_scores_and_how_they_count_make_it_stale(client, path, more):
    if more == "score":
        client.post(f"{path}/scores", json={"text": "Ada Quill,9,201"})
    elif more == "game":
        client.post(f"{path}/games", json={"game": 6, "balls": "X X X X X X X X X X X X"})
    else:
        record = client.get(path.replace("/events/", "/records/event/")).json()
        document = record["document"] | {"counting": "current-frame"}
        client.put(
            path.replace("/events/", "/records/event/"),
            json={"document": document, "revision": record["revision"]},
        )
    assert client.get(f"{path}/debrief").json()["stale"]


def test_what_other_events_taught_is_told_with_the_event_that_taught_it(home, client, path):
    earlier = FILES["event.toml"].replace("Samphire Scratch Singles", "Earlier Open", 1)
    files = FILES | {"event.toml": earlier.replace("2026-10-17", "2026-09-12", 1)}
    other = client.post(f"{API}/import", json={"files": files}).json()["event"]["id"]
    decide(home.store, home.owner.id, UUID(other), SINGLE_PINS, accepted=True)
    told = client.get(f"{path}/lessons").json()
    assert told["decided"] == []
    assert [one["event_id"] for one in told["applying"]] == [other]
    assert told["applying"][0]["lesson"]["words"] == SINGLE_PINS.words
    own = client.get(f"{API}/events/{other}/lessons").json()
    assert [one["key"] for one in own["decided"]] == [SINGLE_PINS.key]
    assert own["applying"] == []


@pytest.mark.parametrize("more", [{}, {"log_seq": 3}, {"seed": 8}, {"model_version": "older"}])
def test_a_debrief_goes_by_the_sheet_that_was_planned_before_the_first_shot(
    home, client, event, path, more
):
    orders = []
    home.jobs.submit = lambda account, order: orders.append(order) or submit(account, order)
    submit = type(home.jobs).submit.__get__(home.jobs)
    bundle = home.events.at_hand(home.owner.id, event).bundle
    sheet = {
        "id": uuid4(), "event": event, "kind": "sheet", "model_version": model_version(),
        "seed": 7, "inputs": inputs_of(bundle, "sheet"), "log_seq": None,
        "made_at": datetime(2026, 10, 1, tzinfo=UTC), "document": {"event": "planned"},
    }  # fmt: skip
    home.store.keep_computed(home.owner.id, Computed(**sheet | more))
    assert client.post(f"{path}/jobs", json={"kind": "debrief"}).status_code == 202
    (order,) = orders
    assert order.log
    assert dict(order.given) == ({} if more else {"sheet": {"event": "planned"}})
