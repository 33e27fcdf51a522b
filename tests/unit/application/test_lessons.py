"""Lessons: decided on, read back, and shown where they apply."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from uuid import UUID, uuid4

import pytest

from debriefs import SINGLE_PINS, SURFACE
from event_folder import DEMO
from nextpair.application.events import take_in_event
from nextpair.application.keeping import save_record
from nextpair.application.lesson_jottings import lesson_of, payload_of
from nextpair.application.lessons import (
    MOST_TOLD,
    NEAR_FT,
    accepted_lessons,
    decide,
    lessons_for,
    lessons_of_event,
    put_to_rest,
)
from nextpair.application.store import Account, NotKeptError
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.jotting import Jotting, JottingKind
from nextpair.domain.lesson import Change, ChangeKind, Lesson
from nextpair.domain.record import Kind
from nextpair.domain.units import FOOT_M
from nextpair.files import FilePapers, load_event
from nextpair.store.memory import MemoryStore

FILES = {path.name: path.read_text("utf-8") for path in DEMO.iterdir() if path.is_file()}
EVENT = load_event(DEMO / "event.toml")
EARLIER = EVENT.date - timedelta(days=30)
LENGTH_FT = EVENT.left_pattern.length_m / FOOT_M


@pytest.fixture
def kept() -> tuple[MemoryStore, UUID, UUID]:
    """A store with the bundled event: store, account, event."""
    store, account = MemoryStore(), Account(uuid4(), "home", None)
    store.add_account(account)
    return store, account.id, take_in_event(store, FilePapers(), account.id, FILES).id


def lesson(change: Change, day: date = EARLIER, **more: object) -> Lesson:
    told = {"key": "one", "words": "It cost pins.", "event": "Earlier Open", "accepted": True}
    return Lesson(change=change, date=day, **{**told, **more})


def test_a_decision_is_read_back_whole(kept):
    written = decide(*kept, SURFACE, accepted=True)
    assert lessons_of_event(*kept) == (written,)
    assert (written.event, written.date) == (EVENT.name, EVENT.date)
    assert (written.words, written.change, written.accepted) == (
        SURFACE.words,
        SURFACE.change,
        True,
    )


def test_a_later_decision_stands_in_for_an_earlier_one(kept):
    store, account, event = kept
    decide(*kept, SINGLE_PINS, accepted=True)
    decide(*kept, SURFACE, accepted=True)
    decide(*kept, SINGLE_PINS, accepted=False)
    told = {one.key: one.accepted for one in lessons_of_event(*kept)}
    assert told == {SINGLE_PINS.key: False, SURFACE.key: True}
    assert [one.key for one in accepted_lessons(store, account)] == [SURFACE.key]
    lessons = [one.jotting for one in store.log(account, event) if one.jotting.kind == "lesson"]
    assert lessons[-1].supersedes == lessons[0].id


def test_deciding_the_same_twice_writes_once(kept):
    store, account, event = kept
    before = len(store.log(account, event))
    for _ in range(2):
        decide(*kept, SINGLE_PINS, accepted=True)
    assert len(store.log(account, event)) == before + 1


def test_a_lesson_put_to_rest_shows_no_more_and_can_come_back(kept):
    store, account, _ = kept
    decide(*kept, SINGLE_PINS, accepted=True)
    put_to_rest(*kept, SINGLE_PINS.key)
    assert accepted_lessons(store, account) == ()
    assert [one.done for one in accepted_lessons(store, account, with_done=True)] == [True]
    put_to_rest(*kept, SINGLE_PINS.key, done=False)
    assert len(accepted_lessons(store, account)) == 1


def test_only_what_was_accepted_can_be_put_to_rest(kept):
    decide(*kept, SINGLE_PINS, accepted=False)
    with pytest.raises(InvalidValueError, match="a finding that was accepted"):
        put_to_rest(*kept, SINGLE_PINS.key)


def test_nothing_is_decided_of_an_event_that_is_not_kept(kept):
    store, account, _ = kept
    with pytest.raises(NotKeptError):
        decide(store, account, uuid4(), SINGLE_PINS, accepted=True)


def test_lessons_of_an_event_that_was_deleted_count_no_more(kept):
    store, account, event = kept
    decide(*kept, SINGLE_PINS, accepted=True)
    store.delete(account, event)
    assert accepted_lessons(store, account) == ()
    store.restore(account, event)
    assert len(accepted_lessons(store, account)) == 1


def test_one_account_sees_nothing_of_another(kept):
    store, _, _ = kept
    decide(*kept, SINGLE_PINS, accepted=True)
    other = Account(uuid4(), "other", None)
    store.add_account(other)
    assert accepted_lessons(store, other.id) == ()


def test_lessons_go_with_their_event_when_its_name_or_day_is_mended(kept):
    store, account, event = kept
    decide(*kept, SINGLE_PINS, accepted=True)
    record = store.record(account, event)
    mended = {**record.document, "name": "Reed Open", "date": "2026-10-18"}
    save_record(store, FilePapers(), account, Kind.EVENT, event, mended, record.revision)
    [told] = accepted_lessons(store, account)
    assert (told.event, told.date) == ("Reed Open", date(2026, 10, 18))
    itself = replace(EVENT, name="Reed Open", date=told.date)
    assert lessons_for(itself, (told,)) == ()
    assert lessons_for(replace(itself, date=date(2026, 12, 1)), (told,)) == (told,)


def test_what_is_no_lesson_in_a_log_is_passed_over(kept):
    store, account, event = kept
    decide(*kept, SURFACE, accepted=True)
    drill = {"kind": "drill", "words": "x"}
    for change in ({"kind": "luck", "words": "x"}, drill | {"length_ft": 10**400}, "x"):
        wrong = {
            "key": "x", "words": "x", "change": change, "event": "x", "date": "2026-01-01",
            "accepted": True,
        }  # fmt: skip
        store.append(account, [Jotting(uuid4(), event, "x", 1, JottingKind.LESSON, wrong)])
    assert [one.key for one in lessons_of_event(*kept)] == [SURFACE.key]


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("change", "more drill"), ("date", "yesterday"), ("accepted", 1), ("words", ""),
        ("change", {"kind": "drill", "words": "x", "pins": 3}),
        ("change", {"kind": "surface", "words": "x", "surface_grit": [1000]}),
        ("change", {"kind": "packing", "words": "x"}),
    ],
)  # fmt: skip
def test_a_payload_that_says_no_lesson_is_refused(key, value):
    payload = payload_of(lesson(SURFACE.change))
    assert lesson_of(payload) == lesson(SURFACE.change)
    with pytest.raises(InvalidValueError):
        lesson_of(payload | {key: value})


OWN_BALL, HOUSE, PATTERN = EVENT.locker[0].name, EVENT.house.name, EVENT.left_pattern.name
DRILL = Change(ChangeKind.DRILL, "Shoot 10 pins.")


@pytest.mark.parametrize(
    ("change", "is_told"),
    [
        (DRILL, True),
        (Change(ChangeKind.PACKING, "Two rolls.", item="tape", house="Elsewhere Lanes"), True),
        (Change(ChangeKind.MOVES, "Move a frame earlier."), True),
        (Change(ChangeKind.SURFACE, "To 2000.", ball=OWN_BALL, surface_grit=2000), True),
        (Change(ChangeKind.SURFACE, "To 2000.", ball="Sold Long Ago", surface_grit=2000), False),
        (Change(ChangeKind.HOUSE_NOTE, "Lane 3 is dry.", house=HOUSE, lane=3), True),
        (Change(ChangeKind.HOUSE_NOTE, "Lane 3 is dry.", house="Elsewhere Lanes", lane=3), False),
        (Change(ChangeKind.PATTERN_NOTE, "Stay out.", pattern=PATTERN), True),
        (Change(ChangeKind.PATTERN_NOTE, "Stay out.", pattern="Other 30"), False),
        (
            Change(ChangeKind.PATTERN_NOTE, "x", pattern="Other", length_ft=LENGTH_FT + NEAR_FT),
            True,
        ),
        (
            Change(ChangeKind.PATTERN_NOTE, "x", pattern="Other", length_ft=LENGTH_FT - 2.5),
            False,
        ),
        (
            Change(ChangeKind.BALL, "Leave it.", ball=OWN_BALL, pattern="Other", length_ft=30.0),
            False,
        ),
    ],
)
def test_a_lesson_is_told_where_it_applies(change, is_told):
    assert bool(lessons_for(EVENT, [lesson(change)])) == is_told


def test_an_event_is_taught_nothing_by_itself_or_by_what_came_later():
    by_itself = lesson(DRILL, EVENT.date, event=EVENT.name)
    later = lesson(DRILL, EVENT.date + timedelta(days=1))
    earlier_that_day = lesson(DRILL, EVENT.date)
    assert lessons_for(EVENT, [by_itself, later]) == ()
    assert lessons_for(EVENT, [earlier_that_day]) == (earlier_that_day,)


def test_a_few_are_told_the_newest_first_and_none_twice():
    days = [EARLIER - timedelta(days=day) for day in range(MOST_TOLD + 3)]
    changes = [Change(ChangeKind.DRILL, f"Drill {number}.") for number in range(len(days))]
    lessons = [lesson(change, day) for change, day in zip(changes, days, strict=True)]
    assert lessons_for(EVENT, lessons[::-1]) == tuple(lessons[:MOST_TOLD])
    again = lesson(DRILL, EARLIER - timedelta(days=99), event="Old Open")
    assert lessons_for(EVENT, [again, lesson(DRILL)]) == (lesson(DRILL),)


def test_what_was_dropped_or_put_to_rest_is_not_told():
    assert lessons_for(EVENT, [lesson(DRILL, accepted=False), lesson(DRILL, done=True)]) == ()
