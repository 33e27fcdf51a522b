"""The page at the lanes where there is no server at all: a plain host, a file, codes."""

from __future__ import annotations

import json
from pathlib import Path
from urllib.parse import urlsplit
from uuid import UUID

import pytest
from playwright.sync_api import Page, expect

from browser.phone_page import PhonePage, opened_phone, pocket_for
from browser.pictures import breaches, codes, grey_picture, keep_picture, sideways_px
from browser.proxy import Fault
from browser.running import run_program
from browser.static_host import StaticHost
from browser.tally import check_kept_once
from browser.visitors import NETWORK
from event_folder import change, copy_of_demo
from nextpair.files.log_codes import jottings_of_codes

FOLDER = "club/bowling"
BALLS = ("Candle Stub", "Wet Sailcloth", "Plain Thimble")


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
    context = visitors.phone()
    front = context.new_page()
    front.goto(f"{host.url}/{FOLDER}/")
    assert front.get_by_role("link").first.evaluate("link => link.href").endswith("/lanes/")
    phone = PhonePage(context, f"{host.url}/{FOLDER}")
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


@pytest.fixture(scope="module")
def single_file(tmp_path_factory) -> Path:
    """An event of one game as one file for a browser."""
    folder = tmp_path_factory.mktemp("single")
    event = copy_of_demo(folder)
    change(event, "event.toml", "games = 6", "games = 1")
    head, *balls = (event / "locker.csv").read_text("utf-8").splitlines(keepends=True)
    kept = [ball for ball in balls if ball.startswith(BALLS)]
    (event / "locker.csv").write_text(head + "".join(kept), "utf-8")
    page = folder / "event.html"
    run_program(
        "pocket", str(event / "event.toml"), "--html", str(page), store=folder / "none.sqlite3"
    )
    return page


def test_the_single_file_is_whole_without_scripts(visitors, single_file):
    page = visitors.phone(java_script_enabled=False).new_page()
    page.goto(single_file.as_uri())
    body = page.locator("body")
    for words in ("Samphire Scratch Singles", "13-14", "Candle Stub", "Packing list", "7-10"):
        expect(body).to_contain_text(words)
    expect(page.get_by_text("Log a shot")).to_have_count(0)
    keep_picture(page, "single-without-scripts")


def test_the_single_file_logs_where_scripts_run(visitors, server, single_file):
    """Read from the disk with no network: shots logged, opened again, and the log taken home."""
    context = visitors.phone()
    asked: list[str] = []
    context.on("request", lambda request: asked.append(request.url))
    page = context.new_page()
    page.goto(single_file.as_uri())
    for _ in range(2):
        page.get_by_role("button", name="Pin 10 stands", exact=True).click()
        page.get_by_role("button", name="10 stands", exact=True).click()
        page.get_by_role("button", name="Spare", exact=True).click()
    expect(page.get_by_text("4 entries kept in this browser")).to_be_visible()
    page.reload()
    expect(page.get_by_text("4 entries kept in this browser")).to_be_visible()
    log = saved_log(page)
    assert {urlsplit(url).scheme for url in asked} <= {"file", "data", "blob"}
    event = UUID(log["event"])
    server.ask("/sync", {"jottings": log["jottings"]})
    check_kept_once(server, event, log["jottings"])
    assert breaches(page) == []
    assert sideways_px(page) == 0
    keep_picture(page, "single-with-scripts")
