"""What is made to keep a reader busy, to fill its memory, or never to come out again."""

from __future__ import annotations

import gzip
import importlib
import json
import pkgutil
import re
import signal
from contextlib import contextmanager
from itertools import product
from pathlib import PurePosixPath
from uuid import uuid4

import pytest

import nextpair
from nextpair.application.nesting import DEEPEST, is_shallow
from nextpair.domain.errors import InputRefusedError
from nextpair.files.fields import LONGEST_TEXT
from nextpair.files.folder import Memory
from nextpair.files.intake import MOST_PROBLEMS, Intake, Source
from nextpair.files.locker_file import COLUMNS, read_locker
from nextpair.files.pasted import pasted_balls, pasted_scores, pasted_squad
from served import client_of, home_at

API = "/api/v1"
HANGS_AFTER_S = 20
"""A linear reader takes hundredths of a second for what follows."""
LONG = 60_000
PIECES = ("1", "1.", " ", "\t", "a", "-", "'", '"', "(1)", "X", "1,", "\\", "`", ";", "=", "\n")
COMPILING = ("nextpair.kernel", "nextpair.physics", "nextpair.carry", "nextpair.cli")
JSON = {"Content-Type": "application/json"}


@contextmanager
def soon():
    """Fail what hangs, also where what hung takes the failure for one of a file: the pattern
    matcher looks for signals on its way, and a file that is waited for does."""
    late = TimeoutError(f"still busy after {HANGS_AFTER_S} s")
    was_late = []

    def stop(*_):
        was_late.append(True)
        raise late

    before = signal.signal(signal.SIGALRM, stop)
    signal.alarm(HANGS_AFTER_S)
    try:
        yield
        if was_late:
            raise late
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def patterns():
    """Every pattern that a module of the program keeps."""
    found = {}
    for module in pkgutil.walk_packages(nextpair.__path__, "nextpair."):
        if not module.name.startswith(COMPILING) and "migrations" not in module.name:
            for name, value in vars(importlib.import_module(module.name)).items():
                if isinstance(value, re.Pattern) and isinstance(value.pattern, str):
                    found[value.pattern] = f"{module.name}.{name}"
    return sorted((name, pattern) for pattern, name in found.items())


def test_there_are_patterns_to_look_at():
    names = {name for name, _ in patterns()}
    assert len(names) > 15
    assert "nextpair.files.fields._CSV_NUMBER" in names


def test_no_pattern_is_kept_busy_by_a_long_text():
    for (name, pattern), piece in product(patterns(), PIECES):
        matcher, text = re.compile(pattern), piece * (LONG // len(piece)) + "\0"
        try:
            with soon():
                matcher.fullmatch(text)
                matcher.match(text)
        except TimeoutError as late:
            raise AssertionError(f"{name} on {piece!r}") from late


@pytest.mark.parametrize("read", [pasted_balls, pasted_squad, pasted_scores])
def test_a_cell_of_digits_without_end_is_refused_at_once(read):
    digits = "1" * 100_000
    with soon():
        rows, problems = read(f"Ada,{digits}x,{digits}x\n13-14,Ada,right,one-handed,{digits}x")
    assert (rows, len(problems) > 0) == ((), True)
    assert all(len(problem.found) < LONGEST_TEXT for problem in problems)


def test_of_a_file_that_is_wrong_throughout_no_more_is_told_than_anybody_reads():
    row = "Kestrel,heavy" + "," * (len(COLUMNS) - 2)
    text = ",".join(COLUMNS) + f"\n{row}" * 100_000
    folder = Memory(texts={"locker.csv": text})
    with soon(), pytest.raises(InputRefusedError) as refused:
        read_locker(Source.first(PurePosixPath("locker.csv"), folder), Intake())
    assert 1 <= len(refused.value.problems) <= MOST_PROBLEMS


def nested(levels, kind):
    return "[" * levels + "]" * levels if kind is list else '{"a":' * levels + "1" + "}" * levels


@pytest.mark.parametrize("kind", [list, dict])
def test_levels_are_counted(kind):
    assert is_shallow(json.loads(nested(DEEPEST, kind)))
    assert not is_shallow(json.loads(nested(DEEPEST + 1, kind)))


@pytest.fixture(scope="module")
def client():
    with client_of(home_at()) as client:
        yield client


DEEP = "DEEP"
TAKEN_IN = {
    "/records/house": {"document": {"name": "Copperfield Lanes", "lanes": 12, "notes": DEEP}},
    "/records/house/check": {
        "document": {"name": "Copperfield Lanes", "lanes": 12, "notes": DEEP}
    },
    "/patterns/film": {"document": {"name": "Long Tide", "pass": DEEP}},
    "/houses/00000000-0000-4000-8000-000000000001/visits": {"visit": {"date": DEEP}},
    "/archive": {"app": "nextpair", "archive": 1, "records": [DEEP], "jottings": [DEEP]},
    "/import": {"files": {"event.toml": "a = LIST"}},
    "/houses/shared": {"text": "a = LIST"},
}


@pytest.mark.parametrize("kind", [list, dict])
@pytest.mark.parametrize("levels", [60, 300, 470, 900, 5000])
@pytest.mark.parametrize("path", TAKEN_IN)
def test_what_lies_too_deep_is_refused(client, path, levels, kind):
    body = json.dumps(TAKEN_IN[path]).replace('"DEEP"', nested(levels, kind))
    body = body.replace("LIST", nested(levels, list))
    answer = client.post(API + path, content=body, headers=JSON)
    assert answer.status_code in (400, 422), answer.text[:200]


@pytest.mark.parametrize("levels", [60, 300, 470])
def test_no_jotting_is_taken_in_that_could_not_be_given_out(client, levels):
    event = str(uuid4())
    note = {"id": str(uuid4()), "event": event, "device": "phone", "device_seq": 1, "kind": "note",
            "payload": {"about": "house", "text": DEEP}}  # fmt: skip
    good = note | {"id": str(uuid4()), "device_seq": 2, "payload": {"about": "house", "text": ""}}
    body = json.dumps({"jottings": [note, good]}).replace('"DEEP"', nested(levels, dict))
    sent = client.post(f"{API}/sync", content=body, headers=JSON)
    assert [one["answer"] for one in sent.json()["receipts"]] == ["refused", "stored"]
    told = client.get(f"{API}/events/{event}/log")
    assert [one["jotting"]["id"] for one in told.json()["items"]] == [good["id"]]
    assert client.get(f"{API}/archive").status_code == 200


@pytest.mark.parametrize("number", ["9" * 4000, "9" * 1_000_000, "1e999", "NaN", "-Infinity"])
def test_a_number_that_none_is_is_refused(client, number):
    body = f'{{"document": {{"name": "Copperfield Lanes", "lanes": {number}}}}}'
    assert client.post(f"{API}/records/house", content=body, headers=JSON).status_code in (
        400,
        422,
    )


def test_no_body_is_unpacked():
    """Nothing inflates what is sent, so that a small body stays a small one."""
    with client_of(home_at()) as client:
        bomb = gzip.compress(b" " * 3_000_000 + b'{"document": {"name": "Lanes", "lanes": 12}}')
        for encoding in ("gzip", "deflate", "br"):
            headers = JSON | {"Content-Encoding": encoding}
            sent = client.post(f"{API}/records/house", content=bomb, headers=headers)
            assert sent.status_code == 400
        assert client.get(f"{API}/records/house").json()["items"] == []


PLACES = (
    "..%2f..%2fapp.py", "%2e%2e/%2e%2e/app.py", "..%5c..%5capp.py", "/etc/passwd", "%00",
    "....//....//app.py", "..;/..;/app.py", "%ff%fe", "assets/../../../app.py", "a" * 5000,
)  # fmt: skip


@pytest.mark.parametrize("page", ["/", "/lanes/"])
@pytest.mark.parametrize("place", PLACES)
def test_no_page_lies_outside_the_built_ones(client, page, place):
    answer = client.get(page + place)
    assert answer.status_code == 404
    assert "nextpair" not in answer.text
    assert "root:" not in answer.text


@pytest.mark.parametrize(
    "name", ["../../pyproject", "/etc/passwd", "..", "library: ../x", "library: /etc/passwd", "\0"]
)
def test_no_pattern_of_the_library_lies_elsewhere(client, name):
    told = name if name.startswith("library:") else f"library: {name}"
    answer = client.post(f"{API}/patterns/film", json={"name": told})
    assert answer.status_code == 422
    assert "[[pass]]" not in answer.text


@pytest.mark.parametrize("place", ["/etc/passwd", "../../../../etc/passwd", "file:///etc/passwd"])
def test_an_event_that_is_brought_in_names_no_file_of_this_computer(client, place):
    """Its neighbours are among the files that came with it, whatever it calls them."""
    event = (
        'name = "Open"\ndate = 2026-06-13\ngames = 3\nbowler_name = "Ada"\nbowler = "b.toml"\n'
        f'locker = "l.csv"\nsquad = "s.csv"\npattern = "p.toml"\nhouse = "{place}"\n'
    )
    answer = client.post(f"{API}/import", json={"files": {"event.toml": event}})
    assert answer.status_code == 422
    assert "no such file" in answer.text
    assert "root:" not in answer.text
