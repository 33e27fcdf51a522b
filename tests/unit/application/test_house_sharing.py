"""A house shared by a file, taken in by somebody else, without what is private."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from uuid import UUID, uuid4

import pytest

from nextpair.application.house_book import (
    add_visit,
    correct_visit,
    take_back_visit,
    visits_of,
)
from nextpair.application.house_sharing import shared_house, take_in_house
from nextpair.application.keeping import add_record, record_of, save_record
from nextpair.application.store import Account
from nextpair.domain.errors import InputRefusedError, InvalidValueError
from nextpair.domain.house_book import Learned, Visit
from nextpair.domain.record import Kind
from nextpair.files import FilePapers
from nextpair.store.memory import MemoryStore

PAPERS = FilePapers()
RARE = "zyx"
"""Begins whatever must not be told."""
HOUSE = {
    "name": "Quay Street Bowl",
    "lanes": 24,
    "surface": "wood",
    "friction": 1.02,
    "notes": ["cold by the door"],
    "ball_return": "close to the left approach",
    "ceiling": "low over 1-4",
    "photos": [f"{RARE}-me.jpg"],
    "private_notes": [f"{RARE}-the manager is a friend"],
    "lane": [
        {"number": 7, "tilt_in": 0.01, "notes": ["hooks early"]},
        {"number": 8, "heights": {"distance_ft": [0, 60], "height_in": [[0.0] * 39, [0.01] * 39]}},
    ],
}
PUBLIC = Visit(
    UUID("3f2a6c1e-0b7d-4d15-9a44-52c8e1d7b903"),
    date(2026, 5, 2),
    event="Spring Tide Open",
    event_id=uuid4(),
    pattern="Long Tide 43",
    length_ft=43.0,
    games=6,
    pins=1200,
    notes="dries quickly",
    lanes=((7, "hooks early"),),
    learned=(Learned("dry_log", 0.0, 0.07, 0.03, 0.04),),
    friction=1.02,
    lane_friction=((7, 1.03),),
)
PRIVATE = Visit(uuid4(), date(2026, 5, 3), notes=f"{RARE}-lost a bet", private=True)


def somebody(store, name):
    account = Account(uuid4(), name, None)
    store.add_account(account)
    return account.id


@pytest.fixture
def shared():
    """Store, account, house record and its shared file."""
    store = MemoryStore()
    account = somebody(store, "one")
    record, _ = add_record(store, PAPERS, account, Kind.HOUSE, HOUSE)
    for visit in (PUBLIC, PRIVATE):
        add_visit(store, account, record.id, visit)
    return store, account, record, shared_house(store, PAPERS, account, record.id)


def test_another_account_has_the_house_and_its_public_visits(shared):
    store, _, record, text = shared
    other = somebody(store, "other")
    taken = take_in_house(store, PAPERS, other, *PAPERS.shared_house(text))
    assert (taken.is_new, taken.new_visits, taken.newer_visits) == (True, 1, 0)
    kept = {key: HOUSE[key] for key in HOUSE if key not in ("photos", "private_notes")}
    assert PAPERS.house(taken.record.document) == PAPERS.house(kept)
    assert taken.record.id != record.id
    assert visits_of(store, other, taken.record.id) == (replace(PUBLIC, event_id=None),)


def test_what_is_private_is_not_in_the_file(shared):
    store, account, record, text = shared
    assert RARE not in text
    assert str(PUBLIC.event_id) not in text
    assert str(account) not in text
    assert "dries quickly" in text
    told = replace(PUBLIC, private=True)
    correct_visit(store, account, record.id, told)
    assert "dries quickly" not in shared_house(store, PAPERS, account, record.id)


def test_a_file_that_comes_again_changes_nothing(shared):
    store, _, _, text = shared
    other = somebody(store, "other")
    first, second = (
        take_in_house(store, PAPERS, other, *PAPERS.shared_house(text)) for _ in range(2)
    )
    assert second.record == first.record
    assert (second.is_new, second.new_visits, second.newer_visits) == (False, 0, 0)


def test_a_house_that_is_here_stays_as_it_is_and_gets_newer_visits(shared):
    store, account, record, text = shared
    other = somebody(store, "other")
    first = take_in_house(store, PAPERS, other, *PAPERS.shared_house(text))
    mine = {**first.record.document, "private_notes": ["mine"], "friction": 1.1}
    save_record(store, PAPERS, other, Kind.HOUSE, first.record.id, mine, 1)
    correct_visit(store, account, record.id, replace(PUBLIC, notes="dries very quickly"))
    later = shared_house(store, PAPERS, account, record.id)
    taken = take_in_house(store, PAPERS, other, *PAPERS.shared_house(later))
    assert (taken.is_new, taken.new_visits, taken.newer_visits) == (False, 0, 1)
    assert record_of(store, other, Kind.HOUSE, first.record.id).document == mine
    old = take_in_house(store, PAPERS, other, *PAPERS.shared_house(text))
    assert old.newer_visits == 0
    assert visits_of(store, other, first.record.id)[0].notes == "dries very quickly"


def test_ones_own_file_taken_in_again_keeps_private_visits_and_events(shared):
    store, account, record, text = shared
    taken = take_in_house(store, PAPERS, account, *PAPERS.shared_house(text))
    assert (taken.record.id, taken.new_visits, taken.newer_visits) == (record.id, 0, 0)
    assert visits_of(store, account, record.id) == (PRIVATE, PUBLIC)


@pytest.mark.parametrize(
    ("old", "new", "place"),
    [
        ("lanes = 24", "lanes = 900", "house: lanes"),
        ("ball_return = ", "ball_retrun = ", "house: ball_retrun"),
        ("dry_log = ", "lane_999_dry_log = ", "visit 1: learned"),
        ("games = 6", "games = 600", "visit 1: games"),
        ("games = 6", "pints = 6", "visit 1: pints"),
        ("date = 2026-05-02", 'date = "in May"', "visit 1: date"),
        ("[house]", "[hose]", "hose"),
        (f'id = "{PUBLIC.id}"', 'id = "mine"', "visit 1: id"),
    ],
)
def test_a_file_that_is_not_in_order_is_refused_with_every_place(shared, old, new, place):
    text = shared[-1]
    assert old in text
    with pytest.raises(InputRefusedError) as refused:
        PAPERS.shared_house(text.replace(old, new, 1))
    assert place in [problem.place for problem in refused.value.problems]


def test_visits_to_one_house_do_not_become_those_of_another(shared):
    store, account, _, text = shared
    renamed = text.replace("Quay Street Bowl", "Mill Street Bowl")
    with pytest.raises(InvalidValueError, match="Quay Street Bowl"):
        take_in_house(store, PAPERS, account, *PAPERS.shared_house(renamed))
    assert len(store.records(account)) == 1


def test_a_visit_that_was_taken_back_stays_so_and_others_come_in(shared):
    store, account, record, text = shared
    other = somebody(store, "other")
    taken = take_in_house(store, PAPERS, other, *PAPERS.shared_house(text))
    take_back_visit(store, other, taken.record.id, PUBLIC.id)
    later = add_visit(store, account, record.id, Visit(uuid4(), date(2026, 6, 6), games=3))
    text = shared_house(store, PAPERS, account, record.id)
    again = take_in_house(store, PAPERS, other, *PAPERS.shared_house(text))
    assert (again.new_visits, again.newer_visits) == (1, 0)
    assert visits_of(store, other, taken.record.id) == (later,)


def test_a_deleted_house_is_brought_back_with_its_visits(shared):
    store, _, _, text = shared
    other = somebody(store, "other")
    first = take_in_house(store, PAPERS, other, *PAPERS.shared_house(text))
    store.delete(other, first.record.id)
    again = take_in_house(store, PAPERS, other, *PAPERS.shared_house(text))
    assert (again.record.id, again.is_new, again.new_visits) == (first.record.id, True, 0)
    assert [house.id for house in store.records(other, Kind.HOUSE)] == [first.record.id]
    assert len(visits_of(store, other, first.record.id)) == 1


def test_visits_of_a_deleted_house_are_not_taken_for_another_ones(shared):
    store, account, record, text = shared
    store.delete(account, record.id)
    add_record(store, PAPERS, account, Kind.HOUSE, HOUSE)
    with pytest.raises(InvalidValueError, match="which is deleted"):
        take_in_house(store, PAPERS, account, *PAPERS.shared_house(text))
    assert len(store.records(account)) == 1


@pytest.mark.parametrize("name", ["quay street  bowl", "QUAY STREET BOWL"])
def test_a_house_is_known_however_its_name_is_written(shared, name):
    store, account, record, text = shared
    other = text.replace("Quay Street Bowl", name)
    taken = take_in_house(store, PAPERS, account, *PAPERS.shared_house(other))
    assert (taken.record.id, taken.is_new) == (record.id, False)
