"""What comes with the program, over HTTP."""

from __future__ import annotations

import pytest

from served import client_of, home_at

SEASON = "/api/v1/demo/season"


@pytest.fixture
def client():
    with client_of(home_at()) as client:
        yield client


def test_the_season_is_taken_in_once_and_put_away(client):
    assert client.get(SEASON).json() == {"events": []}
    first, second = (client.post(SEASON) for _ in range(2))
    assert first.status_code == second.status_code == 201
    assert first.json() == second.json() == client.get(SEASON).json()
    dates = [event["document"]["date"] for event in first.json()["events"]]
    assert dates == sorted(dates)
    assert len(dates) == 10
    assert client.delete(SEASON).json() == {"events": []}
    assert client.get("/api/v1/records/event").json()["items"] == []
