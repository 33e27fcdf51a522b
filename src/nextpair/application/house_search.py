"""Houses looked for: by words written of them, by what they are, by what was met there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TypeVar
from uuid import UUID

from nextpair.application.bundle import Papers
from nextpair.application.house_book import PatternMet, patterns_met, visits_of
from nextpair.application.names import plain_name
from nextpair.application.store import Store
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.house import Approach, House, LaneSurface, Pinfall
from nextpair.domain.house_book import Visit
from nextpair.domain.record import Kind, Record

Choice = TypeVar("Choice", LaneSurface, Approach, Pinfall)


@dataclass(frozen=True, slots=True)
class Wanted:
    """What houses are looked for; empty or None: any.

    text : words that must all stand somewhere in what is written of the house or of a visit.
    least_lanes : lanes that it has at least. pattern : words of the name of one met there.
    """

    text: str = ""
    surface: LaneSurface | None = None
    approach: Approach | None = None
    pinfall: Pinfall | None = None
    least_lanes: int = 0
    pattern: str = ""


@dataclass(frozen=True, slots=True)
class HouseCard:
    """A house at a glance. found : what is written of it that has words that were looked for."""

    id: UUID
    house: House
    visits: int
    last_visit: date | None
    patterns: tuple[PatternMet, ...]
    found: tuple[str, ...]


def houses_found(
    store: Store, papers: Papers, account: UUID, wanted: Wanted
) -> tuple[HouseCard, ...]:
    """Houses that are kept and are as wanted, by name."""
    cards = []
    for record in store.records(account, Kind.HOUSE):
        house = papers.house(record.document)
        visits = visits_of(store, account, record.id)
        found = _found(house, visits, wanted.text)
        if found is not None and _is_as(house, visits, wanted):
            last = visits[0].date if visits else None
            met = patterns_met(visits)
            cards.append(HouseCard(record.id, house, len(visits), last, met, found))
    return tuple(cards)


def chosen(kind: type[Choice], name: str, told: str) -> Choice | None:
    """What was chosen of a kind; None for nothing. Raises InvalidValueError for what is none."""
    if not told:
        return None
    try:
        return kind(told)
    except ValueError as wrong:
        raise InvalidValueError(name, told, ", ".join(kind)) from wrong


def find_house(store: Store, account: UUID, called: str) -> Record:
    """The house of a name or an id. Raises InvalidValueError for none, or several."""
    houses = store.records(account, Kind.HOUSE)
    name = plain_name(called)
    found = [one for one in houses if name in (str(one.id), plain_name(one.name))]
    if len(found) != 1:
        several = (f"{one.name}: {one.id}" for one in found)
        names = several if found else (one.name for one in houses)
        raise InvalidValueError("house", called, "; ".join(names) or "a house that is kept")
    return found[0]


def _is_as(house: House, visits: Sequence[Visit], wanted: Wanted) -> bool:
    asked = (
        (wanted.surface, house.surface),
        (wanted.approach, house.approach),
        (wanted.pinfall, house.pinfall),
    )
    if any(want is not None and want is not has for want, has in asked):
        return False
    met = any(_has_words(one.pattern, wanted.pattern) for one in patterns_met(visits))
    return house.lanes >= wanted.least_lanes and (met or not wanted.pattern.strip())


def _found(house: House, visits: Sequence[Visit], text: str) -> tuple[str, ...] | None:
    """What has the words, but for the name; None where not all of them are there."""
    words = text.casefold().split()
    written = [house.name, *_written_of(house), *(w for v in visits for w in _written_in(v))]
    everything = "\n".join(written).casefold()
    if any(word not in everything for word in words):
        return None
    return tuple(
        dict.fromkeys(
            told for told in written[1:] if any(word in told.casefold() for word in words)
        )
    )


def _has_words(told: str, text: str) -> bool:
    return all(word in told.casefold() for word in text.casefold().split())


def _written_of(house: House) -> Iterator[str]:
    yield from (told for told in (house.lane_machine, house.ball_return, house.ceiling) if told)
    yield from house.notes
    yield from house.private_notes
    for trait in house.traits:
        yield from (f"lane {trait.number}: {note}" for note in trait.notes)


def _written_in(visit: Visit) -> Iterator[str]:
    told = (visit.event, visit.pattern, visit.played, visit.changed, visit.notes)
    yield from (words for words in told if words)
    yield from (f"lane {lane}: {words}" for lane, words in visit.lanes)
