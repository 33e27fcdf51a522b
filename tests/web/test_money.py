"""An event's money and a season's over HTTP: exact, as kept now, and for the owner alone."""

from __future__ import annotations

import logging

import pytest

from event_folder import DEMO
from nextpair.application.accounts import add_account
from served import ON_THE_NETWORK, PASSWORD, browser_of, client_of, home_at

API = "/api/v1"
ODD_AMOUNT = "4711.13"
"""A fee that turns up nowhere by chance."""


def demo_files(**bowler):
    files = {file.name: file.read_text("utf-8") for file in DEMO.glob("*.*")}
    del files["shots.csv"], files["scores.csv"]
    change = {"event.toml": ("entry_fee = 95.00", f"entry_fee = {ODD_AMOUNT}")}
    for key, value in bowler.items():
        change["bowler.toml"] = ("\n[scatter]", f"{key} = {value}\n\n[scatter]")
    for name, (old, new) in change.items():
        files[name] = files[name].replace(old, new)
    return files


def take_in(client, files):
    record = client.post(f"{API}/import", json={"files": files}).json()["event"]
    return record, f"{API}/events/{record['id']}"


@pytest.fixture
def client():
    with client_of(home_at()) as client:
        yield client


def test_the_money_of_an_event_is_told_with_its_stakes(client):
    _, event = take_in(client, demo_files())
    told = client.get(f"{event}/money").json()
    # 4711.13 + 48.00 + 72.00 + 31.50 + 6 games at 8 + 20 + 3 brackets at 5
    assert told["money"]["cost"] == "4945.63"
    assert [stake["kind"] for stake in told["stakes"]["stakes"]] == [
        "high_game", "high_series", "brackets",
    ]  # fmt: skip
    assert "Laws on gambling" in " ".join(told["stakes"]["cautions"])


def test_scores_of_the_log_move_what_stakes_are_worth(client):
    record, event = take_in(client, demo_files())
    before = client.get(f"{event}/money").json()["stakes"]
    mine = record["document"]["bowler_name"]
    rows = [f"{mine},{game},{pins}" for game, pins in ((1, 279), (2, 268))]
    rows += [f"Somebody {n},{game},190" for n in range(20) for game in (1, 2)]
    text = "\n".join(["name,game,score", *rows])
    assert client.post(f"{event}/scores", json={"text": text}).status_code == 200
    after = client.get(f"{event}/money").json()["stakes"]
    assert (before["games_bowled"], after["games_bowled"]) == (0, 2)
    assert float(after["stakes"][1]["one"]["gain"]) > float(before["stakes"][1]["one"]["gain"])


def test_stakes_appear_nowhere_where_the_bowler_wants_none(client):
    _, event = take_in(client, demo_files(side_pots="false"))
    told = client.get(f"{event}/money")
    assert told.json()["stakes"] is None
    assert "side_pots" not in told.text
    assert "bracket" not in told.text


def test_the_money_is_as_it_is_kept_now(client):
    record, event = take_in(client, demo_files())
    assert client.get(f"{event}/money").json()["money"]["is_over"] is False
    document = record["document"]
    document["money"] |= {"winnings": {"prize": 300.5}, "spent": {"entry_fee": 90}}
    saved = client.put(
        f"{API}/records/event/{record['id']}",
        json={"document": document, "revision": record["revision"]},
    )
    assert saved.status_code == 200
    money = client.get(f"{event}/money").json()["money"]
    assert (money["is_over"], money["won"], money["cost"]) == (True, "300.50", "324.50")
    season = client.get(f"{API}/ledger").json()
    assert season["totals"][0]["over"]["result"] == "-24.00"


def test_no_amount_is_logged_or_given_to_others(client, caplog):
    with caplog.at_level(logging.DEBUG):
        _, event = take_in(client, demo_files(home_currency='"DKK"'))
        assert ODD_AMOUNT in client.get(f"{event}/money").text
        assert client.get(f"{API}/ledger").status_code == 200
        others = client.get(f"{event}/files").text
    for private in (ODD_AMOUNT, "entry_fee", "home_currency", "DKK", "winnings"):
        assert private not in others
    assert ODD_AMOUNT not in caplog.text


def test_nobody_else_sees_a_ledger():
    home = home_at(ON_THE_NETWORK)
    for name in ("Owner", "Other"):
        add_account(home.store, name, PASSWORD, home.hasher)
    with client_of(home) as owner, browser_of(home) as other:
        for client, name in ((owner, "Owner"), (other, "Other")):
            client.post(f"{API}/sign-in", json={"name": name, "password": PASSWORD})
        _, event = take_in(owner, demo_files())
        assert ODD_AMOUNT in owner.get(f"{event}/money").text
        assert other.get(f"{event}/money").status_code == 404
        assert other.get(f"{API}/ledger").json()["events"] == []
