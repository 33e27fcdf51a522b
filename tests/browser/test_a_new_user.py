"""Somebody who never saw the program: from `nextpair serve` to a logged game, by what is on the
screen of a phone.
"""

from __future__ import annotations

from playwright.sync_api import expect

from browser.visitors import NETWORK

COMPUTED_WITHIN_MS = 900_000


def test_from_an_empty_store_to_a_logged_game(visitors, own_server):
    visitors.foresee(NETWORK)
    context = visitors.phone()
    page = context.new_page()
    page.goto(own_server.url)
    page.get_by_role("button", name="Open the invented event").click()
    page.get_by_role("link", name="Sheet", exact=True).first.click()
    page.get_by_role("button", name="Make the sheet").click()
    expect(page.get_by_role("heading", name="Game 1").first).to_be_visible(
        timeout=COMPUTED_WITHIN_MS
    )
