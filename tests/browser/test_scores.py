"""A game entered by its counts at home, on a laptop's keys and on a phone's screen: what is wrong
is shown at its frame, and what is right is kept.
"""

from __future__ import annotations

import tomllib

import pytest
from playwright.sync_api import Page, expect

from browser.pictures import breaches, sideways_px
from browser.running import Server
from browser.visitors import Scheme, Visitors
from event_folder import DEMO
from source_tree import ROOT

PUBLISHED = tomllib.loads((ROOT / "tests/reference/data/scoring.toml").read_text("utf-8"))
RULE_BOOK = PUBLISHED["rule_book_game"]
TOLD = "Frame 4. Found 7 5. Allowed: at most 3 pins: no more stand."
BOWLER = "Maren Tolvane"


@pytest.fixture
def event(own_server: Server) -> str:
    """The bundled event, with nothing bowled."""
    return str(own_server.ask("/demo", {})["event"]["id"])


def open_entry(page: Page, server: Server, event: str) -> None:
    page.goto(f"{server.url}/#/events/{event}/scores")
    page.get_by_role("button", name="Enter a game by counts").click()
    expect(page.get_by_label("Frame 1", exact=True)).to_be_visible()


def test_a_wrong_frame_is_told_while_it_is_typed_and_the_right_game_is_kept(
    visitors: Visitors, own_server: Server, event: str
) -> None:
    page = visitors.laptop().new_page()
    open_entry(page, own_server, event)
    page.get_by_label("Frame 1", exact=True).focus()
    page.keyboard.type("xxx75")
    wrong = page.get_by_label("Frame 4", exact=True)
    expect(wrong).to_have_attribute("aria-invalid", "true")
    expect(wrong).to_have_accessible_description(TOLD)
    expect(page.get_by_role("button", name="Keep game 1")).to_be_disabled()
    expect(page.get_by_label("Frame 5", exact=True)).to_be_focused()

    page.keyboard.press("Backspace")
    page.keyboard.type("2")
    expect(wrong).not_to_have_attribute("aria-invalid", "true")
    page.keyboard.type("8s/f9x7/9-xx8")
    entry = page.get_by_role("form", name="By counts")
    for number, score in enumerate(RULE_BOOK["running_scores"]["value"], start=1):
        told = entry.get_by_role("listitem").nth(number - 1)
        expect(told).to_contain_text(f"Score after frame {number}: {score}")
    expect(page.get_by_label("Frame 5", exact=True)).to_have_value("(8) /")
    page.get_by_role("button", name="Keep game 1").click()
    expect(page.get_by_text("Game 1, 180, entered by counts")).to_be_visible()
    [row] = own_server.ask(f"/events/{event}/scores")["field"]
    assert (row["name"], row["games"]) == (BOWLER, [180])

    page.get_by_role("button", name="Take back game 1").click()
    expect(page.get_by_text("Game 1, 180, entered by counts")).to_have_count(0)
    assert own_server.ask(f"/events/{event}/scores")["field"] == []


def test_a_game_is_tapped_in_on_a_phone(
    visitors: Visitors, own_server: Server, event: str
) -> None:
    page = visitors.phone().new_page()
    open_entry(page, own_server, event)
    keys = page.get_by_role("group", name="Next ball of frame")
    for _ in range(9):
        keys.get_by_role("button", name="9 pins").tap()
        expect(keys.get_by_role("button", name="Strike")).to_be_disabled()
        keys.get_by_role("button", name="Spare").tap()
    expect(page.get_by_text("Highest possible")).to_be_visible()
    for name in ("9 pins", "Spare", "Strike"):
        keys.get_by_role("button", name=name).tap()
    page.get_by_role("button", name="Keep game 1").tap()
    expect(page.get_by_text("Game 1, 191, entered by counts")).to_be_visible()


def test_a_mistake_in_somebody_elses_score_is_corrected(
    visitors: Visitors, own_server: Server, event: str
) -> None:
    pasted = "name\tgame\tscore\tsquad\nOdo Brack\t1\t109\tA\nIna Verrow\t1\t188\tB\n"
    own_server.ask(f"/events/{event}/scores", {"text": pasted})
    page = visitors.laptop().new_page()
    page.goto(f"{own_server.url}/#/events/{event}/scores")
    table = page.get_by_role("region", name="Table of the field")
    expect(table.get_by_role("rowheader").first).to_have_text("Ina Verrow")
    table.get_by_role("button", name="Correct Odo Brack").click()
    page.get_by_label("Game 1, score").fill("190")
    page.get_by_role("button", name="Correct it").click()
    expect(table.get_by_role("rowheader").first).to_have_text("Odo Brack")
    page.get_by_label("Squad", exact=True).select_option("B")
    expect(table.get_by_role("rowheader")).to_have_text(["Ina Verrow"])


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_where_one_stands_among_the_field_is_read_by_everybody(
    visitors: Visitors, own_server: Server, event: str, scheme: Scheme
) -> None:
    own_server.ask(f"/events/{event}/scores", {"text": (DEMO / "scores.csv").read_text("utf-8")})
    for device in (visitors.laptop, visitors.phone):
        page = device(scheme, device_scale_factor=1).new_page()
        page.goto(f"{own_server.url}/#/events/{event}/standing")
        expect(page.get_by_role("heading", name="The cut: 20 of 84 go on")).to_be_visible()
        expect(page.get_by_role("img", name="The line will be about")).to_be_visible()
        expect(page.get_by_role("row").filter(has_text=f"{BOWLER}, you")).to_have_count(1)
        assert breaches(page) == []
        assert sideways_px(page) == 0
