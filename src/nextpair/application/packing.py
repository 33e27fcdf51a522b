"""The packing list of an event: the rules, a template of one's own, and what events taught.

Rules come first. A kit adds lines and takes lines off, accepted lessons of kind packing join, and
what was missing at earlier events stands at the top.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from nextpair.application.cautions import HEAVY_BAG_BALLS, HEAVY_BAGS, PAIN, SANDING, SLIPPING
from nextpair.application.luggage import cases_of
from nextpair.application.names import plain_name
from nextpair.application.packing_rules import by_rules
from nextpair.application.packing_trip import Trip, trip_of
from nextpair.application.stock import reorders
from nextpair.domain.event import Event
from nextpair.domain.kit import NO_KIT, Kit
from nextpair.domain.lesson import ChangeKind, Lesson
from nextpair.domain.packing import (
    MISSING_LAST_TIME,
    CaseWeight,
    Missed,
    PackGroup,
    PackingList,
    PackItem,
)
from nextpair.domain.sheet import BagItem

BRACES = (
    "Braces, tape and creams are no treatment. Pain that changes the swing means stop and see a "
    "professional."
)
RULES_DECIDE = (
    "What may be worn, used on a ball or brought to the lanes is for the event's and the house's "
    "rules to decide, and for doctors and licensed pros where they know better."
)
Listed = dict[str, PackItem]


def packing_list(
    event: Event,
    bag: Sequence[BagItem],
    kit: Kit = NO_KIT,
    lessons: Iterable[Lesson] = (),
    missing: Sequence[Missed] = (),
    ahead: Sequence[Event] = (),
) -> PackingList:
    """What to take to an event with such a bag, what must be bought for it and for the events
    `ahead`, and what the luggage weighs."""
    trip = trip_of(event, tuple(bag))
    listed = {plain_name(item.item): item for item in by_rules(trip)}
    _add_own(listed, kit)
    _add_lessons(listed, lessons)
    first = _add_missing(listed, missing)
    items = (*first, *(item for item in listed.values() if item not in first))
    cases = cases_of(event, trip.bag, kit)
    return PackingList(
        event=event.name,
        hours=trip.hours,
        items=items,
        missing=tuple(item.item for item in first),
        reorders=reorders(kit, (trip, *(trip_of(one, ()) for one in ahead))),
        cases=cases,
        cautions=tuple(_cautions(trip, cases)),
    )


def _add_own(listed: Listed, kit: Kit) -> None:
    """Lines of a kit: one of a known name takes the place of that, or takes it off."""
    for own in kit.items:
        key = plain_name(own.item)
        known = listed.pop(key, None) if own.many == 0 else listed.get(key)
        if own.many == 0:
            continue
        if known is None:
            listed[key] = PackItem(own.item, own.many, own.why, own.group, "kit")
        else:
            listed[key] = replace(known, many=own.many, why=own.why, rule="kit")


def _add_lessons(listed: Listed, lessons: Iterable[Lesson]) -> None:
    for lesson in lessons:
        change = lesson.change
        if not lesson.accepted or change.kind is not ChangeKind.PACKING or change.item is None:
            continue
        key = plain_name(change.item)
        why = f"{change.words} Learned at {lesson.event}."
        known = listed.get(key)
        if known is None:
            listed[key] = PackItem(change.item, change.many, why, PackGroup.TABLE, "lesson")
        else:
            many = max(known.many, change.many)
            listed[key] = replace(known, many=many, why=why, rule="lesson")


def _add_missing(listed: Listed, missing: Sequence[Missed]) -> list[PackItem]:
    """Put what was missing on the list, and say where; the most often missing first."""
    first: list[PackItem] = []
    for missed in sorted(missing, key=lambda one: -len(one.events)):
        key = plain_name(missed.item)
        where = f"Missing at {', '.join(missed.events)}."
        known = listed.get(key)
        listed[key] = (
            PackItem(missed.item, 1, where, PackGroup.TABLE, MISSING_LAST_TIME)
            if known is None
            else replace(known, why=f"{where} {known.why}")
        )
        first.append(listed[key])
    return first


def _cautions(trip: Trip, cases: Sequence[CaseWeight]) -> Iterable[str]:
    yield BRACES
    yield PAIN
    yield SLIPPING
    if trip.sands:
        yield SANDING
    if len(trip.bag) >= HEAVY_BAG_BALLS:
        yield HEAVY_BAGS
    for number, case in enumerate(cases, start=1):
        if case.is_over:
            yield (
                f"Case {number} weighs {case.weight_lb:.0f} lb, {case.over_lb:.0f} over the limit "
                f"of {case.limit_lb:.0f}: put a ball into another case."
            )
    yield RULES_DECIDE
