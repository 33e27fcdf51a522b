"""Every screen of both pages, light and dark, on a phone and on a laptop: rules of accessible
pages, nothing to scroll sideways, and a picture of each under build/screens for people to look at.
"""

from __future__ import annotations

from itertools import islice
from uuid import UUID

import pytest
from playwright.sync_api import Page, expect

from browser.jotter import Jotter, shots
from browser.phone_page import PhonePage
from browser.pictures import breaches, keep_picture, sideways_px
from browser.screens import paths_at_home, paths_at_the_lanes, wait_until_shown, walk
from browser.visitors import NETWORK

ONE_DOT_A_PIXEL = {"device_scale_factor": 1}
"""Nothing looked for here needs the phone's finer screen, which takes long to draw."""
LAST_BOWLED = "Fieldfare Trophy"
SETTLED_AFTER_MS = 700
"""Many times as long as a film takes to be asked for again."""
WRITTEN = 13
"""Shots of the game that is on: the last one left pins."""
LOOKS = [(device, scheme) for device in ("phone", "laptop") for scheme in ("light", "dark")]


@pytest.fixture(scope="module")
def furnished(server, demo, pocket) -> str:
    """The bundled event with a second game on its log, and with what was read from it."""
    jotter = Jotter(server.url, UUID(demo), seed=31, patience_s=20.0)
    ball = pocket["games"][1]["ball"]
    lanes = pocket["games"][1]["lanes"]
    for payload in islice(shots(2), WRITTEN):
        lane = lanes[payload["lane"] % 2]
        jotter.jot(
            payload
            | {
                "ball": ball,
                "lane": lane["lane"],
                "meant_laydown_board": lane["line"]["laydown_board"],
                "meant_target_board": lane["line"]["target_board"],
                "target_board": lane["line"]["target_board"],
            }
        )
    jotter.send_all()
    server.finish_job(demo, "read")
    return demo


def look_at(page: Page, name: str, found: dict[str, list[str]]) -> None:
    """Keep a picture of the screen, and note what is wrong with it."""
    wait_until_shown(page)
    keep_picture(page, name)
    wrong = breaches(page)
    if sideways_px(page):
        wrong.append(f"scrolls sideways by {sideways_px(page)} px")
    if wrong:
        found[name] = wrong


def file_name(path: str) -> str:
    """A path as the name of a picture."""
    return path.strip("/").replace("/", "-").replace(":", "") or "start"


@pytest.fixture(scope="module")
def bowled(server, furnished) -> str:
    """The last event of the demo season that is over, beside the bundled one."""
    events = server.ask("/demo/season", {})["events"]
    return next(event["id"] for event in events if event["name"] == LAST_BOWLED)


@pytest.mark.parametrize(
    ("which", "device", "scheme"),
    [*(("furnished", *look) for look in LOOKS), ("bowled", *LOOKS[0]), ("bowled", *LOOKS[-1])],
)
def test_every_screen_at_home(visitors, server, furnished, bowled, which, device, scheme):
    visitors.foresee(NETWORK)
    page = getattr(visitors, device)(scheme, **ONE_DOT_A_PIXEL).new_page()
    found: dict[str, list[str]] = {}
    seen = set()
    event = {"furnished": furnished, "bowled": bowled}[which]
    for path in walk(page, f"{server.url}/", f"#/events/{event}"):
        look_at(page, f"home-{which}-{file_name(path)}-{device}-{scheme}", found)
        seen.add(path)
    assert found == {}
    assert paths_at_home() - seen == set()


def test_a_pattern_asks_for_its_film_once_and_not_again(visitors, server):
    page = visitors.laptop().new_page()
    asked: list[str] = []
    page.on(
        "request", lambda request: asked.append(request.url) if "/film" in request.url else None
    )
    page.goto(f"{server.url}/#/patterns/library%3A%20Lee%20Shore%2039")
    expect(page.get_by_role("region", name="Film").get_by_text("39 ft")).to_be_visible()
    wait_until_shown(page)
    page.wait_for_timeout(SETTLED_AFTER_MS)
    asked.clear()
    page.wait_for_timeout(SETTLED_AFTER_MS)
    assert asked == []


def turn_to_game_2(phone: PhonePage) -> None:
    """Go on from practice; game 1 is passed over if another test has filled it."""
    header = phone.page.locator("header")
    phone.button("To game 1").click()
    expect(header).not_to_contain_text("Practice")
    if "Game 1" in header.inner_text():
        phone.button("To game 2").click()
    expect(header).to_contain_text("Game 2")


@pytest.mark.parametrize(("device", "scheme"), LOOKS)
def test_every_screen_at_the_lanes(visitors, server, furnished, pocket, device, scheme):
    visitors.foresee(NETWORK)
    phone = PhonePage(getattr(visitors, device)(scheme, **ONE_DOT_A_PIXEL), server.url)
    found: dict[str, list[str]] = {}
    look_at(phone.page, f"lanes-empty-{device}-{scheme}", found)
    phone.open_pocket(pocket, game="Practice")
    phone.wait_for_rows(len(server.log(UUID(furnished))), "sent")
    phone.go("Now")
    turn_to_game_2(phone)
    seen = set()
    for path in walk(phone.page, phone.url):
        look_at(phone.page, f"lanes-{file_name(path)}-{device}-{scheme}", found)
        seen.add(path)
    assert found == {}
    assert paths_at_the_lanes() - seen == set()
