"""Somebody who never saw the program: from `nextpair serve` with nothing kept to a logged game, on
a phone, by what is on the screen.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import expect

from browser.running import Server
from browser.visitors import NETWORK

COMPUTED_WITHIN_MS = 900_000
NAME = "Samphire Scratch Singles"


@pytest.fixture
def new_server(server: Server, tmp_path) -> Iterator[Server]:
    """A server that keeps nothing yet: the one of all tests, if none came before, which spares
    the others what is computed here."""
    if not server.ask("/records/event")["items"]:
        yield server
        return
    with Server(tmp_path) as own:
        yield own


def test_from_an_empty_store_to_a_logged_game(visitors, new_server):
    visitors.foresee(NETWORK)
    context = visitors.phone()
    page = context.new_page()
    page.goto(new_server.url)
    page.get_by_role("button", name="Open the invented event").click()
    expect(page.get_by_role("heading", name=NAME)).to_be_visible()
    page.get_by_role("button", name="Pack it for the phone").click()
    expect(page.get_by_role("button", name="Cancel")).to_be_visible()
    expect(page.get_by_role("button", name="Download the phone's file")).to_be_visible(
        timeout=COMPUTED_WITHIN_MS
    )
    page.get_by_role("link", name="Open the sheet").click()
    expect(page.get_by_role("slider", name="Game 1, lanes")).to_be_visible()
    expect(page.get_by_text("Take care")).to_be_visible()
    page.go_back()

    with context.expect_page() as opening:
        page.get_by_role("link", name="Open the phone's page here").click()
    phone = opening.value
    phone.get_by_role("link", name="Events on the laptop").click()
    phone.get_by_role("button", name=f"Open {NAME} here").click()
    expect(phone.get_by_text(f"{NAME} is open.")).to_be_visible(timeout=COMPUTED_WITHIN_MS)
    bar = phone.get_by_role("navigation", name="Screens")
    bar.get_by_role("link", name="Now").click()
    expect(phone.get_by_role("heading", name="Practice")).to_be_visible()
    phone.get_by_role("button", name="To game 1").click()
    bar.get_by_role("link", name="Log").click()
    for frame in range(1, 11):
        expect(phone.get_by_text(f"Frame {frame}, ball 1", exact=True)).to_be_visible()
        phone.get_by_role("button", name="Pin 10 stands", exact=True).click()
        phone.get_by_role("button", name="10 stands", exact=True).click()
        expect(phone.get_by_text(f"Frame {frame}, ball 2", exact=True)).to_be_visible()
        phone.get_by_role("button", name="Spare", exact=True).click()
    expect(phone.get_by_text("Frame 10, ball 3", exact=True)).to_be_visible()
    phone.get_by_role("button", name="Strike", exact=True).click()
    expect(phone.get_by_test_id("sent")).to_have_text("all sent")
    bar.get_by_role("link", name="Score").click()
    expect(phone.get_by_role("button", name="Game 1, 191")).to_be_visible()

    page.reload()
    page.get_by_role("link", name="Scores").click()
    expect(page.get_by_role("main")).to_contain_text("191")
