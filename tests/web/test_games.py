"""Games entered by counts over HTTP: checked frame by frame, kept, corrected."""

from __future__ import annotations

import tomllib
from itertools import count
from uuid import UUID

import pytest

from nextpair.application.journal import standing
from served import client_of, home_at
from source_tree import ROOT

API = "/api/v1"
NAME = "Maren Tolvane"
PUBLISHED = tomllib.loads((ROOT / "tests/reference/data/scoring.toml").read_text("utf-8"))
RULE_BOOK = PUBLISHED["rule_book_game"]
DAYS = count(1)
WRONG = "X, X, X, 7 4, (8)/, F-9, X"


@pytest.fixture(scope="module")
def served():
    home = home_at()
    with client_of(home) as client:
        event = client.post(f"{API}/demo").json()["event"]
        yield home, client, event


@pytest.fixture
def path(served):
    """An event of the test's own: the bundled one under another date."""
    _, client, event = served
    document = event["document"] | {"date": f"2027-01-{next(DAYS):02}"}
    made = client.post(f"{API}/records/event", json={"document": document})
    assert made.status_code == 201, made.text
    return f"{API}/events/{made.json()['id']}"


@pytest.fixture
def client(served):
    return served[1]


def check(client, path, **body):
    answer = client.post(f"{path}/games/check", json=body)
    assert answer.status_code == 200, answer.text
    return answer.json()


def enter(client, path, balls, **facts):
    return client.post(f"{path}/games", json={"game": 1, "balls": balls} | facts)


def row_of(client, path, name=NAME):
    field = client.get(f"{path}/scores").json()["field"]
    return next((row for row in field if row["name"] == name), None)


def test_the_rule_books_game_is_counted_as_it_is_printed(client, path):
    told = check(client, path, balls=RULE_BOOK["game"])
    assert [frame["total"] for frame in told["frames"]] == RULE_BOOK["running_scores"]["value"]
    assert told["total"] == told["max_possible"] == told["min_possible"] == 180
    assert told["problems"] == []
    assert client.get(f"{path}/scores").json()["field"] == []


@pytest.mark.parametrize("game", PUBLISHED["fixed_games"], ids=lambda game: game["game"])
def test_published_games_are_kept_with_their_scores(client, path, game):
    assert enter(client, path, game["game"]).status_code == 200
    assert row_of(client, path)["games"] == [game["score"]]


def test_each_mistake_is_told_at_its_frame(client, path):
    told = check(client, path, balls="X, 5 6, 9/, 9, 4 /, / 3")
    assert [problem["frame"] for problem in told["problems"]] == [2, 4, 6]
    assert "5" in told["problems"][0]["allowed"]
    refused = enter(client, path, WRONG)
    assert refused.status_code == 422
    assert refused.json()["problems"][0]["place"].endswith("frame 4")
    assert row_of(client, path) is None


def test_a_game_under_way_tells_what_it_can_become(client, path):
    told = check(client, path, balls="X, X, 9,")
    assert (told["total"], told["so_far"]) == (None, 29)
    # Nine frames and a spare still to come at best: 29, then a spare with a strike after it,
    # seven strikes with two after each.
    assert told["max_possible"] == 29 + 20 + 20 + 7 * 30
    assert told["min_possible"] == 29 + 19 + 9
    assert told["min_possible"] < told["expected_finish"] < told["max_possible"]
    refused = enter(client, path, "X, X, 9,")
    assert refused.status_code == 422
    assert refused.json()["problems"][0]["place"].endswith("frame 3")


def test_counting_by_the_current_frame_is_the_events_or_as_asked(client, path):
    ten = ", ".join(["9/"] * 10)
    assert check(client, path, balls=ten, counting="current-frame")["total"] == 190
    assert check(client, path, balls=ten)["problems"] == []
    assert check(client, path, balls=ten)["total"] is None


def test_own_games_before_say_what_to_expect(client, path):
    usual = check(client, path, game=2, balls="X,")["expected_finish"]
    enter(client, path, PUBLISHED["fixed_games"][0]["game"])
    assert check(client, path, game=2, balls="X,")["expected_finish"] > usual


def test_a_game_entered_again_stands_in_for_the_first(served, client, path):
    home = served[0]
    pasted = f"name\tgame\tscore\thandicap\tsquad\n{NAME}\t1\t150\t12\tA\n"
    assert client.post(f"{path}/scores", json={"text": pasted}).status_code == 200
    assert enter(client, path, RULE_BOOK["game"]).status_code == 200
    assert row_of(client, path)["total"] == 180 + 12
    assert enter(client, path, ", ".join(["X"] * 9 + ["X X X"]), handicap=8).status_code == 200
    assert row_of(client, path)["total"] == 308
    event = path.rpartition("/")[2]
    [(_, jotting)] = standing(home.store.log(home.owner.id, UUID(event)))
    assert jotting.payload["squad"] == "A"
    void = {
        "id": "01900000-0000-7000-8000-000000000001", "event": event, "device": "home",
        "device_seq": 1, "kind": "void", "payload": {}, "supersedes": str(jotting.id),
        "schema_version": 1, "client_time": "",
    }  # fmt: skip
    client.post(f"{API}/sync", json={"jottings": [void]})
    assert row_of(client, path) is None


def test_somebody_elses_game_is_entered_under_their_name(client, path):
    assert enter(client, path, RULE_BOOK["game"], name=" Odo Brack ").status_code == 200
    assert row_of(client, path, "Odo Brack")["games"] == [180]


@pytest.mark.parametrize(
    ("change", "place"),
    [({"game": 0}, "game"), ({"game": 999}, "game"), ({"balls": 3}, "balls"),
     ({"handicap": -1}, "handicap"), ({"handicap": True}, "handicap")],
)  # fmt: skip
def test_what_is_no_game_is_refused(client, path, change, place):
    refused = client.post(f"{path}/games", json={"game": 1, "balls": "X"} | change)
    assert refused.status_code == 422
    assert refused.json()["problems"][0]["place"] == place
