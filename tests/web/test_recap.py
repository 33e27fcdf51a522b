"""The recap over HTTP: looked at, and taken away in every form."""

from __future__ import annotations

from uuid import UUID

import pytest

from event_folder import DEMO
from nextpair.application.accounts import home_account
from nextpair.application.lessons import decide
from nextpair.domain.debrief import DebriefFinding
from nextpair.domain.lesson import Change, ChangeKind
from served import client_of, home_at

API = "/api/v1"
FORMS = {"md": "text/markdown", "html": "text/html", "png": "image/png"}


@pytest.fixture
def home():
    return home_at()


@pytest.fixture
def client(home):
    with client_of(home) as client:
        yield client


@pytest.fixture
def event(client):
    event = f"{API}/events/{client.post(f'{API}/demo').json()['event']['id']}"
    text = (DEMO / "scores.csv").read_text("utf-8")
    assert client.post(f"{event}/scores", json={"text": text}).status_code == 200
    return event


def test_it_tells_the_scores_in_the_log(client, event):
    told = client.get(f"{event}/recap").json()
    assert (told["total_pins"], told["place"], told["field"]) == (762, 14, 56)
    assert told["markdown"].startswith("# Samphire Scratch Singles")
    assert told["in_short"] in told["markdown"]
    assert told["money"] is None


def test_money_is_told_where_it_is_asked_for(client, event):
    told = client.get(f"{event}/recap?money=true").json()
    assert told["money"]["cost"] == "329.50"
    assert "329.50 EUR" in client.get(f"{event}/recap.html?money=true").text
    assert "329.50" not in client.get(f"{event}/recap.html").text


@pytest.mark.parametrize("form", FORMS)
def test_it_can_be_taken_away(client, event, form):
    answer = client.get(f"{event}/recap.{form}")
    assert answer.status_code == 200
    assert answer.headers["content-type"].startswith(FORMS[form])
    assert answer.headers["content-disposition"] == f'attachment; filename="recap.{form}"'
    assert len(answer.content) > 500


def test_what_was_accepted_is_told_and_what_was_dropped_is_not(client, home, event):
    account, id = home_account(home.store).id, UUID(event.rpartition("/")[2])
    for key, accepted in (("kept", True), ("dropped", False)):
        change = Change(ChangeKind.DRILL, f"Words that were {key}")
        finding = DebriefFinding(key, "found", ("shown",), None, 0.9, change)
        decide(home.store, account, id, finding, accepted)
    assert client.get(f"{event}/recap").json()["learned"] == ["Words that were kept"]


def test_without_a_game_it_says_what_is_missing(client):
    event = f"{API}/events/{client.post(f'{API}/demo').json()['event']['id']}"
    answer = client.get(f"{event}/recap")
    assert answer.status_code == 422
    assert "a game that Maren Tolvane has finished" in answer.json()["problems"][0]["allowed"]
