"""The packing list and the diary on a phone with no network, and what comes home of them."""

from __future__ import annotations

from playwright.sync_api import expect

from browser.phone_page import opened_phone
from browser.pictures import breaches, sideways_px
from browser.tally import check_kept_once
from browser.visitors import NETWORK

WENT_WELL = "Waited for the lane to come to me."
HALF_WRITTEN = "The left lane"


def test_ticks_what_is_missing_and_the_diary_last_without_a_network(
    visitors, network, server, pocket, event
):
    visitors.foresee(NETWORK)
    phone = opened_phone(visitors, network, pocket, event)
    page = phone.page
    phone.context.set_offline(True)
    phone.reload()
    phone.go("More")
    page.get_by_role("link", name="Packing list").click()
    first, second = (item["item"] for item in pocket["packing"][:2])
    page.get_by_role("checkbox").first.check()
    phone.button(f"{second} was missing").click()
    phone.wait_for_rows(2, "unsent")
    phone.reload()
    expect(page.get_by_role("checkbox").first).to_be_checked()
    expect(page.get_by_text(f"1 of {len(pocket['packing'])}")).to_be_visible()
    expect(phone.button(f"{second} was missing")).to_have_attribute("aria-pressed", "true")
    assert breaches(page) == []
    assert sideways_px(page) == 0

    phone.go("More")
    page.get_by_role("link", name="Diary").click()
    page.get_by_label("What went well?").fill(WENT_WELL)
    phone.button("Write down").first.click()
    page.get_by_label("What did the lanes do").fill(HALF_WRITTEN)
    phone.wait_for_rows(3, "unsent")
    phone.reload()
    expect(page.get_by_text(WENT_WELL)).to_be_visible()
    expect(page.get_by_label("What did the lanes do")).to_have_value(HALF_WRITTEN)
    assert breaches(page) == []
    assert sideways_px(page) == 0

    phone.context.set_offline(False)
    phone.reload()
    rows = [row["jotting"] for row in phone.wait_for_rows(3, "sent")]
    assert [row["payload"] for row in rows] == [
        {"item": first, "done": True},
        {"about": "missing", "text": second},
        {"about": "diary", "prompt": "went_well", "text": WENT_WELL},
    ]
    check_kept_once(server, event, rows)
