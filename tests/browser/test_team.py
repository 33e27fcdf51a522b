"""A team on one server: somebody shares, a coach reads, a guest opens a sheet, and it all ends."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID, uuid4

import pytest
from playwright.sync_api import Page, expect

from browser.pictures import breaches, codes, grey_picture, keep_picture, sideways_px
from browser.running import Server, run_program
from browser.screens import paths_of_readers, wait_until_shown
from browser.visitors import NETWORK
from debriefs import a_debrief
from event_folder import DEMO
from nextpair.application.store import Computed
from nextpair.files.results import result_document
from nextpair.store.opening import open_store
from served import PASSWORD
from unit.reports.sheet_factory import a_sheet

ATHLETE, COACH = "Ada Quill", "Coach Brannock"
MADE_AT = datetime(2026, 10, 18, tzinfo=UTC)
FILES = {path.name: path.read_text("utf-8") for path in DEMO.iterdir() if path.is_file()}
LOOKS = [("phone", "light"), ("laptop", "dark")]


@pytest.fixture(scope="module")
def team(tmp_path_factory) -> Iterator[Server]:
    """A server where somebody has to sign in, with an athlete and a coach."""
    folder = tmp_path_factory.mktemp("team")
    for name in (ATHLETE, COACH):
        words = ("account", "add", name, "--password-stdin")
        run_program(*words, store=folder / "nextpair.sqlite3", told=f"{PASSWORD}\n")
    with Server(folder, "--sign-in") as served:
        yield served


@pytest.fixture(scope="module")
def event(team) -> str:
    """The bundled event of the athlete, with a sheet and a debrief that took no computing."""
    team.sign_in(ATHLETE, PASSWORD)
    event = team.ask("/import", {"files": FILES})["event"]["id"]
    with closing(open_store(Path(team.store))) as store:
        owner = next(one.id for one in store.accounts() if one.name == ATHLETE)
        for kind, result in (("sheet", a_sheet()), ("debrief", a_debrief())):
            document = result_document(result)
            store.keep_computed(
                owner,
                Computed(uuid4(), UUID(event), kind, "m", 7, "f", None, MADE_AT, document),
            )
    return str(event)


def sign_in(page: Page, team: Server, name: str) -> None:
    page.goto(team.url)
    page.get_by_label("Name").fill(name)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", name="Events")).to_be_visible()


def wrong_with(page: Page, name: str) -> list[str]:
    """What is wrong with a screen that is shown; its picture is kept."""
    wait_until_shown(page)
    keep_picture(page, name)
    wide = sideways_px(page)
    return breaches(page) + ([f"scrolls sideways by {wide} px"] if wide else [])


@pytest.mark.parametrize(("device", "scheme"), LOOKS)
def test_an_athlete_shares_a_coach_reads_and_a_guest_opens_one_sheet(
    visitors, team, event, device, scheme
):
    visitors.foresee(NETWORK)
    look = f"team-{device}-{scheme}"
    athlete = visitors.laptop(scheme).new_page()
    coach = getattr(visitors, device)(scheme, device_scale_factor=1).new_page()
    sign_in(athlete, team, ATHLETE)
    sign_in(coach, team, COACH)
    coach.goto(f"{team.url}/#/shared")
    expect(coach.get_by_text("Nobody shares anything with you yet")).to_be_visible()
    found = {"empty": wrong_with(coach, f"{look}-empty")}

    athlete.goto(f"{team.url}/#/events/{event}")
    card = athlete.get_by_role("region", name="Who may read this")
    card.get_by_label("Account").fill(COACH)
    card.get_by_role("button", name="Let them read").click()
    expect(card.get_by_text("this event, since")).to_be_visible()
    card.get_by_role("button", name="Make a link").click()
    code = card.get_by_role("img", name="The link as a code for a camera")
    expect(code).to_be_visible()
    url = card.locator(".address a").get_attribute("href") or ""
    code.scroll_into_view_if_needed()
    assert url in codes(grey_picture(athlete, visitors.laptop()))
    found["share"] = wrong_with(athlete, f"{look}-share")

    coach.reload()
    coach.get_by_role("link", name=ATHLETE, exact=True).click()
    found["athlete"] = wrong_with(coach, f"{look}-athlete")
    coach.get_by_role("link", name="Samphire Scratch Singles").click()
    seen = {"/shared", "/shared/:id"}
    tabs = coach.get_by_role("navigation", name="This shared event")
    for part in ("Overview", "Sheet", "Scores", "Standing", "Statistics", "Debrief"):
        tabs.get_by_role("link", name=part).click()
        if part != "Overview":
            expect(coach.locator("h1")).to_contain_text(part)
        found[part] = wrong_with(coach, f"{look}-{part.lower()}")
        seen.add("/shared/:id/:id" if part == "Overview" else "/shared/:id/:id/:id")
        expect(coach.get_by_role("button", name="Accept")).to_have_count(0)
    assert {name: wrong for name, wrong in found.items() if wrong} == {}
    assert seen == paths_of_readers()

    guest = visitors.phone().new_page()
    guest.goto(url.replace("localhost", "127.0.0.1"))
    expect(guest.get_by_text(a_sheet().event).first).to_be_visible()

    card.get_by_role("button", name="Stop").click()
    expect(card.get_by_text("this event, since")).to_have_count(0)
    card.get_by_role("button", name="End").click()
    expect(card.get_by_role("button", name="End")).to_have_count(0)
    coach.reload()
    expect(coach.get_by_text("Nothing is shared here")).to_be_visible()
    guest.reload()
    expect(guest.get_by_role("heading", name="No sheet here")).to_be_visible()


def test_where_nobody_signs_in_nothing_is_said_of_sharing(visitors, server):
    event = server.ask("/demo", {})["event"]["id"]
    page = visitors.laptop().new_page()
    page.goto(f"{server.url}/#/events/{event}")
    expect(page.get_by_role("heading", name="Files")).to_be_visible()
    expect(page.get_by_text("Who may read this")).to_have_count(0)
    expect(page.get_by_role("link", name="Shared with me")).to_have_count(0)
