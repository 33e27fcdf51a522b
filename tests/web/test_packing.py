"""The packing list over HTTP: by what is kept, ticked, and with what was missing."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, datetime
from uuid import UUID, uuid4

import pytest

from debriefs import SURFACE
from event_folder import DEMO
from nextpair.application.jobs import Order, StoppedError, inputs_of
from nextpair.application.lessons import decide
from nextpair.application.model_version import model_version
from nextpair.application.store import Computed
from nextpair.domain.lesson import Change, ChangeKind
from nextpair.domain.sheet import BagItem
from nextpair.files.results import result_document
from nextpair.web import orders
from served import client_of, home_at
from unit.reports.sheet_factory import a_sheet

API = "/api/v1"
FILES = {path.name: path.read_text("utf-8") for path in DEMO.iterdir() if path.is_file()}
BAG = (BagItem("Slate Weir", 1000, 2.0, "For games 1 and 2."),)
WORN = "a quartz wrist band"
AWAY = {
    "name": "Away",
    "items": [{"item": "Folding stool", "many": 2, "why": "No seats."}],
    "stock": [{"item": "Tape", "have": 3, "use": 2, "per": "game", "unit": "strips"}],
    "case_limit_lb": 20.0,
}


class Noting:
    """Stands in for the process that computes: notes what was ordered."""

    def __init__(self) -> None:
        self.orders: list[Order] = []

    def work(self, order, _progress):
        self.orders.append(order)
        raise StoppedError("only noted")

    def stop(self) -> None:
        """Nothing is under way."""

    def close(self) -> None:
        """Nothing is held."""


@pytest.fixture
def hands():
    return Noting()


@pytest.fixture
def home(hands):
    return home_at(hands=hands)


@pytest.fixture
def client(home):
    with client_of(home) as client:
        yield client


def taken_in(client, name: str, date: str) -> str:
    event = FILES["event.toml"].replace("Samphire Scratch Singles", name, 1)
    care = FILES["bowler.toml"].partition("[care]")[0] + f'[care]\nstraps = ["{WORN}"]\n'
    files = FILES | {"event.toml": event.replace("2026-10-17", date, 1), "bowler.toml": care}
    made = client.post(f"{API}/import", json={"files": files})
    assert made.status_code == 201, made.text
    return made.json()["event"]["id"]


@pytest.fixture
def earlier(client):
    return taken_in(client, "Earlier Open", "2026-09-12")


@pytest.fixture
def event(client):
    return taken_in(client, "Later Open", "2026-11-14")


@pytest.fixture
def path(event):
    return f"{API}/events/{event}/packing"


def keep_sheet(home, event: str, day: int = 1, inputs: str | None = None) -> None:
    bundle = home.events.at_hand(home.owner.id, UUID(event)).bundle
    computed = Computed(
        uuid4(), UUID(event), "sheet", model_version(), 7, inputs or inputs_of(bundle, "sheet"),
        None, datetime(2026, 11, day, tzinfo=UTC), result_document(replace(a_sheet(), bag=BAG)),
    )  # fmt: skip
    home.store.keep_computed(home.owner.id, computed)


def keep_pocket(home, event: str, day: int = 2) -> None:
    """A pocket as it was packed once: with nothing on its list."""
    at_hand = home.events.at_hand(home.owner.id, UUID(event))
    bare = {"packing": [], "packing_missing": [], "packing_cases": [], "packing_cautions": []}
    computed = Computed(
        uuid4(), UUID(event), "pocket", model_version(), 7, at_hand.inputs_of("pocket"), None,
        datetime(2026, 11, day, tzinfo=UTC), {"pocket": 1, **bare},
    )  # fmt: skip
    home.store.keep_computed(home.owner.id, computed)


def listed(told) -> dict[str, dict]:
    return {item["item"]: item for item in told["packing"]["items"]}


def test_without_a_sheet_it_lists_all_but_the_balls_and_says_so(client, path):
    told = client.get(path).json()
    assert told["bag_from"] == "no sheet"
    assert "Slate Weir" not in json.dumps(told)
    assert told["packing"]["cases"] == []
    assert listed(told)["Towel"]["many"] > 1
    assert (told["kit"], told["kits"], told["done"]) == (None, [], [])


def test_the_bag_is_the_one_of_the_sheet_while_that_holds(home, client, event, path):
    keep_sheet(home, event)
    told = client.get(path).json()
    assert told["bag_from"] == "sheet"
    assert told["packing"]["cases"][0]["balls"] == ["Slate Weir"]
    assert "Slate Weir" in json.dumps(told["packing"]["items"])
    keep_sheet(home, event, 2, "other inputs")
    told = client.get(path).json()
    assert (told["bag_from"], told["packing"]["cases"]) == ("old sheet", [])


def test_a_kit_is_the_first_by_name_or_the_one_asked_for(home, client, event, path):
    keep_sheet(home, event)
    for document in (AWAY, {"name": "Here"}):
        made = client.post(f"{API}/records/kit", json={"document": document})
        assert made.status_code == 201, made.text
    told = client.get(path).json()
    assert (told["kit"], told["kits"]) == ("Away", ["Away", "Here"])
    stool = listed(told)["Folding stool"]
    assert (stool["many"], stool["rule"]) == (2, "kit")
    assert told["packing"]["reorders"][0]["item"] == "Tape"
    assert told["packing"]["cases"][0]["over_lb"] > 0
    told = client.get(path, params={"kit": "here"}).json()
    assert told["kit"] == "Here"
    assert "Folding stool" not in listed(told)
    refused = client.get(path, params={"kit": "Elsewhere"})
    assert refused.status_code == 422
    assert "Away, Here" in refused.text


def test_ticks_of_the_log_are_told_as_they_stand(client, event, path):
    def tick(seq: int, item: str, done: bool) -> None:
        jotting = {
            "id": str(uuid4()), "event": event, "device": "phone", "device_seq": seq,
            "kind": "tick", "payload": {"item": item, "done": done}, "supersedes": None,
            "schema_version": 1, "client_time": "",
        }  # fmt: skip
        sent = client.post(f"{API}/sync", json={"jottings": [jotting]}).json()
        assert sent["receipts"][0]["answer"] == "stored"

    for seq, (item, done) in enumerate((("Towel", True), ("Laces", True), ("Laces", False)), 1):
        tick(seq, item, done)
    assert client.get(path).json()["done"] == ["Towel"]


def test_what_was_missing_stands_first_on_later_lists(client, earlier, path):
    for _ in range(2):
        noted = client.post(
            f"{API}/events/{earlier}/packing/missing", json={"item": " Rosin  bag"}
        )
        assert noted.json() == {"noted": ["Rosin bag"]}
    told = client.get(path).json()
    assert told["packing"]["missing"] == ["Rosin bag"]
    assert told["packing"]["items"][0]["item"] == "Rosin bag"
    assert "Earlier Open" in told["packing"]["items"][0]["why"]
    assert told["noted"] == []


def test_private_lines_are_marked_and_get_into_no_log(home, client, event, path):
    before = home.store.log(home.owner.id, UUID(event))
    worn = listed(client.get(path).json())[WORN]
    assert worn["private"]
    for item in (WORN, WORN.upper(), " "):
        refused = client.post(f"{path}/missing", json={"item": item})
        assert refused.status_code == 422
        assert WORN not in refused.text
    assert home.store.log(home.owner.id, UUID(event)) == before


def test_an_event_that_is_not_kept_has_no_list(client):
    nowhere = f"{API}/events/{uuid4()}/packing"
    assert client.get(nowhere).status_code == 404
    assert client.post(f"{nowhere}/missing", json={"item": "Tape"}).status_code == 404


def test_a_pocket_is_packed_by_what_is_kept(client, home, hands, earlier, event, monkeypatch):
    client.post(f"{API}/records/kit", json={"document": AWAY})
    client.post(f"{API}/events/{earlier}/packing/missing", json={"item": "Rosin bag"})
    change = Change(ChangeKind.PACKING, "Take it.", item="Slick heel")
    decide(home.store, home.owner.id, UUID(earlier), replace(SURFACE, change=change), True)
    ordered = client.post(f"{API}/events/{event}/jobs", json={"kind": "pocket"})
    assert ordered.status_code == 202
    home.jobs.close()
    [order] = hands.orders
    assert order.packed.kit.name == "Away"
    assert [missed.item for missed in order.packed.missing] == ["Rosin bag"]
    assert [lesson.change.item for lesson in order.packed.lessons] == ["Slick heel"]
    given = {}
    monkeypatch.setattr(orders, "pocket_document", lambda pocket: pocket)
    program = type(home.program)
    monkeypatch.setattr(program, "fill_pocket", lambda *_, **named: given.update(named) or {})
    sheet = {"sheet": result_document(a_sheet())}
    orders.fulfil(home.program, replace(order, given=sheet), lambda *_: None)
    assert given["packed"] == order.packed


def carried(client, event: str, kit: str = "") -> dict[str, dict]:
    told = client.get(f"{API}/events/{event}/pocket{kit}").json()
    assert told["stale"] is False
    return {item["item"]: item for item in told["pocket"]["packing"]}


def test_a_pocket_has_the_list_of_the_day_it_is_fetched(client, home, earlier, event):
    keep_sheet(home, event)
    keep_pocket(home, event)
    before = carried(client, event)
    assert "Slate Weir @ 1000" in before
    assert "Folding stool" not in before
    client.post(f"{API}/records/kit", json={"document": AWAY})
    client.post(f"{API}/records/kit", json={"document": {"name": "Near home"}})
    client.post(f"{API}/events/{earlier}/packing/missing", json={"item": "Rosin bag"})
    change = Change(ChangeKind.PACKING, "Take it.", item="Slick heel")
    decide(home.store, home.owner.id, UUID(earlier), replace(SURFACE, change=change), True)
    assert {"Folding stool", "Rosin bag", "Slick heel"} <= carried(client, event).keys()
    at_home = carried(client, event, "?kit=near%20home")
    assert {"Rosin bag", "Slick heel"} <= at_home.keys()
    assert "Folding stool" not in at_home
    assert WORN not in client.get(f"{API}/events/{event}/pocket").text
    assert client.get(f"{API}/events/{event}/pocket?kit=Nowhere").status_code == 422


def test_a_pocket_of_another_sheet_stays_as_it_was_packed(client, home, event):
    keep_sheet(home, event)
    keep_pocket(home, event)
    keep_sheet(home, event, day=3)
    client.post(f"{API}/records/kit", json={"document": AWAY})
    assert carried(client, event) == {}
