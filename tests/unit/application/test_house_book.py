"""The book of a house: visits, what they taught of its friction, and the file that takes it in."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date
from uuid import UUID, uuid4

import pytest

from event_folder import DEMO
from nextpair.application.events import bundle_of, take_in_event
from nextpair.application.house_book import (
    accept_friction,
    add_visit,
    correct_visit,
    house_friction,
    pages_of,
    take_back_visit,
    visits_of,
)
from nextpair.application.intervals import HALF_OF_80
from nextpair.application.jobs import inputs_of
from nextpair.application.keeping import record_of, save_record
from nextpair.application.store import Account, NotKeptError
from nextpair.application.visit_jottings import payload_of, visit_of
from nextpair.domain.bowler import Hand
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.house_book import Learned, Visit
from nextpair.domain.jotting import LARGEST_PAYLOAD_BYTES, JottingKind, canonical_json
from nextpair.domain.record import Kind
from nextpair.domain.unknowns import DRY_LOG
from nextpair.files import FilePapers
from nextpair.kernel.throws import lane_kind
from nextpair.store.memory import MemoryStore

FILES = {path.name: path.read_text("utf-8") for path in DEMO.iterdir() if path.is_file()}
PAPERS = FilePapers()
SPREAD = DRY_LOG.spread


@pytest.fixture
def kept() -> tuple[MemoryStore, UUID, UUID, UUID]:
    """A store with the bundled event: store, account, house, event."""
    store, account = MemoryStore(), Account(uuid4(), "home", None)
    store.add_account(account)
    event = take_in_event(store, PAPERS, account.id, FILES)
    return store, account.id, UUID(event.document["house"]), event.id


def visit(day: int = 13, **told: object) -> Visit:
    return Visit(uuid4(), date(2026, 6, day), **told)


def drier(mean: float, sd: float = 0.03, name: str = "dry_log", before: float = SPREAD):
    return Learned(name, 0.0, before, mean, sd)


FULL = visit(
    event="Harbour Lights",
    event_id=uuid4(),
    pattern="Long Tide 43",
    length_ft=43.0,
    volume_ml=26.1,
    games=6,
    pins=1240,
    played="24 to 17 with Kestrel",
    changed="game 3: feet 2 in",
    notes="cold air from the door",
    lanes=((13, "hooks early"), (14, "the gutter cap rattles")),
    learned=(drier(0.04), drier(0.01, 0.015, "lane_13_dry_log", 0.02)),
    friction=1.02,
    lane_friction=((13, 0.98),),
    private=True,
)


def test_a_visit_is_read_back_whole():
    assert visit_of(FULL.id, payload_of(FULL)) == FULL


def test_what_nobody_said_of_a_visit_is_not_written_down():
    assert payload_of(visit()) == {"date": "2026-06-13"}


@pytest.mark.parametrize(
    "wrong",
    [
        {"date": "13 June"},
        {"date": None},
        {"games": 1.5},
        {"games": True},
        {"pins": 5},
        {"notes": 5},
        {"lanes": {"left": "dry"}},
        {"lanes": ["dry"]},
        {"lanes": {"13": ""}},
        {"learned": {"dry_log": [0, 0.07, 0.04]}},
        {"learned": {"mood": [0, 1, 0, 1]}},
        {"friction": 3},
        {"length_ft": 10**400},
        {"learned": {"dry_log": [0, 0.07, 0.04, 10**400]}},
        {"private": "no"},
        {"event_id": "yesterday's"},
        {"diary": "nothing of it"},
    ],
)
def test_what_is_no_visit_is_refused(wrong):
    with pytest.raises(InvalidValueError):
        visit_of(uuid4(), {"date": "2026-06-13"} | wrong)


def test_a_full_visit_fits_into_a_jotting():
    lanes = [drier(-0.01234, 0.01234, f"lane_{lane}_dry_log") for lane in range(10, 42)]
    many = replace(
        FULL,
        played="p" * 300,
        changed="c" * 300,
        notes="n" * 600,
        learned=(drier(-0.12345), *lanes),
    )
    assert len(canonical_json(payload_of(many))) < LARGEST_PAYLOAD_BYTES


def test_a_visit_of_too_many_words_is_refused_with_how_many_there_may_be():
    lanes = tuple((lane, "n" * 600) for lane in range(1, 9))
    with pytest.raises(InvalidValueError, match=r"notes.*4000 bytes"):
        payload_of(visit(lanes=lanes))


def test_the_newest_visit_comes_first_and_of_one_day_the_last_written(kept):
    store, account, house, _ = kept
    written = [visit(13), visit(20), visit(13), visit(1)]
    for one in written:
        add_visit(store, account, house, one)
    first, second, third, fourth = written
    assert visits_of(store, account, house) == (second, third, first, fourth)


def test_a_correction_counts_and_what_was_written_before_is_kept(kept):
    store, account, house, _ = kept
    first = visit(notes="dry")
    second, third = replace(first, notes="very dry"), replace(first, notes="drier than it was")
    add_visit(store, account, house, first)
    correct_visit(store, account, house, second)
    correct_visit(store, account, house, third)
    correct_visit(store, account, house, third)
    [page] = pages_of(store.log(account, house))
    assert (page.visit, page.earlier) == (third, (second, first))


def test_a_visit_taken_back_stays_in_the_log(kept):
    store, account, house, _ = kept
    add_visit(store, account, house, FULL)
    take_back_visit(store, account, house, FULL.id)
    assert visits_of(store, account, house) == ()
    assert [one.jotting.kind for one in store.log(account, house)] == [
        JottingKind.VISIT,
        JottingKind.VOID,
    ]
    with pytest.raises(NotKeptError):
        correct_visit(store, account, house, FULL)


def test_only_a_house_that_is_kept_has_a_book(kept):
    store, account, _, event = kept
    for other in (event, uuid4()):
        with pytest.raises(NotKeptError):
            add_visit(store, account, other, FULL)


def test_a_visit_is_written_down_once(kept):
    store, account, house, _ = kept
    add_visit(store, account, house, FULL)
    with pytest.raises(InvalidValueError, match="visit: found 'Harbour Lights'"):
        add_visit(store, account, house, replace(FULL, notes="another"))
    assert visits_of(store, account, house) == (FULL,)


def test_a_house_without_visits_has_learned_nothing(kept):
    store, account, house, _ = kept
    told = PAPERS.house(record_of(store, account, Kind.HOUSE, house).document)
    learned = house_friction(replace(told, friction=1.03), [])
    assert not learned.is_learned
    assert learned.house.factor == pytest.approx(1.03)
    assert learned.house.stands == 1.03


def test_one_sure_visit_moves_a_house_half_of_the_way(kept):
    """Closed form: half of what a day shows lasts."""
    house = PAPERS.house(bundle_of(*kept[:2], kept[3]).house)
    learned = house_friction(house, [visit(learned=(drier(0.08, 1e-5),))]).house
    assert learned.factor == pytest.approx(math.exp(0.04), rel=1e-4)
    reach = math.exp(HALF_OF_80 * SPREAD / 2)
    assert learned.high / learned.factor == pytest.approx(reach, rel=1e-4)
    assert learned.low * learned.high == pytest.approx(learned.factor**2)
    [said] = learned.said
    assert (said.date, round(said.factor, 3)) == (date(2026, 6, 13), round(math.exp(0.08), 3))


def test_what_was_learned_is_counted_from_the_file_of_its_day(kept):
    """The same lane read with two files: 8 % more than 1, and nothing more than 1.08."""
    house = PAPERS.house(bundle_of(*kept[:2], kept[3]).house)
    first = visit(1, learned=(drier(math.log(1.08), 1e-5),))
    about_one = replace(first, id=uuid4(), date=date(2026, 6, 20))
    about_more = replace(about_one, friction=1.08, learned=(drier(0.0, 1e-5),))
    same, moved = (
        house_friction(house, [first, second]).house.factor for second in (about_one, about_more)
    )
    assert moved == pytest.approx(same, rel=1e-6)


def test_a_lane_is_learned_once_several_visits_told_of_it(kept):
    house = PAPERS.house(bundle_of(*kept[:2], kept[3]).house)
    lane_13, lane_14 = (drier(0.03, 0.008, f"lane_{n}_dry_log", 0.02) for n in (13, 14))
    told = [visit(1, learned=(lane_13, lane_14)), visit(2, learned=(lane_13,))]
    [lane] = house_friction(house, told).lanes
    assert (lane.lane, len(lane.said)) == (13, 2)
    assert 1.0 < lane.factor < math.exp(0.03)


def test_a_visit_that_told_nothing_is_not_named(kept):
    house = PAPERS.house(bundle_of(*kept[:2], kept[3]).house)
    assert not house_friction(house, [visit(learned=(drier(0.0, SPREAD),))]).is_learned


def accepted(kept):
    store, account, house, _ = kept
    lane = drier(0.03, 0.008, "lane_13_dry_log", 0.02)
    for day in (1, 2):
        add_visit(store, account, house, visit(day, learned=(drier(0.06), lane)))
    record = record_of(store, account, Kind.HOUSE, house)
    found = house_friction(PAPERS.house(record.document), visits_of(store, account, house))
    return found, accept_friction(store, PAPERS, account, record, found)


def test_what_is_accepted_stands_in_the_houses_file(kept):
    found, record = accepted(kept)
    house = PAPERS.house(record.document)
    [lane] = found.lanes
    assert house.friction == round(found.house.factor, 3) != 1
    assert house.trait(13).friction == round(lane.factor, 3) != 1
    again = house_friction(house, visits_of(*kept[:3]))
    assert again.house.factor == pytest.approx(found.house.factor)
    assert again.house.stands == house.friction


def test_the_next_sheet_starts_from_what_was_accepted(kept):
    store, account, _, event_id = kept
    before = bundle_of(store, account, event_id)
    found, _ = accepted(kept)
    after = bundle_of(store, account, event_id)
    assert inputs_of(before, "sheet") != inputs_of(after, "sheet")
    event = PAPERS.event(after)
    house, own = found.house.factor, found.lanes[0].factor
    on_13, on_20 = (lane_kind(event.lane(number), Hand.RIGHT).friction for number in (13, 20))
    assert on_13 == pytest.approx(house * own, abs=2e-3)
    assert on_20 == round(house, 3)


WORDS = {
    "notes": ["the door lets cold air in"],
    "private_notes": ["ask for Lena"],
    "ball_return": "behind 11",
    "ceiling": "low over the left lanes",
    "photos": ["approach.jpg"],
    "lane_machine": "another one",
}


OF_LANES = ("lane notes", "a new lane's notes", "lane friction")


@pytest.mark.parametrize("key", [*WORDS, *OF_LANES, "friction"])
def test_only_what_moves_a_number_makes_a_sheet_stale(kept, key):
    store, account, house, event = kept
    record = record_of(store, account, Kind.HOUSE, house)
    lanes = record.document["lane"]
    change = {
        "lane notes": {"lane": [lanes[0] | {"notes": ["hooks early"]}, *lanes[1:]]},
        "a new lane's notes": {"lane": [*lanes, {"number": 1, "notes": ["short"]}]},
        "friction": {"friction": 1.04},
        "lane friction": {"lane": [lanes[0] | {"friction": 1.07}, *lanes[1:]]},
    }.get(key) or {key: WORDS[key]}
    before = inputs_of(bundle_of(store, account, event), "sheet")
    document = {**record.document, **change}
    save_record(store, PAPERS, account, Kind.HOUSE, house, document, record.revision)
    after = inputs_of(bundle_of(store, account, event), "sheet")
    assert (before != after) == ("friction" in key)
