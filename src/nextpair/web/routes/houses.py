"""Houses looked up, and the book of each: visits, what they taught, and sharing it."""

from __future__ import annotations

from typing import Annotated, Any
from uuid import UUID, uuid4

from fastapi import APIRouter, Query
from pydantic import BaseModel, Field

from nextpair.application.house_book import (
    accept_friction,
    add_visit,
    book_of,
    correct_visit,
    take_back_visit,
)
from nextpair.application.house_search import Wanted, houses_found
from nextpair.application.house_sharing import shared_house, take_in_house
from nextpair.application.keeping import record_of
from nextpair.application.payload_values import id_of
from nextpair.application.store import Account, StaleError
from nextpair.application.visit_jottings import require_lanes, visit_of
from nextpair.bootstrap.event_visits import event_visit
from nextpair.domain.house import Approach, LaneSurface, Pinfall
from nextpair.domain.house_book import Visit
from nextpair.domain.record import Kind
from nextpair.reports.house_json import (
    book_document,
    houses_document,
    taken_document,
    visit_document,
)
from nextpair.web.home import Home
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import Count, Json, JsonIn, Wire

router = APIRouter(tags=["houses"])
LONGEST_FILE = 300_000
"""Characters: as JSON may write them, still a body that is taken."""
Words = Annotated[str, Query(max_length=200)]


class VisitIn(Wire):
    """A visit: the keys of a house's book."""

    visit: JsonIn


class RevisionIn(Wire):
    """What was looked at."""

    revision: Count


class SharedIn(Wire):
    """The text of a shared house's file."""

    text: Annotated[str, Field(max_length=LONGEST_FILE)]


class SharedOut(BaseModel):
    text: str


class HousesOut(BaseModel):
    """As `nextpair house --json`."""

    houses: list[Json]


class BookOut(BaseModel):
    """As `nextpair house NAME --json`."""

    id: UUID
    revision: int
    house: Json
    visits: list[Json]
    patterns: list[Json]
    friction: Json
    lessons: list[Json]


class VisitOut(BaseModel):
    """The visit that an event was, and the house that it was to."""

    house: UUID
    visit: Json


class TakenOut(BaseModel):
    id: UUID
    name: str
    is_new: bool
    new_visits: int
    newer_visits: int


@router.get("/houses")
def houses(
    home: Here,
    account: Visitor,
    text: Words = "",
    surface: LaneSurface | None = None,
    approach: Approach | None = None,
    pinfall: Pinfall | None = None,
    lanes: Annotated[int, Query(ge=0, le=200)] = 0,
    pattern: Words = "",
) -> HousesOut:
    """Houses that are as wanted: all of them where nothing is asked."""
    wanted = Wanted(text, surface, approach, pinfall, lanes, pattern)
    found = houses_found(home.store, home.papers, account.id, wanted)
    return HousesOut(**houses_document(found))


@router.post("/houses/shared", status_code=201)
def take_in(body: SharedIn, home: Here, account: Visitor) -> TakenOut:
    """Keep a house that was shared, with its visits."""
    document, visits = home.papers.shared_house(body.text)
    taken = take_in_house(home.store, home.papers, account.id, document, visits)
    return TakenOut(**taken_document(taken))


@router.get("/houses/{id}/book")
def book(id: UUID, home: Here, account: Visitor) -> BookOut:
    """The book of a house, visits newest first."""
    return _book(home, account, id)


@router.get("/houses/{id}/shared")
def shared(id: UUID, home: Here, account: Visitor) -> SharedOut:
    """The file that shares a house: without private notes and visits."""
    return SharedOut(text=shared_house(home.store, home.papers, account.id, id))


@router.post("/houses/{id}/visits", status_code=201)
def add(id: UUID, body: VisitIn, home: Here, account: Visitor) -> BookOut:
    """One more visit; the `id` of a drafted one is kept."""
    told = dict(body.visit)
    named = told.pop("id", None)
    visit = _on_its_lanes(visit_of(_visit_id(named), told), home, account, id)
    add_visit(home.store, account.id, id, visit)
    return _book(home, account, id)


@router.put("/houses/{id}/visits/{visit_id}")
def correct(id: UUID, visit_id: UUID, body: VisitIn, home: Here, account: Visitor) -> BookOut:
    """A visit as it should say; what it said before is kept."""
    told = {key: value for key, value in body.visit.items() if key != "id"}
    visit = _on_its_lanes(visit_of(visit_id, told), home, account, id)
    correct_visit(home.store, account.id, id, visit)
    return _book(home, account, id)


@router.delete("/houses/{id}/visits/{visit_id}")
def take_back(id: UUID, visit_id: UUID, home: Here, account: Visitor) -> BookOut:
    """Let a visit count no more; it stays in the log."""
    take_back_visit(home.store, account.id, id, visit_id)
    return _book(home, account, id)


@router.post("/houses/{id}/friction")
def accept(id: UUID, body: RevisionIn, home: Here, account: Visitor) -> BookOut:
    """Put what was learned into the house's file; `revision` is the one that was looked at."""
    looked_at = book_of(home.store, home.papers, account.id, id)
    if looked_at.record.revision != body.revision:
        raise StaleError(looked_at.record, body.revision)
    accept_friction(home.store, home.papers, account.id, looked_at.record, looked_at.friction)
    return _book(home, account, id)


@router.get("/events/{id}/visit")
def draft(id: UUID, home: Here, account: Visitor) -> VisitOut:
    """The visit that an event was, by its log and its newest read, to be looked over and added."""
    house, visit = event_visit(home.program, home.store, account.id, id)
    return VisitOut(house=house, visit=visit_document(visit))


def _book(home: Home, account: Account, id: UUID) -> BookOut:
    told: dict[str, Any] = book_document(book_of(home.store, home.papers, account.id, id))
    return BookOut(**told)


def _visit_id(named: object) -> UUID:
    return uuid4() if named is None else id_of("id", named)


def _on_its_lanes(visit: Visit, home: Home, account: Account, house: UUID) -> Visit:
    """The visit, all of whose lanes the house has. Raises InvalidValueError, NotKeptError."""
    document = record_of(home.store, account.id, Kind.HOUSE, house).document
    require_lanes(visit, home.papers.house(document).lanes)
    return visit
