"""Statistics of an event's games over HTTP."""

from __future__ import annotations

import pytest

from logged_games import logged_game
from nextpair.files.shots_file import shots_text
from served import client_of, home_at

API = "/api/v1"
FRAMES = [["10", ""], [""], [""], ["3-10", "10"], ["7", "7"]] * 2
FRAMES[-1] = ["", "6-10", ""]


@pytest.fixture
def client():
    with client_of(home_at()) as client:
        yield client


@pytest.fixture
def event(client):
    return f"{API}/events/{client.post(f'{API}/demo').json()['event']['id']}"


def log_a_game(client, event) -> None:
    game = logged_game(1, FRAMES, ball="Slate Weir", entry_board=17.5)
    body = {"text": shots_text(tuple(noted.shot for noted in game))}
    taken = client.post(f"{event}/shots", json=body)
    assert taken.status_code == 200, taken.text


def test_nothing_bowled_has_rates_of_nothing(client, event):
    told = client.get(f"{event}/statistics").json()
    assert (told["games"], told["luck"], told["groups"]) == (0, None, [])
    assert told["all"]["strikes"]["share_interval_80"] is None


def test_a_logged_game_has_rates_with_intervals_and_luck(client, event):
    log_a_game(client, event)
    told = client.get(f"{event}/statistics").json()
    assert (told["all"]["pocket"]["made"], told["all"]["pocket"]["tried"]) == (11, 11)
    low, high = told["all"]["carry"]["share_interval_80"]
    assert 0 < low < told["all"]["carry"]["mean_share"] < high < 1
    (game,) = told["luck"]["games"]
    parts = game["line_pins"] + game["carry_pins"] + game["spares_pins"]
    assert parts == pytest.approx(game["score"] - game["expected_score"])


def test_a_game_by_counts_has_rates_and_no_luck(client, event):
    balls = "X, 9 /, 9 -, X, X, (8) 1, 9 /, X, X, X 9 /"
    sent = client.post(f"{event}/games", json={"game": 1, "balls": balls})
    assert sent.status_code in (200, 201), sent.text
    told = client.get(f"{event}/statistics").json()
    assert (told["games"], told["luck"], told["all"]["by_leave"]) == (1, None, [])
    assert told["all"]["strikes"]["made"] == 6


def test_a_server_that_has_just_begun_says_that_luck_comes_later():
    home = home_at()
    with client_of(home) as client:
        home.is_warm = False
        event = f"{API}/events/{client.post(f'{API}/demo').json()['event']['id']}"
        log_a_game(client, event)
        told = client.get(f"{event}/statistics").json()
    assert told["luck"] is None
    assert "look again in a minute" in told["notes"][-1]
