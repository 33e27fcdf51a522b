"""A house given to somebody else, with what its visits taught; and one taken in.

Private notes and private visits stay at home, and so do pictures: only their names are kept here.
What is kept is not changed by what is taken in, but for visits that came in the same way before.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from uuid import UUID

from nextpair.application.bundle import Papers
from nextpair.application.house_book import BookPage, add_visit, correct_visit, pages_of, visits_of
from nextpair.application.keeping import add_record, record_of
from nextpair.application.store import Store
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.house_book import Visit
from nextpair.domain.record import Document, Kind, Record

OWN_KEYS = frozenset({"private_notes", "photos"})
"""Keys of a house's document that are not shared."""


@dataclass(frozen=True, slots=True)
class TakenIn:
    """A house that was taken in: whether it was new here, and how many visits were new, and newer
    than those that were here."""

    record: Record
    is_new: bool
    new_visits: int
    newer_visits: int


def for_others(document: Document) -> Document:
    """A house's document without what is nobody else's business."""
    return {key: value for key, value in document.items() if key not in OWN_KEYS}


def public_visits(visits: Iterable[Visit]) -> tuple[Visit, ...]:
    """Visits that are shared, without the id of an event that nobody else keeps."""
    return tuple(replace(visit, event_id=None) for visit in visits if not visit.private)


def shared_house(store: Store, papers: Papers, account: UUID, house: UUID) -> str:
    """The file that shares a house. Raises NotKeptError."""
    document = record_of(store, account, Kind.HOUSE, house).document
    visits = public_visits(visits_of(store, account, house))
    return papers.shared_house_text(for_others(document), visits)


def take_in_house(
    store: Store, papers: Papers, account: UUID, document: Document, told: Iterable[Visit]
) -> TakenIn:
    """Keep a shared house and its visits, as `Papers.shared_house` reads them. A house of that
    name stays as it is here, and gets the visits that it has not; of one that it has, another
    version counts where it never was here.

    Raises InvalidValueError, with nothing kept, for visits to another house that is kept.
    """
    visits = {visit.id: visit for visit in public_visits(told)}
    called = str(document["name"]).strip().casefold()
    records = store.records(account, Kind.HOUSE)
    record = next((one for one in records if one.name.strip().casefold() == called), None)
    here: dict[UUID, BookPage] = {}
    for house in records:
        pages = {page.visit.id: page for page in pages_of(store.log(account, house.id))}
        if house is record:
            here = pages
        elif pages.keys() & visits.keys():
            raise InvalidValueError("visit", house.name, f"visits to {document['name']} alone")
    is_new = record is None
    if record is None:
        record, _ = add_record(store, papers, account, Kind.HOUSE, for_others(document))
    new = [visit for id, visit in visits.items() if id not in here]
    newer = [visit for id, visit in visits.items() if id in here and _is_newer(visit, here[id])]
    for visit in new:
        add_visit(store, account, record.id, visit)
    for visit in newer:
        event_id = here[visit.id].visit.event_id
        correct_visit(store, account, record.id, replace(visit, event_id=event_id))
    return TakenIn(record, is_new, len(new), len(newer))


def _is_newer(visit: Visit, page: BookPage) -> bool:
    """Whether a visit is a version that was never here."""
    return visit not in public_visits((page.visit, *page.earlier))
