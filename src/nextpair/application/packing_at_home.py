"""What is kept at home that a packing list goes by: kit, lessons, what was missing, ticks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from uuid import UUID

from nextpair.application.bundle import Papers
from nextpair.application.events import bundle_of
from nextpair.application.journal import standing
from nextpair.application.lessons import accepted_lessons, is_of
from nextpair.application.missing import missed_before
from nextpair.application.names import plain_name
from nextpair.application.packing import packing_list
from nextpair.application.store import Store
from nextpair.domain.errors import InputRefusedError, InvalidValueError
from nextpair.domain.event import Event
from nextpair.domain.jotting import JottingKind, Kept
from nextpair.domain.kit import NO_KIT, Kit
from nextpair.domain.lesson import Lesson
from nextpair.domain.packing import Missed, PackingList
from nextpair.domain.record import Kind, Record
from nextpair.domain.sheet import BagItem

MOST_AHEAD = 5
"""Events for which a stock is looked ahead."""


@dataclass(frozen=True, slots=True)
class PackedBy:
    """What is kept that a packing list goes by, beside event and bag."""

    kit: Kit = NO_KIT
    lessons: tuple[Lesson, ...] = ()
    missing: tuple[Missed, ...] = ()
    ahead: tuple[Event, ...] = field(default=(), repr=False)

    def list_of(self, event: Event, bag: Sequence[BagItem]) -> PackingList:
        """The list of an event with such a bag."""
        return packing_list(event, bag, self.kit, self.lessons, self.missing, self.ahead)


NOTHING_KEPT = PackedBy()


def packed_by(
    store: Store, papers: Papers, account: UUID, event: Event, kit: str | None = None
) -> PackedBy:
    """What is kept for an event: the kit of a name, or without one the first by name. Raises
    InvalidValueError for a kit that is not kept."""
    lessons = accepted_lessons(store, account)
    return PackedBy(
        kit=kit_called(store, papers, account, kit),
        lessons=tuple(
            lesson for lesson in lessons if lesson.date <= event.date and not is_of(lesson, event)
        ),
        missing=missed_before(store, account, event),
        ahead=_ahead(store, papers, account, event),
    )


def kit_called(store: Store, papers: Papers, account: UUID, name: str | None) -> Kit:
    """A kept kit by its name; without one the first by name, or none. Raises InvalidValueError for
    a name that no kit has."""
    kits = store.records(account, Kind.KIT)
    if name is None:
        return papers.kit(kits[0].document) if kits else NO_KIT
    for record in kits:
        if plain_name(record.name) == plain_name(name):
            return papers.kit(record.document)
    allowed = ", ".join(record.name for record in kits) or "none: no kit is kept"
    raise InvalidValueError("kit", name, allowed)


def ticked(log: Sequence[Kept]) -> frozenset[str]:
    """What is packed already, ticked here or on the phone."""
    done: dict[str, bool] = {}
    for _, jotting in standing(log):
        if jotting.kind is JottingKind.TICK:
            done[str(jotting.payload.get("item"))] = jotting.payload.get("done") is True
    return frozenset(item for item, is_done in done.items() if is_done)


def _ahead(store: Store, papers: Papers, account: UUID, event: Event) -> tuple[Event, ...]:
    """Kept events after this one, the next first; those whose records are not in order are left
    out."""
    later = [
        record
        for record in store.records(account, Kind.EVENT)
        if _day(record) > event.date.isoformat()
    ]
    found = []
    for record in sorted(later, key=_day)[:MOST_AHEAD]:
        try:
            found.append(papers.event(bundle_of(store, account, record.id)))
        except (InputRefusedError, InvalidValueError):
            continue
    return tuple(found)


def _day(record: Record) -> str:
    return str(record.document["date"])
