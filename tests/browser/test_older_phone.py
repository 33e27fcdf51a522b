"""Phones and programs of different ages, in a real browser: nothing written down goes, and what
was turned away goes home by itself."""

from __future__ import annotations

import json
from typing import Any
from uuid import uuid4

import pytest
from playwright.sync_api import Route, expect

from browser.phone_page import PhonePage, opened_phone, pocket_for
from browser.static_host import StaticHost
from browser.tally import check_kept_once
from browser.visitors import NETWORK
from contracts.frozen_programs import frozen_programs, thaw_page, told_by

OLDEST = "before_scores"
SCREENS = (
    "now", "log", "score", "spare", "more", "read", "next", "pack", "diary", "standing", "send",
)  # fmt: skip
AN_OLDER_ONE = "0.0.1"


def test_an_older_page_logs_and_sends_to_the_program_of_today(
    visitors, server, network, pocket, event, tmp_path
):
    thaw_page(OLDEST, tmp_path / "lanes")
    host = StaticHost(tmp_path)
    network.detours["/lanes/"] = host.port
    visitors.foresee(NETWORK)  # its icons were not kept
    phone = PhonePage(visitors.phone(), network.url)
    phone.open_pocket(pocket_for(pocket, event))
    expect(phone.page.get_by_test_id("versions")).to_have_count(0)
    phone.go("Log")
    phone.log_frames(2)
    phone.button("Undo").click()
    phone.log()
    rows = phone.wait_for_rows(6, "sent")
    check_kept_once(server, event, [row["jotting"] for row in rows])
    for screen in SCREENS:
        phone.page.goto(f"{phone.url}#/{screen}")
    phone.page.close()
    host.close()


@pytest.mark.parametrize("name", frozen_programs())
def test_a_pocket_of_an_earlier_program_is_of_use_on_every_screen(
    visitors, server, network, event, name
):
    visitors.foresee(NETWORK)
    before = told_by(name)["pocket"]
    phone = PhonePage(visitors.phone(), network.url)
    phone.open_pocket(pocket_for(before, event))
    phone.go("Log")
    phone.log(10)
    phone.log()
    rows = phone.wait_for_rows(2, "sent")
    for screen in SCREENS:
        phone.page.goto(f"{phone.url}#/{screen}")
        expect(phone.page.locator("main h1, main h2, main .card").first).to_be_visible()
        if screen == "more":
            told = phone.page.get_by_test_id("versions")
            expect(told).to_contain_text(f"with model {before['model_version']}.")
    check_kept_once(server, event, [row["jotting"] for row in rows])


def test_a_file_of_a_newer_program_is_told_as_that(visitors, network, pocket, event):
    visitors.foresee(NETWORK)
    phone = opened_phone(visitors, network, pocket, event)
    phone.log(10)
    phone.page.goto(f"{phone.url}#/send")
    phone.put_in("newer.pocket.json", pocket_for(pocket, uuid4()) | {"pocket": 2})
    expect(phone.page.get_by_text("A newer nextpair made this file.")).to_be_visible()
    assert len(phone.rows()) == 1


def test_what_an_older_program_turned_away_goes_home_by_itself_once_a_newer_one_answers(
    visitors, server, network, pocket, event
):
    """The older one is put between: it knows no shots, and tells another version."""
    phone = opened_phone(visitors, network, pocket, event)
    status = server.ask("/status")
    older = {
        "**/api/v1/sync": _turns_away,
        "**/api/v1/status": lambda route: _answer(route, status | {"version": AN_OLDER_ONE}),
    }
    for place, how in older.items():
        phone.context.route(place, how)
    phone.log(10)
    phone.log()
    phone.wait_for_states(["refused", "refused"])
    phone.page.goto(f"{phone.url}#/send")
    words = phone.page.get_by_role("region", name="Needs a look")
    expect(words).to_contain_text(
        f"The program at home is older than this page (nextpair {AN_OLDER_ONE} there"
    )
    expect(words).to_contain_text("It stays on this phone")
    expect(phone.page.get_by_text("2 entries not taken at home.")).to_be_visible()
    phone.reload()
    phone.page.wait_for_timeout(1000)
    phone.wait_for_states(["refused", "refused"])
    for place in older:
        phone.context.unroute(place)
    phone.page.evaluate("window.dispatchEvent(new Event('online'))")
    rows = phone.wait_for_rows(2, "sent")
    expect(words).to_have_count(0)
    check_kept_once(server, event, [row["jotting"] for row in rows])


def _turns_away(route: Route) -> None:
    sent = route.request.post_data_json["jottings"]
    refused = [
        {"id": one["id"], "answer": "refused", "seq": None, "why": "kind: found str"}
        for one in sent
    ]
    _answer(route, {"app": "nextpair", "receipts": refused})


def _answer(route: Route, told: dict[str, Any]) -> None:
    route.fulfill(
        status=200,
        content_type="application/json",
        headers={"x-nextpair": "1"},
        body=json.dumps(told),
    )
