"""Any adding, correcting and taking back of visits loses nothing that was ever written."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from uuid import uuid4

from hypothesis import given
from hypothesis import strategies as st

from nextpair.application.house_book import (
    add_visit,
    correct_visit,
    pages_of,
    take_back_visit,
    visits_of,
)
from nextpair.application.house_sharing import public_visits
from nextpair.application.journal import versions
from nextpair.application.store import Account
from nextpair.application.visit_jottings import payload_of, visit_of
from nextpair.domain.house_book import Visit
from nextpair.domain.record import Draft, Kind
from nextpair.files import FilePapers
from nextpair.store.memory import MemoryStore

ADD, CORRECT, TAKE_BACK = "add", "correct", "take back"
STEPS = st.lists(
    st.tuples(st.sampled_from((ADD, CORRECT, CORRECT, TAKE_BACK)), st.integers(0, 9)), max_size=25
)
TEXTS = st.text(st.characters(codec="utf-8", exclude_characters="\0"), max_size=40).map(str.strip)
VISITS = st.builds(
    Visit,
    id=st.uuids(),
    date=st.dates(date(1990, 1, 1), date(2090, 1, 1)),
    event=TEXTS,
    pattern=TEXTS,
    length_ft=st.none() | st.integers(20, 60).map(float),
    games=st.just(3),
    pins=st.integers(0, 900),
    played=TEXTS,
    notes=TEXTS,
    lanes=st.dictionaries(st.integers(1, 200), TEXTS.filter(bool), max_size=3).map(
        lambda lanes: tuple(lanes.items())
    ),
    friction=st.sampled_from((0.9, 1.0, 1.05)),
    private=st.booleans(),
)


def new_book():
    store, account, house = MemoryStore(), uuid4(), uuid4()
    store.add_account(Account(account, "home", None))
    store.save(account, Draft(house, Kind.HOUSE, "Quay Street Bowl", {"lanes": 12}), None)
    return store, account, house


@given(STEPS)
def test_whatever_was_written_of_a_visit_is_still_there(steps):
    store, account, house = new_book()
    written: dict = {}
    standing: list = []
    for number, (step, pick) in enumerate(steps):
        told = Visit(uuid4(), date(2026, 1, 1) + timedelta(days=pick), notes=f"{number}")
        if step == ADD or not standing:
            add_visit(store, account, house, told)
            standing.append(told)
            written[told.id] = [told]
            continue
        before = standing[pick % len(standing)]
        if step == CORRECT:
            told = replace(told, id=before.id)
            correct_visit(store, account, house, told)
            written[before.id].append(told)
            standing[standing.index(before)] = told
        else:
            take_back_visit(store, account, house, before.id)
            standing.remove(before)
    log = store.log(account, house)
    assert set(visits_of(store, account, house)) == set(standing)
    for page in pages_of(log):
        assert [page.visit, *page.earlier] == written[page.visit.id][::-1]
    payloads = {
        root: [jotting.payload for jotting in told if jotting.payload]
        for root, told in versions(log).items()
    }
    assert payloads == {id: [payload_of(one) for one in told] for id, told in written.items()}
    days = [visit.date for visit in visits_of(store, account, house)]
    assert days == sorted(days, reverse=True)


@given(VISITS)
def test_any_visit_is_read_back(visit):
    assert visit_of(visit.id, payload_of(visit)) == visit


@given(st.lists(VISITS, max_size=3, unique_by=lambda visit: visit.id))
def test_any_public_visits_go_through_a_shared_file(visits):
    papers = FilePapers()
    house = {"name": "Quay Street Bowl", "lanes": 200}
    public = public_visits(visits)
    assert papers.shared_house(papers.shared_house_text(house, public)) == (house, public)
