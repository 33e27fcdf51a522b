"""Lessons: findings of debriefs that their bowler accepted or dropped, and where they show again.

A decision is a jotting in the log of the event that taught it; a later one on the same finding
supersedes it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from uuid import UUID

from nextpair.application.home_jottings import jot
from nextpair.application.journal import standing
from nextpair.application.keeping import record_of
from nextpair.application.lesson_jottings import lesson_of, payload_of
from nextpair.application.names import plain_name
from nextpair.application.store import Store
from nextpair.domain.debrief import DebriefFinding
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.event import Event
from nextpair.domain.jotting import JottingKind, Kept
from nextpair.domain.lesson import Change, ChangeKind, Lesson
from nextpair.domain.record import Document, Kind
from nextpair.domain.sheet import Sheet
from nextpair.domain.units import FOOT_M

MOST_TOLD = 6
"""On one sheet: more are not kept in mind. Common practice."""
NEAR_FT = 2.0
"""Patterns that differ no more in length are played alike. Common practice."""
EVERYWHERE = frozenset({ChangeKind.DRILL, ChangeKind.PACKING})
"""What goes with the bowler to every event."""


@dataclass(frozen=True, slots=True)
class Decision:
    """A lesson with the jotting that says so: the one that a later decision supersedes."""

    lesson: Lesson
    jotting: UUID


@dataclass(frozen=True, slots=True)
class Taught:
    """A lesson with the kept event that taught it."""

    lesson: Lesson
    event: UUID


def lessons_of_event(store: Store, account: UUID, event: UUID) -> tuple[Lesson, ...]:
    """What was decided on an event's findings, accepted or dropped, in the order in which each was
    first decided on; under the name and day that the event has now. Raises NotKeptError."""
    name, day = _name_and_day(record_of(store, account, Kind.EVENT, event).document)
    return tuple(
        replace(decision.lesson, event=name, date=day)
        for decision in _decisions(store.log(account, event)).values()
    )


def accepted_lessons(store: Store, account: UUID, with_done: bool = False) -> tuple[Lesson, ...]:
    """Lessons of all kept events that were accepted, newest event first; those that were put to
    rest only where they are asked for."""
    told = (taught.lesson for taught in taught_by_events(store, account))
    return newest_first(
        lesson for lesson in told if lesson.accepted and (with_done or not lesson.done)
    )


def taught_by_events(store: Store, account: UUID) -> tuple[Taught, ...]:
    """What was decided on the findings of all kept events."""
    logged = set(store.logged_events(account))
    kept = [record.id for record in store.records(account, Kind.EVENT) if record.id in logged]
    return tuple(
        Taught(lesson, event)
        for event in kept
        for lesson in lessons_of_event(store, account, event)
    )


def taught_for(store: Store, account: UUID, event: Event) -> tuple[Taught, ...]:
    """What applies to an event, see `lessons_for`, with the events that taught it."""
    by = {taught.lesson: taught for taught in taught_by_events(store, account)}
    return tuple(by[lesson] for lesson in lessons_for(event, tuple(by)))


def newest_first(lessons: Iterable[Lesson]) -> tuple[Lesson, ...]:
    """Lessons by the day that taught them, the last one first."""
    return tuple(sorted(lessons, key=lambda lesson: (-lesson.date.toordinal(), lesson.event)))


def decide(
    store: Store, account: UUID, event: UUID, finding: DebriefFinding, accepted: bool
) -> Lesson:
    """Accept or drop a finding. Raises NotKeptError where the event is not kept."""
    name, day = _name_and_day(record_of(store, account, Kind.EVENT, event).document)
    lesson = Lesson(
        key=finding.key,
        words=finding.words,
        change=finding.change,
        event=name,
        date=day,
        accepted=accepted,
    )
    _write(store, account, event, lesson)
    return lesson


def put_to_rest(store: Store, account: UUID, event: UUID, key: str, done: bool = True) -> Lesson:
    """Say that an accepted lesson is learned: no sheet shows it any more. Raises InvalidValueError
    for a key that nobody accepted."""
    accepted = {
        key: decision.lesson
        for key, decision in _decisions(store.log(account, event)).items()
        if decision.lesson.accepted
    }
    if key not in accepted:
        allowed = ", ".join(accepted) or "a finding that was accepted"
        raise InvalidValueError("key", key, allowed)
    lesson = replace(accepted[key], done=done)
    _write(store, account, event, lesson)
    return lesson


def lessons_for(event: Event, lessons: Sequence[Lesson]) -> tuple[Lesson, ...]:
    """Those of accepted lessons that apply to an event, newest first, a few at most: what earlier
    events taught of this bowler, of a ball in the locker, of the house or of such a pattern."""
    told = [
        lesson
        for lesson in lessons
        if lesson.accepted
        and not lesson.done
        and lesson.date <= event.date
        and not is_of(lesson, event)
        and applies(lesson.change, event)
    ]
    once = {lesson.change: lesson for lesson in reversed(newest_first(told))}
    return newest_first(once.values())[:MOST_TOLD]


def is_of(lesson: Lesson, event: Event) -> bool:
    """Whether an event is the one that taught a lesson."""
    return plain_name(lesson.event) == plain_name(event.name) and lesson.date == event.date


def with_lessons(sheet: Sheet, event: Event, lessons: Sequence[Lesson]) -> Sheet:
    """A sheet with those of accepted lessons that apply; no number of it comes from them."""
    return replace(sheet, lessons=lessons_for(event, lessons))


def applies(change: Change, event: Event) -> bool:
    """Whether a change is to be thought of at an event."""
    if change.kind in EVERYWHERE:
        return True
    if change.ball is not None and change.ball not in {ball.name for ball in event.locker}:
        return False
    if change.house is not None and plain_name(change.house) != plain_name(event.house.name):
        return False
    return change.pattern is None or _is_like(change, event)


def _is_like(change: Change, event: Event) -> bool:
    """Whether one of the event's patterns is the change's, or about as long."""
    return any(
        pattern.name == change.pattern
        or (
            change.length_ft is not None
            and abs(pattern.length_m / FOOT_M - change.length_ft) <= NEAR_FT
        )
        for pattern in (event.left_pattern, event.right_pattern)
    )


def _name_and_day(event: Document) -> tuple[str, date]:
    return str(event["name"]).strip(), date.fromisoformat(str(event["date"]))


def _decisions(log: Sequence[Kept]) -> dict[str, Decision]:
    """The decision that counts on each finding, by its key: of several the last one."""
    seq_of = {kept.jotting.id: kept.seq for kept in log}
    said = [jotting for _, jotting in standing(log) if jotting.kind is JottingKind.LESSON]
    decisions: dict[str, Decision] = {}
    for jotting in sorted(said, key=lambda one: seq_of[one.id]):
        try:
            lesson = lesson_of(jotting.payload)
        except InvalidValueError:
            continue
        decisions[lesson.key] = Decision(lesson, jotting.id)
    return decisions


def _write(store: Store, account: UUID, event: UUID, lesson: Lesson) -> None:
    log = store.log(account, event)
    before = _decisions(log).get(lesson.key)
    if before is not None and before.lesson == lesson:
        return
    supersedes = None if before is None else before.jotting
    jot(store, account, event, JottingKind.LESSON, payload_of(lesson), supersedes)
