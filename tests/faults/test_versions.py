"""Phones and servers of different versions: what is not understood is told, nothing is lost."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from pathlib import Path
from uuid import uuid4

import pytest

from browser.running import free_port
from contracts.things import shot
from faults.commands import command
from faults.doings import STORE
from faults.serving import served
from nextpair.application.sync import sent_form
from nextpair.domain.jotting import NEWEST_SCHEMA
from nextpair.store.schema import VERSION_TABLE

FIRST_PHONE = json.loads(
    (Path(__file__).parent / "jottings_of_version_1_snapshot.json").read_text("utf-8")
)
"""One of each kind, as the first phones wrote them: a server reads them for ever."""


@pytest.fixture(scope="module")
def server(season, tmp_path_factory):
    place = tmp_path_factory.mktemp("versions")
    (place / STORE).write_bytes(season.read_bytes())
    with served(place) as running:
        yield running


def receipts(server, jottings: list) -> list[dict]:
    told = server.ask("/sync", {"jottings": jottings})
    assert told["app"] == "nextpair"
    return list(told["receipts"])


def test_what_the_first_phones_wrote_is_taken_in_as_it_is(server):
    assert {one["answer"] for one in receipts(server, FIRST_PHONE)} == {"stored"}
    event = FIRST_PHONE[0]["event"]
    assert [item["jotting"] for item in server.log(event)] == FIRST_PHONE
    assert {one["answer"] for one in receipts(server, FIRST_PHONE)} == {"duplicate"}


@pytest.mark.parametrize(
    "newer",
    [
        {"schema_version": NEWEST_SCHEMA + 1},
        {"kind": "hologram"},
        {"mood": "fine"},
        {"payload": ["another form"]},
    ],
    ids=lambda newer: next(iter(newer)),
)
def test_what_a_newer_phone_writes_is_refused_by_itself_and_the_rest_is_kept(server, newer):
    event = uuid4()
    old, new = (sent_form(shot(event, number)) for number in (1, 2))
    told = receipts(server, [old, new | newer, old])
    assert [one["answer"] for one in told] == ["stored", "refused", "duplicate"]
    assert told[1]["id"] == new["id"], "the phone knows which one to keep"
    assert "found" in told[1]["why"]
    assert [item["jotting"]["id"] for item in server.log(event)] == [old["id"]]


def test_what_was_refused_is_taken_once_the_server_knows_it(server):
    """The phone keeps it, and sends it again under its id."""
    event = uuid4()
    jotting = sent_form(shot(event))
    assert receipts(server, [jotting | {"kind": "hologram"}])[0]["answer"] == "refused"
    assert receipts(server, [jotting])[0]["answer"] == "stored"


def test_a_newer_payload_with_more_in_it_is_kept_whole(server):
    event = uuid4()
    one = shot(event)
    jotting = sent_form(one) | {"payload": {**one.payload, "ball_temperature_c": 21.5}}
    assert receipts(server, [jotting])[0]["answer"] == "stored"
    assert server.log(event)[0]["jotting"] == jotting


def test_an_older_phone_is_answered_in_the_form_that_it_knows(server):
    """The form of docs/adr/0018: `app`, a receipt each; then items, and what to ask after."""
    event = uuid4()
    old = {key: value for key, value in sent_form(shot(event)).items() if key != "schema_version"}
    (receipt,) = receipts(server, [old])
    assert {"id", "answer", "seq", "why"} <= set(receipt)
    told = server.ask(f"/events/{event}/log?after=0")
    assert {"app", "items", "next"} <= set(told)
    assert told["items"][0]["jotting"]["schema_version"] == 1


def test_a_store_of_a_newer_program_is_refused_and_left_as_it_is(folder):
    with closing(sqlite3.connect(folder / STORE)) as connection, connection:
        connection.execute(f"UPDATE {VERSION_TABLE} SET version_num = '9999'")
    before = (folder / STORE).read_bytes()
    for words in (["archive", "all.json"], ["serve", "--port", str(free_port())]):
        told = command(folder, *words)
        assert (told.returncode, told.stderr.count("\n")) == (2, 1)
        assert "newer" in told.stderr
    assert (folder / STORE).read_bytes() == before
