"""Events kept as records: taken in from files, and put together again."""

from __future__ import annotations

import re
from dataclasses import replace
from uuid import UUID, uuid4

import pytest

from event_folder import DEMO
from nextpair.application.at_hand import EventsAtHand
from nextpair.application.events import (
    bundle_of,
    event_id,
    find_event,
    folder_of,
    for_others,
    keep_bundle,
    take_in_event,
)
from nextpair.application.store import Account
from nextpair.domain.errors import InputRefusedError, InvalidValueError
from nextpair.domain.record import Draft, Kind
from nextpair.files import FilePapers, load_event
from nextpair.store.memory import MemoryStore

PAPERS = FilePapers()
FILES = {path.name: path.read_text("utf-8") for path in DEMO.iterdir() if path.is_file()}
EARLY = '\n[[earlier_squad]]\nsquad = "early.csv"\ngames = 3\n'


@pytest.fixture
def store() -> MemoryStore:
    return MemoryStore()


@pytest.fixture
def owner(store) -> UUID:
    account = Account(uuid4(), "home", None)
    store.add_account(account)
    return account.id


def kept(store, owner) -> dict[UUID, int]:
    return {record.id: record.revision for record in store.records(owner)}


def test_an_event_taken_in_is_the_event_of_its_folder(store, owner):
    record = take_in_event(store, PAPERS, owner, FILES)
    assert PAPERS.event(bundle_of(store, owner, record.id)) == load_event(DEMO / "event.toml")
    assert record.id == event_id("Samphire Scratch Singles", "2026-10-17", "Maren Tolvane")
    for other in store.records(owner):
        PAPERS.check(other.kind, other.document)


def test_taken_in_again_nothing_changes(store, owner):
    take_in_event(store, PAPERS, owner, FILES)
    before = kept(store, owner)
    take_in_event(store, PAPERS, owner, FILES)
    assert kept(store, owner) == before


def test_a_folder_that_changed_changes_only_its_event(store, owner):
    first = take_in_event(store, PAPERS, owner, FILES)
    before = kept(store, owner)
    folder = FILES | {"house.toml": FILES["house.toml"].replace("lanes = 28", "lanes = 30")}
    second = take_in_event(store, PAPERS, owner, folder)
    after = kept(store, owner)
    assert (second.id, second.revision) == (first.id, 2)
    assert {id: after[id] for id in before if id != first.id} == {
        id: revision for id, revision in before.items() if id != first.id
    }
    assert [after[id] for id in set(after) - set(before)] == [1]
    assert PAPERS.event(bundle_of(store, owner, first.id)).house.lanes == 30


def test_another_event_shares_what_is_the_same(store, owner):
    take_in_event(store, PAPERS, owner, FILES)
    other = FILES["event.toml"].replace("2026-10-17", "2026-10-18")
    take_in_event(store, PAPERS, owner, FILES | {"event.toml": other})
    kinds = [record.kind for record in store.records(owner)]
    assert [kinds.count(kind) for kind in Kind] == [1, 1, 1, 14, 1, 2, 0, 0]


def test_a_bowler_with_other_balls_is_another_record(store, owner):
    first = take_in_event(store, PAPERS, owner, FILES)
    locker = FILES["locker.csv"].splitlines(keepends=True)
    swapped = "".join([locker[0], locker[2], locker[1], *locker[3:]])
    event = FILES["event.toml"].replace("2026-10-17", "2026-10-18")
    second = take_in_event(
        store, PAPERS, owner, FILES | {"locker.csv": swapped, "event.toml": event}
    )
    names = [
        [ball["name"] for ball in bundle_of(store, owner, record.id).locker][:2]
        for record in (first, second)
    ]
    assert names == [["Tarred Rope", "Slate Weir"], ["Slate Weir", "Tarred Rope"]]


def test_an_event_that_was_made_here_stays_the_same_one(store, owner):
    record = take_in_event(store, PAPERS, owner, FILES)
    document = dict(record.document)
    own = store.save(owner, Draft(uuid4(), Kind.EVENT, record.name, document, record.links), None)
    store.delete(owner, record.id)
    assert take_in_event(store, PAPERS, owner, FILES).id == own.id


def test_retired_balls_stay_at_home(store, owner):
    record = take_in_event(store, PAPERS, owner, FILES)
    ball = next(b for b in store.records(owner, Kind.BALL) if b.name == "Loam Cart")
    document = {**ball.document, "retired": True}
    store.save(owner, Draft(ball.id, ball.kind, ball.name, document, ball.links), ball.revision)
    names = [ball["name"] for ball in bundle_of(store, owner, record.id).locker]
    assert "Loam Cart" not in names
    assert len(names) == 13


def test_both_patterns_a_library_pattern_and_earlier_squads(store, owner):
    text = re.sub(
        'pattern = "pattern.toml"',
        'left_pattern = "library: Mill Race 35"\nright_pattern = "pattern.toml"',
        FILES["event.toml"],
    )
    same = EARLY.replace("early.csv", "squad.csv")
    folder = FILES | {"event.toml": text + EARLY + same + EARLY, "early.csv": FILES["squad.csv"]}
    bundle = PAPERS.bundle(folder)
    record = take_in_event(store, PAPERS, owner, folder)
    event = PAPERS.event(bundle_of(store, owner, record.id))
    assert event == PAPERS.event(bundle)
    assert event.left_pattern.name == "Mill Race 35"
    assert len(store.records(owner, Kind.SQUAD)) == 2


def test_shots_and_scores_come_along_and_go_out_again(store, owner):
    folder = FILES | {"scores.csv": "name,game,score,handicap\nOsk Verrill,1,201,0\n"}
    record = take_in_event(store, PAPERS, owner, folder)
    texts = folder_of(store, PAPERS, owner, record.id)
    assert texts["shots.csv"] == FILES["shots.csv"]
    assert texts["scores.csv"] == folder["scores.csv"]
    assert len(store.log(owner, record.id)) == 13
    take_in_event(store, PAPERS, owner, texts)
    assert len(store.log(owner, record.id)) == 13
    assert folder_of(store, PAPERS, owner, record.id) == texts


@pytest.mark.parametrize("file", ["shots.csv", "scores.csv"])
def test_an_event_beside_wrong_shots_or_scores_is_not_kept(store, owner, file):
    with pytest.raises(InputRefusedError, match=file):
        take_in_event(store, PAPERS, owner, FILES | {file: "id\n1\n"})
    assert store.records(owner) == ()


def test_an_event_is_found_by_name_or_id(store, owner):
    record = take_in_event(store, PAPERS, owner, FILES)
    for called in (record.name.upper(), str(record.id)):
        assert find_event(store, owner, called).id == record.id
    with pytest.raises(InvalidValueError, match="Samphire"):
        find_event(store, owner, "Open")
    other = FILES["event.toml"].replace("2026-10-17", "2026-10-18")
    take_in_event(store, PAPERS, owner, FILES | {"event.toml": other})
    with pytest.raises(InvalidValueError, match="2026-10-18"):
        find_event(store, owner, record.name)


def test_a_folder_that_is_refused_leaves_nothing(store, owner):
    with pytest.raises(InputRefusedError):
        take_in_event(store, PAPERS, owner, FILES | {"squad.csv": "pair\n14-15\n"})
    assert store.records(owner) == ()


def test_nobody_else_sees_money_or_care(store, owner):
    bundle = PAPERS.bundle(FILES)
    text = "\n".join(PAPERS.folder(for_others(bundle)).values())
    for private in ("entry_fee", "winnings", "home_currency", "side_pots", "thumb swells"):
        assert private not in text
    shared = PAPERS.event(for_others(bundle))
    own = PAPERS.event(bundle)
    bowler = replace(own.bowler, care=())
    assert replace(shared, money=own.money) == replace(own, bowler=bowler)


def test_nobody_else_sees_private_notes_of_the_house():
    bundle = PAPERS.bundle(FILES)
    house = {
        **bundle.house,
        "private_notes": ["ask for Lena"],
        "photos": ["lena-and-me.jpg"],
        "notes": ["cold by the door"],
    }
    text = PAPERS.folder(for_others(replace(bundle, house=house)))["house.toml"]
    assert "lena" not in text.casefold()
    assert "cold by the door" in text


def test_nobody_else_sees_what_was_noted_at_a_shot(store, owner):
    shots = FILES["shots.csv"].replace(",9,,20.0,", ",9,knee hurts,20.0,", 1)
    record = take_in_event(store, PAPERS, owner, FILES | {"shots.csv": shots})
    own, given = (
        folder_of(store, PAPERS, owner, record.id, others=others)["shots.csv"]
        for others in (False, True)
    )
    assert own.count("knee hurts") == 1
    assert given == own.replace("knee hurts", "")


def test_an_event_at_hand_has_the_notes_that_are_kept_now(store, owner):
    record = take_in_event(store, PAPERS, owner, FILES)
    events = EventsAtHand(store, PAPERS)
    first = events.at_hand(owner, record.id)
    events.event(owner, first)
    house = store.record(owner, UUID(record.document["house"]))
    document = {**house.document, "notes": ["cold by the door"]}
    store.save(owner, Draft(house.id, Kind.HOUSE, house.name, document, house.links), 1)
    second = events.at_hand(owner, record.id)
    assert second.inputs == first.inputs
    assert events.event(owner, second).house.notes == ("cold by the door",)


def test_an_event_at_hand_has_the_money_that_is_kept_now(store, owner):
    record = take_in_event(store, PAPERS, owner, FILES)
    events = EventsAtHand(store, PAPERS)
    first = events.at_hand(owner, record.id)
    assert events.event(owner, first).money.winnings is None
    document = {**record.document, "money": {"entries": 84, "winnings": {"prize": 240}}}
    store.save(owner, Draft(record.id, Kind.EVENT, record.name, document, record.links), 1)
    second = events.at_hand(owner, record.id)
    assert events.event(owner, second).money.winnings == (("prize", 240),)
    assert second.inputs == first.inputs, "money moves no number of a sheet"


def test_a_bundle_is_kept_for_its_account_alone(store, owner):
    keep_bundle(store, owner, PAPERS.bundle(FILES))
    other = Account(uuid4(), "other", None)
    store.add_account(other)
    assert store.records(other.id) == ()
    keep_bundle(store, other.id, PAPERS.bundle(FILES))
    assert len(store.records(other.id)) == len(store.records(owner))
