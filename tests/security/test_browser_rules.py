"""What every kind of answer tells a browser, and what another site's page gets from here."""

from __future__ import annotations

import asyncio
import base64
import hashlib
import inspect
import re
from contextlib import ExitStack

import pytest

from nextpair.cli.serve import serve
from nextpair.reports.pocket_html import render_pocket_html
from nextpair.reports.recap_html import render_recap_html
from nextpair.reports.site_html import render_site_index
from nextpair.web.access import Gate
from nextpair.web.address import Address
from nextpair.web.server import listen
from served import AT_HOME, browser_of, client_of, home_at
from unit.reports.pocket_factory import a_pocket
from unit.reports.recap_factory import a_recap
from web.test_server import free_port
from web.test_sharing import Team

API = "/api/v1"
LOADS_NOTHING = {"default-src": ["'none'"], "base-uri": ["'none'"], "form-action": ["'none'"]}
META = re.compile(r'<meta http-equiv="Content-Security-Policy" content="([^"]+)">')


def rules_of(policy):
    """A content security policy by its directives (W3C CSP Level 3, section 2.2.1)."""
    parts = (one.split() for one in policy.split(";") if one.strip())
    return {name: sources for name, *sources in parts}


@pytest.fixture(scope="module")
def team():
    with ExitStack() as stack:
        team = Team(stack)
        team.share()
        yield team


def answers_of_every_kind(team):
    event, link = team.event, team.link()["url"]
    sheet = team.athlete.get(f"{API}/events/{event}/sheet").json()["id"]
    ours = {
        "page at home": "/",
        "page of the phone": "/lanes/",
        "file of a page": "/lanes/manifest.webmanifest",
        "nothing": "/nothing",
        "nothing of the API": f"{API}/nothing",
        "status": f"{API}/status",
        "records": f"{API}/records/house",
        "refusal": f"{API}/events/{event}/log?after=x",
        "schema": f"{API}/openapi.json",
        "used link": "/used-link",
        "link": "/open/nothing",
        "trust": "/trust",
        "authority": "/ca.crt",
        "sheet as page": f"{API}/sheets/{sheet}.html",
        "sheet as PDF": f"{API}/sheets/{sheet}.pdf",
        "recap as page": f"{API}/events/{event}/recap.html",
        "recap as picture": f"{API}/events/{event}/recap.png",
        "folder": f"{API}/events/{event}/folder.zip",
        "shots": f"{API}/events/{event}/shots.csv",
        "calendar": f"{API}/season.ics",
        "archive": f"{API}/archive",
        "guest's page": link,
        "guest's wrong link": "/guest/nothing",
    }
    told = {kind: team.athlete.get(path, follow_redirects=False) for kind, path in ours.items()}
    told["sheet for the coach"] = team.coach.get(f"{team.path}/sheet.html")
    return told


def test_every_kind_of_answer_says_what_a_browser_may_load(team):
    told = answers_of_every_kind(team)
    assert {kind for kind, one in told.items() if one.status_code == 500} == set()
    assert told["guest's page"].status_code == told["sheet as page"].status_code == 200
    for kind, answer in told.items():
        headers = answer.headers
        rules = rules_of(headers["Content-Security-Policy"])
        assert rules["frame-ancestors"] == ["'none'"], kind
        assert "base-uri" in rules, kind
        assert "form-action" in rules, kind
        assert "'unsafe-inline'" not in rules.get("script-src", rules["default-src"]), kind
        assert "'unsafe-eval'" not in str(rules), kind
        assert headers["X-Frame-Options"] == "DENY", kind
        assert headers["X-Content-Type-Options"] == "nosniff", kind
        assert headers["Referrer-Policy"] == "no-referrer", kind
        assert headers["Cross-Origin-Resource-Policy"] == "same-origin", kind
        assert headers["Strict-Transport-Security"].startswith("max-age="), kind
        assert "Access-Control-Allow-Origin" not in headers, kind


def test_a_page_of_somebodys_words_runs_nothing_and_sends_nothing(team):
    told = answers_of_every_kind(team)
    for kind in ("sheet as page", "guest's page", "sheet for the coach"):
        rules = rules_of(told[kind].headers["Content-Security-Policy"])
        assert {name: rules.get(name) for name in LOADS_NOTHING} == LOADS_NOTHING, kind
        assert "script-src" not in rules, kind


def test_what_is_somebodys_alone_is_kept_by_no_cache(team):
    told = answers_of_every_kind(team)
    for kind in ("records", "sheet as page", "archive", "guest's page", "shots", "calendar"):
        assert told[kind].headers["Cache-Control"] == "no-store", kind


@pytest.mark.parametrize(
    "page",
    [
        render_recap_html(a_recap()),
        render_site_index(),
    ],
    ids=["recap", "folder of the phone's page"],
)
def test_a_page_that_is_passed_on_carries_its_rules_itself(page):
    rules = rules_of(META.search(page)[1])
    assert {name: rules.get(name) for name in LOADS_NOTHING} == LOADS_NOTHING
    assert "script-src" not in rules


def test_a_pocket_runs_its_own_script_and_no_other():
    page = render_pocket_html(a_pocket(), "let ours = 1;")
    rules = rules_of(META.search(page)[1])
    [script] = re.findall(r"<script>(.*?)</script>", page, re.DOTALL)
    # CSP Level 3, section 2.3.1: the base64 of the SHA-256 of the script's text.
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    assert rules["script-src"] == [f"'sha256-{digest}'"]
    assert {name: rules.get(name) for name in LOADS_NOTHING} == LOADS_NOTHING


LOADED = [
    {"Sec-Fetch-Mode": "no-cors", "Sec-Fetch-Dest": "image"},
    {"Sec-Fetch-Mode": "cors", "Sec-Fetch-Dest": "empty"},
    {"Sec-Fetch-Mode": "no-cors", "Sec-Fetch-Dest": "script"},
    {"Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "iframe"},
    {"Sec-Fetch-Mode": "websocket", "Sec-Fetch-Dest": "websocket"},
]
GONE_TO = {"Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "document"}


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
@pytest.mark.parametrize("how", LOADED, ids=lambda how: how["Sec-Fetch-Dest"])
@pytest.mark.parametrize("path", [f"{API}/status", f"{API}/backup", "/"])
def test_another_sites_page_loads_nothing_from_here(site, how, path):
    with browser_of(home_at()) as browser:
        refused = browser.get(path, headers=how | {"Sec-Fetch-Site": site})
    assert refused.status_code == 403
    assert refused.json()["problems"][0]["place"] == "Sec-Fetch-Site"


def test_somebody_may_follow_a_link_to_a_page_and_our_pages_load_what_they_need():
    with client_of(home_at()) as client:
        assert (
            client.get("/", headers=GONE_TO | {"Sec-Fetch-Site": "cross-site"}).status_code == 200
        )
        for how in (*LOADED[:3], GONE_TO):
            for site in ("same-origin", "none"):
                answer = client.get(f"{API}/status", headers=how | {"Sec-Fetch-Site": site})
                assert answer.status_code == 200


@pytest.mark.parametrize(
    "host",
    [
        "rebound.example:8707",
        "0.0.0.0:8707",
        "localhost.rebound.example",
        "127.0.0.1.rebound.example",
        "localhost@rebound.example",
        "[::1].rebound.example",
        "127.0.0.1:8707, rebound.example",
        "xn--lcalhost-6ua",
        "192.168.1.4",
    ],
)
def test_a_name_that_was_pointed_here_is_not_answered(host):
    with browser_of(home_at()) as browser:
        for path in ("/", "/lanes/", f"{API}/status", "/open/nothing", "/guest/nothing"):
            assert browser.get(path, headers={"Host": host}).status_code == 403


@pytest.mark.parametrize("host", ["[::1].rebound.example", "[::1]x", "[fe80::1"])
def test_a_number_in_brackets_is_the_whole_name(host):
    assert not AT_HOME.answers_to(host)


def test_nothing_speaks_over_web_sockets():
    sent = []

    async def send(message):
        sent.append(message)

    async def app(*_arguments):
        raise AssertionError("it came through the gate")

    scope = {"type": "websocket", "path": "/", "headers": [(b"host", b"localhost")]}
    asyncio.run(Gate(app, AT_HOME)(scope, None, send))
    assert [one["type"] for one in sent] == ["websocket.close"]


def test_by_default_only_this_computer_can_connect():
    defaults = inspect.signature(serve).parameters
    assert defaults["host"].default == "127.0.0.1"
    with listen(Address(port=free_port())) as listening:
        assert listening.getsockname()[0] == "127.0.0.1"
