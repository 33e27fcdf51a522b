"""Shots as jottings: what was written down is what the reading takes."""

from __future__ import annotations

from uuid import UUID, uuid4

import pytest

from event_folder import DEMO
from nextpair.application.shot_jottings import (
    logged_shots,
    noted_shots,
    payload_of,
    shot_of,
    take_in_shots,
)
from nextpair.application.store import Account
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.jotting import Answer, Jotting, JottingKind, Kept
from nextpair.files import load_event, load_shots, shots_text
from nextpair.store.memory import MemoryStore

EVENT = uuid4()
SHOTS = load_shots(DEMO / "shots.csv", load_event(DEMO / "event.toml"))
STRIKE = {"game": 1, "frame": 1, "delivery": 1, "lane": 7, "ball": "Kestrel", "standing_after": []}


@pytest.fixture
def store() -> MemoryStore:
    return MemoryStore()


@pytest.fixture
def owner(store) -> UUID:
    account = Account(uuid4(), "home", None)
    store.add_account(account)
    return account.id


def log_of(*payloads: dict[str, object], **changes: object) -> list[Kept]:
    return [
        Kept(seq, Jotting(uuid4(), EVENT, "phone", seq, JottingKind.SHOT, payload, **changes))
        for seq, payload in enumerate(payloads, start=1)
    ]


def test_a_shot_is_the_same_from_its_payload():
    for shot in SHOTS:
        assert shot_of(shot.id, shot.time, payload_of(shot)) == shot


def test_a_files_shots_stand_in_the_log_once(store, owner):
    receipts = take_in_shots(store, owner, EVENT, SHOTS)
    assert {receipt.answer for receipt in receipts} == {Answer.STORED}
    assert logged_shots(store.log(owner, EVENT)) == SHOTS
    again = take_in_shots(store, owner, EVENT, SHOTS[::-1])
    assert {receipt.answer for receipt in again} == {Answer.DUPLICATE}
    assert len(store.log(owner, EVENT)) == len(SHOTS)


def test_a_phones_shots_come_back_as_duplicates(store, owner):
    first, second = log_of(STRIKE, {**STRIKE, "frame": 2})
    mended = Jotting(
        uuid4(), EVENT, "phone", 3, JottingKind.SHOT, {**STRIKE, "ball": "Osprey"},
        supersedes=first.jotting.id,
    )  # fmt: skip
    store.append(owner, [first.jotting, second.jotting, mended])
    shots = logged_shots(store.log(owner, EVENT))
    assert [(shot.id, shot.ball) for shot in shots] == [
        (first.jotting.id, "Osprey"),
        (second.jotting.id, "Kestrel"),
    ]
    receipts = take_in_shots(store, owner, EVENT, shots)
    assert {receipt.answer for receipt in receipts} == {Answer.DUPLICATE}


def test_a_correction_of_what_never_came_is_there_once(store, owner):
    lost = uuid4()
    (kept,) = log_of(STRIKE, supersedes=lost)
    store.append(owner, [kept.jotting])
    (shot,) = logged_shots(store.log(owner, EVENT))
    assert shot.id == lost
    (receipt,) = take_in_shots(store, owner, EVENT, [shot])
    assert receipt.answer is Answer.DUPLICATE


def test_other_content_under_an_id_is_a_conflict(store, owner):
    (kept,) = log_of(STRIKE)
    store.append(owner, [kept.jotting])
    changed = shot_of(kept.jotting.id, "", {**STRIKE, "lane": 8})
    (receipt,) = take_in_shots(store, owner, EVENT, [changed])
    assert receipt.answer is Answer.CONFLICT
    assert logged_shots(store.log(owner, EVENT))[0].lane == 7


def test_a_shot_that_was_taken_back_stays_away(store, owner):
    (kept,) = log_of(STRIKE)
    void = Jotting(uuid4(), EVENT, "phone", 2, JottingKind.VOID, {}, supersedes=kept.jotting.id)
    store.append(owner, [kept.jotting, void])
    (receipt,) = take_in_shots(store, owner, EVENT, [shot_of(kept.jotting.id, "", STRIKE)])
    assert receipt.answer is Answer.CONFLICT
    assert logged_shots(store.log(owner, EVENT)) == ()


def test_two_shots_in_one_place_are_told_and_kept():
    log = log_of(STRIKE, STRIKE, {**STRIKE, "frame": 2})
    shots, (problem,) = noted_shots(log)
    assert len(shots) == 3
    assert problem.place == "game 1, frame 1, delivery 1"
    assert all(str(kept.jotting.id) in problem.found for kept in log[:2])


def test_shots_are_in_the_order_thrown_whatever_came_in_first():
    places = [(2, 1, 1), (0, 4, 1), (1, 10, 3), (1, 10, 1), (1, 2, 1)]
    keys = ("game", "frame", "delivery")
    log = log_of(*({**STRIKE, **dict(zip(keys, place, strict=True))} for place in places))
    assert [noted.place for noted in noted_shots(log)[0]] == sorted(places)


@pytest.mark.parametrize(
    "wrong",
    [
        {"lane": None},
        {"lane": "7"},
        {"lane": 7.5},
        {"lane": True},
        {"lane": 10**400},
        {"ball": 3},
        {"frame": 12},
        {"foul": "no"},
        {"standing_after": "1-2"},
        {"standing_after": [1, 1]},
        {"standing_after": [0]},
        {"standing_after": [{}]},
        {"standing_before": [1], "standing_after": [2]},
        {"surface_grit": "shiny"},
        {"laydown_board": -3},
        {"colour": "red"},
    ],
)
def test_what_is_no_shot_is_told_and_the_others_stand(wrong):
    log = log_of({**STRIKE, **wrong}, {**STRIKE, "frame": 2})
    shots, (problem,) = noted_shots(log)
    assert [noted.place for noted in shots] == [(1, 2, 1)]
    assert str(log[0].jotting.id) in problem.place
    assert len(str(problem).splitlines()) == 1


def test_a_payload_without_what_is_needed():
    with pytest.raises(InvalidValueError, match="ball"):
        shot_of(uuid4(), "", {"game": 1, "frame": 1, "delivery": 1, "lane": 7})


def test_whatever_a_phone_notes_a_file_can_hold(tmp_path):
    event = load_event(DEMO / "event.toml")
    odd = {**STRIKE, "lane": 13, "ball": "Slate Weir", "note": "a\nb\x07" + "c" * 300}
    log = log_of(odd, client_time="when the bell rang")
    shots = logged_shots(log)
    path = tmp_path / "shots.csv"
    path.write_text(shots_text(shots), "utf-8")
    assert load_shots(path, event) == shots
    assert shots[0].note.startswith("a b c")


def test_numbers_may_be_written_either_way():
    whole = {**STRIKE, "laydown_board": 20, "standing_after": [7, 10]}
    point = {**STRIKE, "lane": 7.0, "laydown_board": 20.0, "standing_after": [7.0, 10.0]}
    id = uuid4()
    assert shot_of(id, "", whole) == shot_of(id, "", point)
