"""What a bowler decides after an event, on a phone: the friction of a house, and what a debrief
found, which the next packing list shows.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime
from uuid import UUID, uuid4

import pytest
from playwright.sync_api import expect

from browser.running import Server
from browser.visitors import Visitors
from debriefs import a_debrief
from event_folder import DEMO
from nextpair.application.accounts import home_account
from nextpair.application.at_hand import EventsAtHand
from nextpair.application.jobs import inputs_of
from nextpair.application.model_version import model_version
from nextpair.application.settings import Settings
from nextpair.application.store import Computed
from nextpair.bootstrap import Program
from nextpair.domain.debrief import DebriefFinding
from nextpair.domain.lesson import Change, ChangeKind
from nextpair.files.results import result_document
from nextpair.store.opening import open_store

NAME, DAY = "Samphire Scratch Singles", "2026-10-17"
FILES = {path.name: path.read_text("utf-8") for path in DEMO.iterdir() if path.is_file()}
HEEL = DebriefFinding(
    key="packing: tacky heel",
    words="The foot slid a hand too far from game two on.",
    evidence=("written in the diary after games 2 and 3",),
    cost_pins_per_game=None,
    sure_probability=0.9,
    change=Change(ChangeKind.PACKING, "Take the tacky heel where it is slick.", item="Tacky heel"),
)
LEARNED = {"dry_log": [0, 0.07, 0.05, 0.03]}
"""A day on which dry boards had more friction than the house's file says."""


@pytest.fixture(scope="module")
def home_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A server whose houses and lessons no other test meets."""
    with Server(tmp_path_factory.mktemp("after")) as served:
        yield served


@pytest.fixture
def house(home_server: Server) -> str:
    """A house, and a visit that taught something of it."""
    document = {"name": "Copperfield Lanes", "lanes": 24}
    id = home_server.ask("/records/house", {"document": document})["id"]
    visit = {"date": "2026-06-13", "event": "Lantern Open", "learned": LEARNED}
    home_server.ask(f"/houses/{id}/visits", {"visit": visit})
    return str(id)


def test_learned_friction_is_accepted_into_the_houses_file_and_taken_out_again(
    visitors: Visitors, home_server: Server, house: str
) -> None:
    page = visitors.phone().new_page()
    page.goto(f"{home_server.url}/#/houses/{house}/book")
    expect(page.get_by_role("heading", name="13 June 2026, Lantern Open")).to_be_visible()
    accept = page.get_by_role("button", name="Accept it into the house's file")
    accept.tap()
    expect(page.get_by_text("The house's file has this already")).to_be_visible()
    expect(page.get_by_role("heading", name="Friction")).to_be_focused()
    learned = home_server.ask(f"/houses/{house}/book")["friction"]["house"]
    kept = home_server.ask(f"/records/house/{house}")["document"]
    assert kept["friction"] == pytest.approx(learned["factor"], abs=5e-4)
    assert kept["friction"] > 1
    page.get_by_role("button", name="Undo").tap()
    expect(accept).to_be_visible()
    assert "friction" not in home_server.ask(f"/records/house/{house}")["document"]


def taken_in(server: Server, name: str, day: str) -> UUID:
    """The bundled event under another name, on another day."""
    told = FILES["event.toml"].replace(NAME, name, 1).replace(DAY, day, 1)
    kept = server.ask("/import", {"files": FILES | {"event.toml": told}})
    return UUID(kept["event"]["id"])


def keep_debrief(server: Server, event: UUID) -> None:
    """Keep a debrief that found one thing, as if it had been computed."""
    with closing(open_store(server.store)) as store:
        owner = home_account(store).id
        papers = Program(Settings(threads=1)).papers()
        bundle = EventsAtHand(store, papers).at_hand(owner, event).bundle
        found = replace(a_debrief(), findings=(HEEL,))
        store.keep_computed(
            owner,
            Computed(
                uuid4(), event, "debrief", model_version(), 7, inputs_of(bundle, "debrief"),
                store.log(owner, event)[-1].seq, datetime(2026, 10, 18, tzinfo=UTC),
                result_document(found),
            ),
        )  # fmt: skip


def test_what_is_accepted_of_a_debrief_is_on_the_next_packing_list_until_it_is_dropped(
    visitors: Visitors, home_server: Server
) -> None:
    earlier = taken_in(home_server, "Earlier Open", "2026-09-12")
    later = taken_in(home_server, "Later Open", "2026-11-14")
    keep_debrief(home_server, earlier)
    page = visitors.phone().new_page()
    packing = f"{home_server.url}/#/events/{later}/packing"
    debrief = f"{home_server.url}/#/events/{earlier}/debrief"
    heel = page.get_by_role("checkbox", name=HEEL.change.item or "")

    page.goto(debrief)
    page.get_by_role("button", name="Accept").tap()
    expect(page.get_by_text("accepted", exact=True)).to_be_visible()
    drop = page.get_by_role("button", name="Drop")
    expect(drop).to_be_focused()
    page.goto(packing)
    expect(heel).to_be_visible()
    page.goto(debrief)
    drop.tap()
    expect(page.get_by_text("dropped", exact=True)).to_be_visible()
    page.goto(packing)
    expect(page.get_by_role("checkbox", name="Shoe brush")).to_be_visible()
    expect(heel).to_have_count(0)
