"""What is wrong with a request, in the program's words and not in a library's."""

from __future__ import annotations

import pytest

from nextpair.web.app import API
from served import client_of, home_at

NOBODY = "00000000-0000-4000-8000-000000000000"


@pytest.fixture
def client():
    with client_of(home_at()) as client:
        yield client


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("houses?lanes=many", "lanes: found 'many', allowed: a whole number"),
        ("houses?lanes=-1", "lanes: found '-1', allowed: 0 or more"),
        ("houses?lanes=201", "lanes: found '201', allowed: 200 or less"),
        ("houses?surface=ice", "surface: found 'ice', allowed: wood, overlay or synthetic"),
        ("records/house?deleted=perhaps", "deleted: found 'perhaps', allowed: true or false"),
        ("records/hose", "kind: found 'hose', allowed: "),
        (f"events/{NOBODY}/log?after=1.5", "after: found '1.5', allowed: a whole number"),
        ("events/mine/log", "id: found 'mine', allowed: an id: 32 hexadecimal digits"),
        (
            "houses?text=" + "x" * 300,
            "text: found '" + "x" * 58 + "…, allowed: at most 200 characters",
        ),
    ],
)
def test_a_query_is_refused_in_plain_words(client, path, words):
    told = client.get(f"{API}/{path}")
    assert told.status_code == 422
    (problem,) = told.json()["problems"]
    assert problem["words"].startswith(words)
    assert len(problem["words"].splitlines()) == 1


def test_what_a_body_says_is_never_repeated(client):
    told = client.post(f"{API}/sign-in", json={"name": ["secret"], "password": 7, "extra": "seen"})
    assert told.status_code == 422
    assert "secret" not in told.text
    assert "seen" not in told.text
    assert "Input should" not in told.text
