"""What a newer program's page, phone or archive sends: refused plainly, and nothing half kept."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

import pytest

from contracts.frozen_programs import frozen_programs, told_by
from nextpair.application.accounts import home_account
from nextpair.application.archive import archive_of
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.jotting import NEWEST_SCHEMA
from nextpair.files.log_codes import jottings_of_codes
from served import client_of, home_at

API = "/api/v1"
TOLD = told_by(frozen_programs()[0])
EVENT = TOLD["event"]
FIRST, SECOND = (item["jotting"] for item in TOLD["log"][:2])
RECORD = next(one for one in TOLD["archive"]["records"] if one["kind"] == "bowler")


@pytest.fixture
def served():
    """A server that keeps an event, and what it keeps."""
    home = home_at()
    with client_of(home) as client:
        assert client.post(f"{API}/archive", json=TOLD["archive"]).status_code == 200

        def all_of_it() -> Any:
            return archive_of(home.store, home_account(home.store).id)

        yield client, all_of_it


def newer_archive(**changes: Any) -> dict:
    archive = deepcopy(TOLD["archive"])
    for number, record in enumerate(archive["records"]):
        record["id"] = f"0197a6de-0000-7000-8000-{number:012d}"
        record["links"] = []
    return archive | changes


REQUESTS = {
    "a key beside the jottings": ("POST", "/sync", {"jottings": [FIRST], "page": "9.0"}),
    "an archive of another form": ("POST", "/archive", newer_archive(archive=2)),
    "an archive with one more part": ("POST", "/archive", newer_archive(videos=[])),
    "an archive with a newer jotting": (
        "POST", "/archive",
        newer_archive(records=[], jottings=[
            FIRST | {"id": "0197a6de-0000-7000-8000-00000000000f", "kind": "hologram"},
        ]),
    ),
    "a record with one more key": (
        "PUT", f"/records/bowler/{RECORD['id']}",
        {"document": RECORD["document"] | {"grip_strength_n": 300}, "revision": 1},
    ),
    "a file with one more key": (
        "POST", "/import", {"files": {"event.toml": 'name = "Cup"\nhologram = true\n'}},
    ),
    "a job of another kind": ("POST", f"/events/{EVENT}/jobs", {"kind": "hologram"}),
}  # fmt: skip


@pytest.mark.parametrize("case", REQUESTS)
def test_what_is_not_understood_is_refused_plainly_and_changes_nothing(served, case):
    client, all_of_it = served
    before = all_of_it()
    method, path, body = REQUESTS[case]
    answer = client.request(method, API + path, json=body)
    assert 400 <= answer.status_code < 500, answer.text
    problems = answer.json()["problems"]
    assert problems
    for problem in problems:
        assert problem["words"]
        assert "\n" not in problem["words"]
    assert all_of_it() == before


@pytest.mark.parametrize(
    "newer",
    [
        {"kind": "hologram"},
        {"schema_version": NEWEST_SCHEMA + 1},
        {"mood": "fine"},
        {"payload": ["another form"]},
    ],
    ids=lambda newer: next(iter(newer)),
)
def test_one_newer_jotting_is_refused_by_itself_and_says_why(newer):
    with client_of(home_at()) as client:
        body = {"jottings": [FIRST, SECOND | newer]}
        told = client.post(f"{API}/sync", json=body).json()["receipts"]
        assert [one["answer"] for one in told] == ["stored", "refused"]
        assert (told[1]["id"], "\n" in told[1]["why"]) == (SECOND["id"], False)
        assert told[1]["why"]
        again = client.post(f"{API}/sync", json={"jottings": [SECOND]}).json()["receipts"]
        assert again[0]["answer"] == "stored", "a program that knows it takes it under its id"


def test_codes_of_another_form_are_refused_plainly():
    codes = [text.replace("NP1:", "NP2:", 1) for text in TOLD["codes"]]
    with pytest.raises(InvalidValueError, match="a code of a log") as told:
        jottings_of_codes(codes)
    assert "\n" not in str(told.value)
