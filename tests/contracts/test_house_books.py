"""A house's book in every store: visits are added, corrected and kept."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from uuid import uuid4

import pytest

from contracts.things import account
from nextpair.application.archive import archive_of, unpack
from nextpair.application.house_book import (
    accept_friction,
    add_visit,
    correct_visit,
    house_friction,
    pages_of,
    take_back_visit,
    visits_of,
)
from nextpair.application.store import NotKeptError, StaleError
from nextpair.domain.house_book import Learned, Visit
from nextpair.domain.record import Draft, Kind
from nextpair.files import FilePapers
from nextpair.store.memory import MemoryStore

PAPERS = FilePapers()
NAME = "Copperfield Lanes"
HOUSE = {"name": NAME, "lanes": 24}
FIRST = Visit(
    uuid4(),
    date(2026, 6, 13),
    pattern="Long Tide 43",
    notes="“dry” by the door",
    lanes=((13, "hooks early"),),
    learned=(Learned("dry_log", 0.0, 0.07, 0.051, 0.031),),
)


@pytest.fixture
def book(store):
    me = account(store)
    house = store.save(me, Draft(uuid4(), Kind.HOUSE, NAME, HOUSE), None)
    add_visit(store, me, house.id, FIRST)
    return store, me, house


def test_a_visit_and_its_corrections_are_kept(book):
    store, me, house = book
    second = replace(FIRST, notes="drier still")
    correct_visit(store, me, house.id, second)
    [page] = pages_of(store.log(me, house.id))
    assert (page.visit, page.earlier) == (second, (FIRST,))
    take_back_visit(store, me, house.id, FIRST.id)
    assert visits_of(store, me, house.id) == ()
    assert len(store.log(me, house.id)) == 3


def test_a_book_is_its_owners_alone(book):
    store, _, house = book
    other = account(store)
    assert visits_of(store, other, house.id) == ()
    with pytest.raises(NotKeptError):
        correct_visit(store, other, house.id, FIRST)


def test_an_archive_takes_the_book_along(book):
    store, me, house = book
    elsewhere = MemoryStore()
    other = account(elsewhere)
    unpack(elsewhere, other, archive_of(store, me))
    assert visits_of(elsewhere, other, house.id) == (FIRST,)


def test_friction_is_accepted_of_the_house_as_it_was_looked_at(book):
    store, me, house = book
    learned = house_friction(PAPERS.house(house.document), [FIRST])
    saved = accept_friction(store, PAPERS, me, house, learned)
    assert saved.document["friction"] == round(learned.house.factor, 3)
    assert store.record(me, house.id).revision == house.revision + 1
    other = house_friction(PAPERS.house(house.document), [replace(FIRST, friction=1.1)])
    with pytest.raises(StaleError):
        accept_friction(store, PAPERS, me, house, other)
