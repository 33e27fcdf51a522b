"""Houses looked for by words, by what they are, and by what was met there."""

from __future__ import annotations

from datetime import date
from uuid import uuid4

import pytest

from nextpair.application.house_book import add_visit
from nextpair.application.house_search import Wanted, chosen, find_house, houses_found
from nextpair.application.keeping import add_record
from nextpair.application.store import Account
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.house import Approach, LaneSurface, Pinfall
from nextpair.domain.house_book import Visit
from nextpair.domain.record import Kind
from nextpair.files import FilePapers
from nextpair.store.memory import MemoryStore

PAPERS = FilePapers()
COPPERFIELD = {
    "name": "Copperfield Lanes",
    "lanes": 24,
    "surface": "synthetic",
    "approach": "tacky",
    "notes": ["right gutter caps low on 7-8"],
    "private_notes": ["the back room has a spinner"],
    "lane": [{"number": 13, "notes": ["hooks early past 40 ft"]}],
}
QUAY = {
    "name": "Quay Street Bowl",
    "lanes": 12,
    "surface": "wood",
    "approach": "slick",
    "pinfall": "string",
    "ceiling": "low over 1-4",
}


@pytest.fixture
def kept():
    store, account = MemoryStore(), Account(uuid4(), "home", None)
    store.add_account(account)
    first, _ = add_record(store, PAPERS, account.id, Kind.HOUSE, COPPERFIELD)
    add_record(store, PAPERS, account.id, Kind.HOUSE, QUAY)
    for day, pattern, games, pins in ((2, "Long Tide 43", 6, 1200), (9, "Long Tide 43", 4, 860)):
        visit = Visit(
            uuid4(), date(2026, 5, day), pattern=pattern, games=games, pins=pins, notes="Dry air"
        )
        add_visit(store, account.id, first.id, visit)
    return store, account.id


def names(kept, wanted):
    store, account = kept
    return [card.house.name for card in houses_found(store, PAPERS, account, wanted)]


BOTH = ["Copperfield Lanes", "Quay Street Bowl"]


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        (Wanted(), BOTH),
        (Wanted(text="  "), BOTH),
        (Wanted(text="quay"), BOTH[1:]),
        (Wanted(text="gutter LOW"), BOTH[:1]),
        (Wanted(text="low"), BOTH),
        (Wanted(text="spinner"), BOTH[:1]),
        (Wanted(text="hooks early"), BOTH[:1]),
        (Wanted(text="dry air"), BOTH[:1]),
        (Wanted(text="dry quay"), []),
        (Wanted(surface=LaneSurface.WOOD), BOTH[1:]),
        (Wanted(approach=Approach.TACKY), BOTH[:1]),
        (Wanted(pinfall=Pinfall.STRING), BOTH[1:]),
        (Wanted(least_lanes=13), BOTH[:1]),
        (Wanted(least_lanes=12), BOTH),
        (Wanted(pattern="tide"), BOTH[:1]),
        (Wanted(pattern="mill"), []),
        (Wanted(text="low", surface=LaneSurface.WOOD, pinfall=Pinfall.FREE), []),
    ],
)
def test_houses_are_found_by_everything_that_is_asked(kept, wanted, found):
    assert names(kept, wanted) == found


def test_a_card_says_where_the_words_stand_and_what_was_met(kept):
    store, account = kept
    [card] = houses_found(store, PAPERS, account, Wanted(text="dry hooks"))
    assert card.found == ("lane 13: hooks early past 40 ft", "Dry air")
    [met] = card.patterns
    assert (met.pattern, met.visits, met.games, met.pins) == ("Long Tide 43", 2, 10, 2060)
    assert (card.visits, card.last_visit) == (2, date(2026, 5, 9))


def test_a_house_is_found_by_its_name_or_id(kept):
    store, account = kept
    record = find_house(store, account, " quay street bowl ")
    assert find_house(store, account, str(record.id)) == record
    with pytest.raises(InvalidValueError, match="Copperfield Lanes; Quay Street Bowl"):
        find_house(store, account, "Mill Street")
    add_record(store, PAPERS, account, Kind.HOUSE, QUAY)
    with pytest.raises(InvalidValueError, match=str(record.id)):
        find_house(store, account, "Quay Street Bowl")


def test_a_choice_is_one_of_those_that_there_are():
    assert chosen(Approach, "approach", "") is None
    assert chosen(Approach, "approach", "slick") is Approach.SLICK
    with pytest.raises(InvalidValueError, match="tacky, medium, slick"):
        chosen(Approach, "approach", "icy")
