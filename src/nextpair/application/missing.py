"""What was not there when it was needed: notes about "missing" in the logs of events."""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID

from nextpair.application.events import kept_as
from nextpair.application.home_jottings import jot
from nextpair.application.journal import standing
from nextpair.application.keeping import record_of
from nextpair.application.names import plain_name
from nextpair.application.packing_rules import by_rules
from nextpair.application.packing_trip import trip_of
from nextpair.application.store import Store
from nextpair.domain.errors import require, require_text
from nextpair.domain.event import Event
from nextpair.domain.jotting import JottingKind, Kept
from nextpair.domain.kit import LONGEST_ITEM
from nextpair.domain.packing import Missed
from nextpair.domain.record import Kind, Record

ABOUT = "missing"


def note_missing(
    store: Store, account: UUID, event: Event, id: UUID, items: Sequence[str]
) -> None:
    """Write down that things were not there, each once, all of them or none. Raises
    InvalidValueError for a name that is empty or too long, and for what the bowler wears or
    watches, which stands in no log; NotKeptError where the event is not kept."""
    record_of(store, account, Kind.EVENT, id)
    private = _private_names(event)
    told: dict[str, str] = {}
    for item in items:
        said = " ".join(item.split())
        require_text("missing", said, 1, LONGEST_ITEM)
        is_public = plain_name(said) not in private
        require(is_public, "missing", "a private line", "what anybody may read")
        told.setdefault(plain_name(said), said)
    known = {plain_name(item) for item in missing_at(store.log(account, id))}
    for name, said in told.items():
        if name not in known:
            jot(store, account, id, JottingKind.NOTE, {"about": ABOUT, "text": said})


def _private_names(event: Event) -> frozenset[str]:
    """What the bowler wears and watches: in their own words, and as the list has it."""
    lines = (line.item for line in by_rules(trip_of(event, ())) if line.private)
    own = (*event.bowler.straps, *event.bowler.care, *lines)
    return frozenset(plain_name(words) for words in own)


def missing_at(log: Sequence[Kept]) -> tuple[str, ...]:
    """The things that a log says were missing, each once."""
    told = (
        " ".join(text.split())
        for _, jotting in standing(log)
        if jotting.kind is JottingKind.NOTE
        and jotting.payload.get("about") == ABOUT
        and isinstance(text := jotting.payload.get("text"), str)
    )
    return tuple({plain_name(item): item for item in told if item}.values())


def missed_before(store: Store, account: UUID, event: Event) -> tuple[Missed, ...]:
    """What was missing at other kept events up to an event's day, newest event first."""
    logged, here = set(store.logged_events(account)), kept_as(store, account, event)
    events = [
        record
        for record in store.records(account, Kind.EVENT)
        if record.id in logged and record.id != here and _day(record) <= event.date.isoformat()
    ]
    where: dict[str, tuple[str, list[str]]] = {}
    for record in sorted(events, key=_day, reverse=True):
        for item in missing_at(store.log(account, record.id)):
            where.setdefault(plain_name(item), (item, []))[1].append(record.name)
    return tuple(Missed(item, tuple(names)) for item, names in where.values())


def _day(record: Record) -> str:
    return str(record.document["date"])
