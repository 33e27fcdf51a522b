"""Freeze what a program's phones write and what its server answers, as that program is: for
tests/contracts/test_frozen_programs.py and tests/browser/test_older_phone.py.

    git worktree add --detach /tmp/before COMMIT
    PYTHONPATH=tests python tools/frozen_program.py NAME /tmp/before [--page]

It takes a minute and needs Chromium. Run it before a form changes: of the pocket, of jottings or
their codes, of an archive, a sheet or an answer that the phone reads. It serves that checkout's
program with a store of its own, takes a small event in, has it computed, opens that program's own
page at phone size, logs on it, and keeps what the page sent, saved and showed as codes, and what
the server keeps and answers of it. With `--page` it keeps the page itself too, so that a browser
can be an older phone. Nothing is written over; what is frozen is never edited.
"""

from __future__ import annotations

import io
import json
import os
import shutil
import subprocess
import sys
import tarfile
import tempfile
from pathlib import Path
from typing import Any

from playwright.sync_api import Locator, Page, sync_playwright

from browser.phone_page import PhonePage
from browser.running import Server, run_program
from browser.visitors import CHROMIUM_OPTIONS, PHONE
from contracts.frozen_files import pack, sqlite_words
from contracts.frozen_programs import FROZEN, shape

BALLS = ("name", "Slate Weir", "Dunlin Flock", "Wet Sailcloth", "Plain Thimble")
PAIRS = ("pair", "13-14", "15-16", "17-18")


def main() -> None:
    """Serve, log and write; nothing where this name is frozen already."""
    name, checkout = sys.argv[1], Path(sys.argv[2]).resolve()
    if frozen := sorted(FROZEN.glob(f"{name}.*")):
        sys.exit(f"{frozen[0]} is frozen already")
    os.environ["PYTHONPATH"] = str(checkout / "src")
    os.environ["NUMBA_NUM_THREADS"] = "1"
    commit = subprocess.run(
        ["git", "-C", str(checkout), "describe", "--always"],
        check=True, capture_output=True, text=True,
    ).stdout.strip()  # fmt: skip
    with tempfile.TemporaryDirectory() as folder:
        told = {"commit": commit} | frozen_in(Path(folder), checkout)
        store = sqlite_words(Path(folder) / "nextpair.sqlite3")
    pack(FROZEN / f"{name}.json.xz", json.dumps(told, ensure_ascii=False).encode())
    pack(FROZEN / f"{name}.sqlite.sql.xz", store)
    if "--page" in sys.argv:
        pack(FROZEN / f"{name}.page.tar.xz", archived(checkout / "src/nextpair/web/static/lanes"))


def frozen_in(folder: Path, checkout: Path) -> dict[str, Any]:
    """Everything that is kept of one program."""
    event_folder = small_event(folder / "event", checkout / "src/nextpair/demo")
    with Server(folder) as server:
        files = {file.name: file.read_text("utf-8") for file in event_folder.iterdir()}
        event = server.ask("/import", {"files": files, "event_file": "event.toml"})["event"]["id"]
        for kind in ("sheet", "spares", "pocket"):
            server.finish_job(event, kind)
        phone = logged_on_a_phone(server, event)
        server.finish_job(event, "read")
        told = {
            "event": event,
            "pocket": server.ask(f"/events/{event}/pocket")["pocket"],
            **phone,
            "log": server.log(event),
            "archive": server.ask("/archive"),
            "answers": shapes_of(server, event),
        }
    sheet = run_program(
        "sheet", str(event_folder / "event.toml"), "--json", store=folder / "other.sqlite3"
    )
    return told | {"sheet": json.loads(sheet)}


def small_event(folder: Path, demo: Path) -> Path:
    """The bundled event with two games, four balls and three pairs, without practice."""
    shutil.copytree(demo, folder, ignore=shutil.ignore_patterns("*.py", "__pycache__", "season*"))
    for file in folder.iterdir():
        if file.name not in (
            "event.toml", "house.toml", "pattern.toml", "bowler.toml", "locker.csv", "squad.csv"
        ):  # fmt: skip
            file.unlink()
    told = (folder / "event.toml").read_text("utf-8")
    for before, now in (
        ("games = 6", "games = 2"),
        ("practice_minutes = 12", "practice_minutes = 0"),
        ("ball_limit = 6", "ball_limit = 3"),
    ):
        told = told.replace(before, now)
    (folder / "event.toml").write_text(told, "utf-8")
    for file, begins in (("locker.csv", BALLS), ("squad.csv", PAIRS)):
        lines = (folder / file).read_text("utf-8").splitlines(keepends=True)
        (folder / file).write_text("".join(one for one in lines if one.startswith(begins)))
    return folder


def logged_on_a_phone(server: Server, event: str) -> dict[str, Any]:
    """What that program's page sends, asks for, saves and shows."""
    with sync_playwright() as playing:
        browser = playing.chromium.launch(
            executable_path=shutil.which("chromium"), args=CHROMIUM_OPTIONS
        )
        context = browser.new_context(accept_downloads=True, **PHONE)
        sent: list[Any] = []
        asked: set[str] = set()
        context.on("requestfinished", lambda one: note(one, sent, asked))
        phone = PhonePage(context, server.url)
        phone.open_pocket(server.ask(f"/events/{event}/pocket")["pocket"])
        log_something(phone)
        rows = phone.wait_for_rows(len(phone.rows()), "sent")
        phone.page.goto(f"{phone.url}#/send")
        saved = saved_log(phone.page)
        codes = codes_on(phone.page)
        browser.close()
    return {"rows": rows, "sent": sent, "asked": sorted(asked), "saved": saved, "codes": codes}


def note(request: Any, sent: list[Any], asked: set[str]) -> None:
    """Keep what a page sends, and which answers it wants."""
    _, api, path = request.url.partition("/api/v1")
    if not api:
        return
    asked.add(f"{request.method} {path.partition('?')[0]}")
    if path == "/sync":
        sent.append({"request": request.post_data_json, "answer": request.response().json()})


def log_something(phone: PhonePage) -> None:
    """Three frames, one ball taken back, one corrected, and what else the page writes down."""
    page = phone.page
    phone.go("Log")
    phone.log_frames(2)
    phone.log(7, 10)
    tapped(phone, phone.button("Undo"))
    phone.log(4, 7)
    page.goto(f"{phone.url}#/shot/{phone.rows()[0]['id']}")
    page.get_by_role("button", name="Pin 7 stands", exact=True).click()
    tapped(phone, page.locator(".results button").first)
    page.goto(f"{phone.url}#/pack")
    tapped(phone, page.locator("input[type=checkbox]").first)
    missing = page.get_by_role("button", name="was missing")
    if missing.count():
        tapped(phone, missing.first)
        page.goto(f"{phone.url}#/diary")
        page.locator("textarea").first.fill("Läuft – the lane came back late.")
        tapped(phone, phone.button("Write down").first)


def tapped(phone: PhonePage, button: Locator) -> None:
    """Tap what writes something down, and wait until it is written."""
    before = len(phone.rows())
    button.click()
    while len(phone.rows()) == before:
        phone.page.wait_for_timeout(50)
    phone.page.wait_for_timeout(300)  # a correction writes twice


def saved_log(page: Page) -> Any:
    """The log as the page saves it."""
    with page.expect_download() as download:
        page.get_by_role("button", name="Save as a file").click()
    return json.loads(Path(download.value.path()).read_text("utf-8"))


def codes_on(page: Page) -> list[str]:
    """The texts of the codes that it shows."""
    page.get_by_role("button", name="Show as codes").click()
    texts = []
    while True:
        texts.append(page.get_by_test_id("code").get_attribute("data-text"))
        following = page.get_by_role("button", name="Next", exact=True)
        if following.is_disabled():
            return [text for text in texts if text]
        following.click()


def shapes_of(server: Server, event: str) -> dict[str, Any]:
    """What every answer of the API is made of that is asked for by an event's id or by nothing."""
    told = {}
    for path in server.ask("/openapi.json")["paths"]:
        place = path.replace("{id}", event if "/events/" in path else "{id}")
        place = place.replace("{event}", event).replace("{kind}", "event")
        if "{" in place or place.endswith(
            (".html", ".pdf", ".csv", ".zip", ".png", ".md", ".ics")
        ):
            continue
        try:
            told[path] = shape(server.ask(place))
        except (OSError, ValueError):
            continue  # of another method, or no JSON
    return told


def archived(page: Path) -> bytes:
    """A built page without its icons."""
    content = io.BytesIO()
    with tarfile.open(fileobj=content, mode="w") as files:
        for path in sorted(page.rglob("*")):
            if path.is_file() and path.suffix != ".png":
                files.add(path, str(path.relative_to(page)))
    return content.getvalue()


if __name__ == "__main__":
    main()
