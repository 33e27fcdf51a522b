"""The page at the lanes where there is no server at all: a plain host, a file, codes."""

from __future__ import annotations

import json
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Page, expect

from browser.phone_page import PhonePage, opened_phone, pocket_for
from browser.pictures import codes, grey_picture
from browser.proxy import Fault
from browser.running import run_program
from browser.static_host import StaticHost
from browser.tally import check_kept_once
from browser.visitors import NETWORK
from nextpair.files.log_codes import jottings_of_codes

FOLDER = "club/bowling"


def saved_log(page: Page) -> dict:
    """The log as the page saves it."""
    with page.expect_download() as saving:
        page.get_by_role("button", name="Save as a file").click()
    return json.loads(Path(saving.value.path()).read_text("utf-8"))


def test_sixty_shots_come_home_by_codes_and_again_by_network(
    visitors, server, network, pocket, event
):
    visitors.foresee(NETWORK)
    phone = opened_phone(visitors, network, pocket, event)
    network.spoil(Fault.CUT, "/sync")
    phone.log_frames(10)
    phone.log(10)
    for _ in range(12):
        phone.log()
    phone.log_frames(10)
    phone.log(10)
    for _ in range(6):
        phone.log()
    written = phone.wait_for_rows(60, "unsent")
    phone.sent.click()
    phone.button("Show as codes").click()
    laptop = visitors.laptop()
    texts: list[str] = []
    while True:
        code = phone.page.get_by_test_id("code")
        code.evaluate("node => node.scrollIntoView({block: 'center'})")
        seen = server.ask("/codes", grey_picture(phone.page, laptop))["texts"]
        assert seen == codes(grey_picture(phone.page, laptop))
        assert seen == [code.get_attribute("data-text")]
        texts += seen
        if phone.button("Next").is_disabled():
            break
        phone.button("Next").click()
    jottings = jottings_of_codes([*reversed(texts), *texts])
    for _ in range(2):
        server.ask("/sync", {"jottings": jottings})
    check_kept_once(server, event, [row["jotting"] for row in written])
    network.mend()
    phone.reload()
    rows = phone.wait_for_rows(60, "sent")
    check_kept_once(server, event, [row["jotting"] for row in rows])


def test_the_site_in_a_folder_of_a_plain_host(visitors, server, pocket, event, tmp_path):
    """Event in by file, no network, log out by file, and home."""
    visitors.foresee(NETWORK)
    run_program("site", "--out", str(tmp_path / FOLDER), store=server.store)
    host = StaticHost(tmp_path)
    phone = PhonePage(visitors.phone(), host.url, FOLDER)
    phone.open_pocket(pocket_for(pocket, event))
    phone.wait_until_kept()
    phone.context.set_offline(True)
    host.close()
    phone.reload()
    phone.go("Log")
    phone.log_frames(3)
    phone.reload()
    phone.wait_for_rows(6, "unsent")
    expect(phone.sent).to_have_text("6 entries kept")
    phone.sent.click()
    log = saved_log(phone.page)
    assert log["event"] == str(event)
    for _ in range(2):
        server.ask("/sync", {"jottings": log["jottings"]})
    check_kept_once(server, event, [row["jotting"] for row in phone.rows()])


@pytest.fixture
def single_file(server, demo, tmp_path) -> Path:
    """The event as one file for a browser."""
    run_program("pocket", demo, "--html", str(tmp_path / "event.html"), store=server.store)
    return tmp_path / "event.html"


def test_the_single_file_is_whole_without_scripts(visitors, single_file, pocket):
    page = visitors.phone(java_script_enabled=False).new_page()
    page.goto(single_file.as_uri())
    body = page.locator("body")
    for game in pocket["games"]:
        expect(body).to_contain_text(game["pair"])
        expect(body).to_contain_text(game["ball"])
    expect(body).to_contain_text(pocket["event"]["house"])


def test_the_single_file_logs_where_scripts_run(visitors, server, single_file):
    context = visitors.phone()
    asked: list[str] = []
    context.on("request", lambda request: asked.append(request.url))
    page = context.new_page()
    page.goto(single_file.as_uri())
    assert {urlsplit(url).scheme for url in asked} <= {"file", "data", "blob"}
