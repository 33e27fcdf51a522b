"""How quick and how heavy the pages are, and their server: `make figures`, on an idle machine."""

from __future__ import annotations

import gzip
import json
import re
import statistics
import sys
import tempfile
import time
from pathlib import Path
from typing import Any
from uuid import uuid4

from playwright.sync_api import Browser, Page, expect, sync_playwright

from benchmarks.answers import answer_times
from benchmarks.bars import PAGE_BARS, render_rows
from benchmarks.machine import machine
from benchmarks.written import write_figures
from browser.phone_page import PhonePage, pocket_for
from browser.running import Server, run_program
from browser.visitors import CHROMIUM_OPTIONS, LAPTOP, PHONE

TRIES = 30
STOPWATCH = Path(__file__).with_name("stopwatch.js").read_text("utf-8")


def main(target: Path) -> None:
    """Measure, write, and show the table."""
    with tempfile.TemporaryDirectory() as folder:
        server = Server(Path(folder))
        begun_s = time.perf_counter()
        server.start()
        started_s = time.perf_counter() - begun_s
        try:
            figures = measured(server) | {"seen.server_start_s": started_s} | machine()
        finally:
            server.stop()
    write_figures(figures, target)
    print(render_rows(figures, PAGE_BARS))
    print(f"{target}: load average {figures['machine.load_average'][0]} at its end")


def measured(server: Server) -> dict[str, Any]:
    """Every figure of the pages by its name in build/browser-figures.json."""
    event = str(server.ask("/demo", {})["event"]["id"])
    server.finish_job(event, "pocket")
    pocket = server.ask(f"/events/{event}/pocket")["pocket"]
    with sync_playwright() as playing:
        browser = playing.chromium.launch(
            executable_path="/usr/bin/chromium", args=CHROMIUM_OPTIONS
        )
        figures = phone_times(browser, server, pocket) | try_times(browser, server, event)
        browser.close()
    return (
        figures
        | page_weight(server)
        | {"seen.pocket_kb": _zipped_kb(json.dumps(pocket).encode())}
        | answer_times(server, event)
    )


def phone_times(browser: Browser, server: Server, pocket: dict[str, Any]) -> dict[str, float]:
    """From a tap to the shot durably stored and shown; from the first visit to a page kept for
    offline; and a visit offline."""
    context = browser.new_context(**PHONE)
    context.add_init_script(STOPWATCH)
    begun_s = time.perf_counter()
    phone = PhonePage(context, server.url)
    phone.wait_until_kept()
    ready_s = time.perf_counter() - begun_s
    phone.open_pocket(pocket_for(pocket, uuid4()))
    phone.go("Log")
    phone.page.evaluate("stopwatch.untilTold('click', '[data-testid=last-shot]')")
    for shot in range(TRIES):
        phone.main_button.tap()
        phone.wait_for_rows(shot + 1)
    taps_ms = _times(phone.page)
    context.set_offline(True)
    begun_s = time.perf_counter()
    phone.reload()
    expect(phone.sent).not_to_have_text("…")
    offline_s = time.perf_counter() - begun_s
    context.close()
    return {
        **_middle_and_worst("phone.tap_to_kept_ms", taps_ms),
        "seen.first_visit_to_kept_s": ready_s,
        "seen.visit_offline_s": offline_s,
    }


def try_times(browser: Browser, server: Server, event: str) -> dict[str, float]:
    """From a change of the shot to its new picture."""
    context = browser.new_context(**LAPTOP)
    context.add_init_script(STOPWATCH)
    page = context.new_page()
    page.goto(f"{server.url}/#/events/{event}/try")
    dial = page.get_by_role("slider", name="Laydown")
    expect(page.get_by_text("strike, thrown exactly so")).to_be_visible()
    page.evaluate("stopwatch.untilAnswered('input', '/try')")
    for index in range(TRIES):
        dial.press("ArrowRight" if index % 8 < 4 else "ArrowLeft")
        page.wait_for_timeout(400)
    times_ms = _times(page)
    context.close()
    return _middle_and_worst("home.try_to_picture_ms", times_ms)


def page_weight(server: Server) -> dict[str, float]:
    """What the phone fetches to work without a network, compressed; and what it fetches besides to
    stand on the home screen."""
    with tempfile.TemporaryDirectory() as folder:
        run_program("site", "--out", folder, store=server.store)
        page = Path(folder, "lanes")
        sizes_kb = {
            path.relative_to(page).as_posix(): _zipped_kb(path.read_bytes())
            for path in page.rglob("*")
            if path.is_file()
        }
        worker = (page / "sw.js").read_text("utf-8")
    fetched = set(re.findall(r'url:"([^"]+)"', worker)) | {"sw.js"}
    fetched |= {name for name in sizes_kb if name.startswith("workbox-")}
    return {
        "phone.page_kb": sum(sizes_kb[name] for name in fetched),
        "seen.phone_rest_kb": sum(sizes_kb[name] for name in sizes_kb.keys() - fetched),
    }


def _zipped_kb(content: bytes) -> float:
    return len(gzip.compress(content, 9)) / 1000


def _times(page: Page) -> list[float]:
    page.wait_for_timeout(500)
    times_ms: list[float] = page.evaluate("stopwatch.times")
    if len(times_ms) < TRIES:
        raise RuntimeError(f"{len(times_ms)} of {TRIES} were timed")
    return times_ms


def _middle_and_worst(name: str, times_ms: list[float]) -> dict[str, float]:
    return {f"{name}_median": statistics.median(times_ms), f"{name}_worst": max(times_ms)}


if __name__ == "__main__":
    main(Path(sys.argv[1]))
