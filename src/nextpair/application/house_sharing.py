"""A house given to somebody else, with what its visits taught; and one taken in.

Private notes and private visits stay at home, and so do pictures: only their names are kept here.
What is kept is not changed by what is taken in, but for visits that came in the same way before.
"""

from __future__ import annotations

from collections.abc import Iterable, Set
from dataclasses import dataclass, replace
from uuid import UUID

from nextpair.application.bundle import Papers
from nextpair.application.events import house_for_others
from nextpair.application.house_book import BookPage, add_visit, correct_visit, pages_of, visits_of
from nextpair.application.journal import versions
from nextpair.application.keeping import add_record, record_of
from nextpair.application.names import plain_name
from nextpair.application.store import Store
from nextpair.application.visit_jottings import require_lanes
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.house_book import Visit
from nextpair.domain.record import Document, Kind, Record


@dataclass(frozen=True, slots=True)
class TakenIn:
    """A house that was taken in: whether it was new here, and how many visits were new, and newer
    than those that were here."""

    record: Record
    is_new: bool
    new_visits: int
    newer_visits: int


def public_visits(visits: Iterable[Visit]) -> tuple[Visit, ...]:
    """Visits that are shared, without the id of an event that nobody else keeps."""
    return tuple(replace(visit, event_id=None) for visit in visits if not visit.private)


def shared_house(store: Store, papers: Papers, account: UUID, house: UUID) -> str:
    """The file that shares a house. Raises NotKeptError."""
    document = record_of(store, account, Kind.HOUSE, house).document
    visits = public_visits(visits_of(store, account, house))
    return papers.shared_house_text(house_for_others(document), visits)


def take_in_house(
    store: Store, papers: Papers, account: UUID, document: Document, told: Iterable[Visit]
) -> TakenIn:
    """Keep a shared house and its visits, as `Papers.shared_house` reads them. A house of that
    name stays as it is here, and gets the visits that it never had; of one that stands, another
    version counts where it never was here, and one that was taken back stays so. A deleted house
    that had these visits is brought back.

    Raises InvalidValueError, with nothing kept, for visits to another house, or on lanes that the
    house here has not.
    """
    visits = {visit.id: visit for visit in public_visits(told)}
    here = _house_here(store, account, str(document["name"]), visits.keys())
    if here is not None:
        for visit in visits.values():
            require_lanes(visit, int(here.document["lanes"]))
    if here is None:
        record, _ = add_record(store, papers, account, Kind.HOUSE, house_for_others(document))
    else:
        record = store.restore(account, here.id)
    log = store.log(account, record.id)
    written = versions(log).keys()
    pages = {page.visit.id: page for page in pages_of(log)}
    new = [visit for id, visit in visits.items() if id not in written]
    newer = [visit for id, visit in visits.items() if id in pages and _is_newer(visit, pages[id])]
    for visit in new:
        add_visit(store, account, record.id, visit)
    for visit in newer:
        event_id = pages[visit.id].visit.event_id
        correct_visit(store, account, record.id, replace(visit, event_id=event_id))
    return TakenIn(record, here is None or here.deleted, len(new), len(newer))


def _house_here(store: Store, account: UUID, name: str, visits: Set[UUID]) -> Record | None:
    """The house of a name, kept or, where it had some of these visits, deleted; None where it is
    new. Raises InvalidValueError where another house had any of them."""
    kept = store.records(account, Kind.HOUSE)
    away = store.records(account, Kind.HOUSE, deleted=True)
    had = [
        house for house in (*kept, *away) if versions(store.log(account, house.id)).keys() & visits
    ]
    of_name = [house for house in (*kept, *had) if plain_name(house.name) == plain_name(name)]
    found = of_name[0] if of_name else None
    for house in had:
        if found is None or house.id != found.id:
            told = f"{house.name}, which is deleted" if house.deleted else house.name
            raise InvalidValueError("visit", told, f"visits to {name} alone")
    return found


def _is_newer(visit: Visit, page: BookPage) -> bool:
    """Whether a visit is a version that was never here."""
    return visit not in public_visits((page.visit, *page.earlier))
