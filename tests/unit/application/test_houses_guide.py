"""The numbers of docs/guide/houses.md are those that the program tells of its example."""

from __future__ import annotations

import re
from uuid import uuid4

import pytest

from nextpair.application.house_book import accept_friction, book_of
from nextpair.application.house_sharing import shared_house, take_in_house
from nextpair.application.store import Account
from nextpair.files import FilePapers, load_shared_house
from nextpair.reports.house_text import render_house_text
from nextpair.store.memory import MemoryStore
from source_tree import DOCS

GUIDE = (DOCS / "guide" / "houses.md").read_text("utf-8")
WORDS = " ".join(GUIDE.split())
EXAMPLE = DOCS / "guide" / "examples" / "tidemark-lanes.toml"
PAPERS = FilePapers()


@pytest.fixture
def kept():
    """A store with the example, its account, and the example's id."""
    store, account = MemoryStore(), Account(uuid4(), "home", None)
    store.add_account(account)
    taken = take_in_house(store, PAPERS, account.id, *load_shared_house(EXAMPLE))
    return store, account.id, taken.record.id


def the_book(kept):
    store, account, id = kept
    return book_of(store, PAPERS, account, id)


def test_the_book_is_told_as_the_guide_shows_it(kept):
    [shown] = re.findall(r"```text\n(.*?)```", GUIDE, re.DOTALL)
    told = render_house_text(the_book(kept), columns=80)
    assert told.startswith(shown)
    assert told.removeprefix(shown).count("first") == 2, "two more visits follow"


def test_its_friction_is_as_the_guide_says(kept):
    friction = the_book(kept).friction
    showed = re.search(
        r"three visits showed \*\*(.*?)\*\*, \*\*(.*?)\*\* and \*\*(.*?)\*\*", WORDS
    )
    assert [f"{said.factor:.2f}" for said in friction.house.said] == list(showed.groups())
    together = re.search(
        r"make it \*\*(.*?)\*\*, which lies from \*\*(.*?)\*\* to \*\*(.*?)\*\*", WORDS
    )
    house, [lane] = friction.house, friction.lanes
    told = (f"{house.factor:.3f}", f"{house.low:.2f}", f"{house.high:.2f}")
    assert together.groups() == told
    assert f"lane {lane.lane} has **{lane.factor:.3f}**" in WORDS


def test_accepting_twice_changes_nothing_as_the_guide_says(kept):
    store, account, _ = kept
    for _ in range(2):
        book = the_book(kept)
        accept_friction(store, PAPERS, account, book.record, book.friction)
    house = the_book(kept).house
    assert (house.friction, house.trait(7).friction) == (1.037, 1.013)
    assert the_book(kept).record.revision == 2


def test_the_example_is_what_sharing_it_writes(kept):
    store, account, id = kept
    shared = shared_house(store, PAPERS, account, id)
    assert PAPERS.shared_house(shared) == load_shared_house(EXAMPLE)
