"""Where the bowler stands over HTTP: by the scores in the log, and what own shots add."""

from __future__ import annotations

import pytest

from event_folder import DEMO
from served import client_of, home_at

API = "/api/v1"
ME = "Maren Tolvane"


@pytest.fixture
def client():
    with client_of(home_at()) as client:
        yield client


@pytest.fixture
def event(client):
    return f"{API}/events/{client.post(f'{API}/demo').json()['event']['id']}"


def test_the_standing_follows_the_scores_that_are_taken_in(client, event):
    before = client.get(f"{event}/standing").json()
    assert (before["games_bowled"], before["condition"]["bowlers"]) == (0, 0)
    text = (DEMO / "scores.csv").read_text("utf-8")
    assert client.post(f"{event}/scores", json={"text": text}).status_code == 200
    told = client.get(f"{event}/standing").json()
    assert (told["bowler"], told["entries"], told["games_bowled"]) == (ME, 84, 4)
    assert told["condition"]["bowlers"] == 56
    assert told["cut"]["to"] == 20
    assert 0 < told["cut"]["chance"] < 1
    own = next(one for one in told["field"] if one["name"] == ME)
    assert own["total"] == sum(own["games"]) == 762
    games = client.get(f"{event}/scores").json()["bowler"]["games"]
    assert [(one["total"], one["source"]) for one in games] == [
        (176, "sheet"), (204, "sheet"), (185, "sheet"), (197, "sheet"),
    ]  # fmt: skip


def test_rows_a_bowler_may_be_pasted(client, event):
    text = f"Name\t1\t2\nBo Farr\t201\t190\n{ME}\t188\t"
    assert client.post(f"{event}/scores", json={"text": text}).status_code == 200
    told = client.get(f"{event}/standing").json()
    assert [one["name"] for one in told["field"]] == ["Bo Farr", ME]


def test_an_event_that_is_not_there_has_no_standing(client):
    gone = f"{API}/events/00000000-0000-4000-8000-000000000000/standing"
    assert client.get(gone).status_code == 404
