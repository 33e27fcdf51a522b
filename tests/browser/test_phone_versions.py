"""Sessions that end and versions that change while shots wait: nothing written down goes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from browser.phone_page import PhonePage, opened_phone, pocket_for
from browser.proxy import Fault, Proxy
from browser.running import Server, run_program
from browser.static_host import StaticHost
from browser.tally import check_kept_once
from browser.visitors import NETWORK

NAME, PASSWORD = "mira", "a long enough secret"
OLD_WORDS, NEW_WORDS = (
    "A newer version of this page is here.",
    "There is a newer version of this page.",
)


@pytest.fixture
def signing_server(tmp_path: Path) -> Iterator[Server]:
    """A server that asks for a password, of a store in which somebody has one."""
    served = Server(tmp_path, "--sign-in")
    run_program(
        "account", "add", NAME, "--password-stdin", store=served.store, told=f"{PASSWORD}\n"
    )
    with served:
        yield served


def sign_in(phone: PhonePage) -> None:
    """Type name and password where the page asks for them."""
    phone.page.get_by_label("Name").fill(NAME)
    phone.page.get_by_label("Password").fill(PASSWORD)
    phone.button("Sign in").click()


def test_a_session_that_ends_keeps_everything_until_somebody_signs_in(
    visitors, signing_server, pocket, event
):
    visitors.foresee(NETWORK)
    network = Proxy(signing_server.port)
    phone = PhonePage(visitors.phone(), network.url)
    phone.open_pocket(pocket_for(pocket, event))
    phone.go("Log")
    phone.log(10)
    expect(phone.sent).to_have_text("Sign in to send")
    phone.sent.click()
    sign_in(phone)
    phone.wait_for_rows(1, "sent")
    phone.context.clear_cookies()
    phone.go("Log")
    phone.log()
    phone.log()
    expect(phone.sent).to_have_text("Sign in to send")
    phone.reload()
    expect(phone.sent).to_have_text("Sign in to send")
    assert [row["sent"] for row in phone.rows()] == ["sent", "unsent", "unsent"]
    phone.sent.click()
    sign_in(phone)
    rows = phone.wait_for_rows(3, "sent")
    signing_server.sign_in(NAME, PASSWORD)
    check_kept_once(signing_server, event, [row["jotting"] for row in rows])
    network.close()


def newer_pages(pages: Path) -> None:
    """Make of the built page a version that says one thing otherwise, under the names that a build
    would give."""
    worker = pages / "sw.js"
    script = next(
        path for path in pages.glob("assets/*.js") if OLD_WORDS in path.read_text("utf-8")
    )
    newer = script.with_name(re.sub(r"-[^-.]+\.js$", "-Newer001.js", script.name))
    newer.write_text(script.read_text("utf-8").replace(OLD_WORDS, NEW_WORDS), "utf-8")
    script.unlink()
    for path in (worker, pages / "index.html"):
        path.write_text(path.read_text("utf-8").replace(script.name, newer.name), "utf-8")
    told = worker.read_text("utf-8")
    changed = re.sub(r'(url:"index\.html",revision:")[0-9a-f]{32}', r"\g<1>" + "0" * 32, told)
    assert changed != told, "the worker names no revision of index.html"
    worker.write_text(changed, "utf-8")


def test_a_new_version_of_the_page_loses_nothing_and_asks_first(
    visitors, server, network, pocket, event, tmp_path
):
    visitors.foresee(NETWORK)
    run_program("site", "--out", str(tmp_path), store=server.store)
    host = StaticHost(tmp_path)
    network.detours["/lanes/"] = host.port
    phone = opened_phone(visitors, network, pocket, event)
    network.spoil(Fault.CUT, "/sync")
    phone.log(10)
    phone.log()
    phone.page.get_by_role("button", name="Pin 7 stands").click()
    newer_pages(tmp_path / "lanes")
    phone.reload()
    offer = phone.button("Change to it")
    expect(phone.page.get_by_text(OLD_WORDS)).to_be_visible()
    assert len(phone.wait_for_rows(2, "unsent")) == 2
    with phone.page.expect_navigation():
        offer.click()
    expect(phone.page.get_by_role("button", name="Pin 7 stands")).to_have_attribute(
        "aria-pressed", "true"
    )
    scripts = phone.page.evaluate("[...document.scripts].map((script) => script.src)")
    assert any("Newer001" in script for script in scripts)
    phone.main_button.click()
    phone.wait_for_rows(3)
    network.mend()
    phone.reload()
    rows = phone.wait_for_rows(3, "sent")
    check_kept_once(server, event, [row["jotting"] for row in rows])
    host.close()
