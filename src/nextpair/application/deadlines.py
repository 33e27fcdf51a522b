"""What is due before the events to come, in order of days from today."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from nextpair.application.season_events import EventFacts
from nextpair.domain.season import Advice, BallUse, Deadline, Due

PACKING_DAYS = 1
RESURFACING_DAYS = 3
"""Before the event: time to throw a few practice games on it. Common practice, from memory."""
ORDER = tuple(Due)


def deadlines_of(
    events: Sequence[EventFacts], balls: Sequence[BallUse], today: date
) -> tuple[Deadline, ...]:
    """Deadlines of the events of which nothing is bowled yet, soonest first; what is past already
    comes first of all, as long as its event is still to come."""
    coming = sorted(
        (one for one in events if one.date >= today and not one.is_bowled),
        key=lambda one: one.date,
    )
    told = [due for place, event in enumerate(coming) for due in _of(event, balls, today, place)]
    return tuple(sorted(told, key=lambda one: (one.day, ORDER.index(one.due), one.event)))


def _of(
    event: EventFacts, balls: Sequence[BallUse], today: date, place: int
) -> Iterator[Deadline]:
    def deadline(due: Due, day: date, words: str) -> Deadline:
        return Deadline(due, day, (day - today).days, event.name, event.key, words)

    if event.entry_deadline is not None:
        yield deadline(Due.ENTRY, event.entry_deadline, f"Entry for {event.name} closes.")
    if place == 0 and (worn := _worn(event, balls)):
        day = event.date - timedelta(RESURFACING_DAYS)
        yield deadline(Due.RESURFACING, day, f"Resurface for {event.name}: {', '.join(worn)}.")
    packing = event.date - timedelta(PACKING_DAYS)
    yield deadline(Due.PACKING, packing, f"Pack for {event.name}.")
    yield deadline(Due.EVENT, event.date, f"{event.name}, {event.house}.")


def _worn(event: EventFacts, balls: Sequence[BallUse]) -> tuple[str, ...]:
    """Balls of the event's locker that ask for a new finish before it."""
    asking = (Advice.SOON, Advice.RESURFACE)
    return tuple(one.ball for one in balls if one.advice in asking and one.ball in event.bag)
