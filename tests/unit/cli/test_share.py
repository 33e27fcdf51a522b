"""Who may read what, on the command line, on a store of its own."""

from __future__ import annotations

import re
from contextlib import closing

import pytest

from contracts.things import account, draft, result
from nextpair.application.accounts import digest_of, home_account
from nextpair.application.clock import now_utc
from nextpair.application.settings import Settings
from nextpair.bootstrap import Program
from nextpair.cli.main import DONE, WRONG_INPUT, exit_code
from nextpair.domain.record import Kind


@pytest.fixture
def data(tmp_path, monkeypatch):
    """A store with a coach, an event that has a sheet, and one that has none."""
    monkeypatch.setenv("NEXTPAIR_DATA_DIR", str(tmp_path))
    with closing(store_in(tmp_path)) as store:
        me = home_account(store).id
        account(store, "Coach Brannock")
        planned, unplanned = draft(Kind.EVENT, "Harbour Open"), draft(Kind.EVENT, "Pier Cup")
        store.save_all(me, [planned, unplanned])
        store.keep_computed(me, result(planned.id))
    return tmp_path


def store_in(data):
    return Program(Settings(data_dir=data)).store()


def told(capsys, *words: str) -> str:
    assert exit_code(["share", *words]) == DONE
    return capsys.readouterr().out


def test_what_is_shared_is_listed_until_it_is_stopped(data, capsys):
    assert told(capsys, "list") == "Nobody else may read anything.\n"
    assert told(capsys, "add", "coach brannock", "Harbour Open") == (
        "Coach Brannock may read Harbour Open.\n"
    )
    told(capsys, "add", "Coach Brannock")
    day = f"{now_utc():%Y-%m-%d}"
    assert told(capsys, "list") == (
        f"Coach Brannock reads Harbour Open, since {day}\n"
        f"Coach Brannock reads all events, since {day}\n"
    )
    told(capsys, "stop", "Coach Brannock")
    assert "all events" not in told(capsys, "list")
    told(capsys, "stop", "Coach Brannock", "Harbour Open")
    assert told(capsys, "list") == "Nobody else may read anything.\n"


def test_a_link_opens_by_the_digest_that_is_kept_until_it_is_ended(data, capsys):
    said = told(capsys, "link", "Harbour Open", "--at", "https://club.example.net", "--days", "3")
    [secret] = re.findall(r"^https://club\.example\.net/guest/(\S{43})$", said, re.MULTILINE)
    with closing(store_in(data)) as store:
        link = store.guest_link(digest_of(secret), now_utc())
        assert link is not None
        assert (link.expires_at - link.made_at).days == 3
    assert "the sheet of Harbour Open" in told(capsys, "list")
    assert told(capsys, "unlink", "Harbour Open").endswith(": 1.\n")
    assert told(capsys, "list") == "Nobody else may read anything.\n"


def test_another_accounts_things_are_shared_by_naming_it(data, capsys):
    told(capsys, "add", "home", "--account", "Coach Brannock")
    assert "home reads all events" in told(capsys, "list", "--account", "Coach Brannock")
    assert told(capsys, "list") == "Nobody else may read anything.\n"


@pytest.mark.parametrize(
    "words",
    [
        ["add", "Nobody"],
        ["add", "home"],
        ["add", "Coach Brannock", "No such event"],
        ["stop", "Coach Brannock"],
        ["stop", "Nobody"],
        ["link", "Pier Cup", "--at", "https://club.example.net"],
        ["link", "Harbour Open", "--at", "club"],
        ["link", "Harbour Open", "--at", "https://club.example.net", "--days", "31"],
        ["unlink", "No such event"],
        ["list", "--account", "Nobody"],
    ],
    ids=" ".join,
)
def test_what_cannot_be_done_is_told_in_one_line(data, capsys, words):
    assert exit_code(["share", *words]) == WRONG_INPUT
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("nextpair: ")
    assert said.err.count("\n") == 1
    assert told(capsys, "list") == "Nobody else may read anything.\n"
