"""What was computed of an event, the newest of each kind; sheets also as pages."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from enum import StrEnum
from typing import Annotated, TypeVar
from uuid import UUID

from fastapi import APIRouter, Path, Query
from fastapi.responses import Response

from nextpair.application.at_hand import AtHand
from nextpair.application.jobs import is_stale
from nextpair.application.lessons import accepted_lessons, lessons_for
from nextpair.application.packing_at_home import packed_by
from nextpair.application.store import Account, Computed, ComputedNote, NotKeptError
from nextpair.domain.errors import InputRefusedError
from nextpair.domain.lesson import Lesson
from nextpair.domain.packing import PackingList
from nextpair.domain.sheet import Sheet
from nextpair.domain.spare import SpareSheet
from nextpair.files.results import result_of
from nextpair.web.home import Home
from nextpair.web.rendered import Beside
from nextpair.web.visitor import HEAVY, Here, Visitor
from nextpair.web.wire import Envelope

router = APIRouter(tags=["results"])
Kind = TypeVar("Kind", Sheet, SpareSheet)
KitName = Annotated[str | None, Query(max_length=200, description="the kept kit to pack by")]


class Result(StrEnum):
    """What can be computed of an event."""

    SHEET = "sheet"
    SPARES = "spares"
    READ = "read"
    POCKET = "pocket"
    DEBRIEF = "debrief"


@router.get("/events/{id}/sheet", response_model=Envelope)
def sheet(id: UUID, home: Here, account: Visitor) -> Response:
    """The newest sheet, with the film of every lane."""
    return _newest(home, account, id, Result.SHEET)


@router.get("/events/{id}/spares", response_model=Envelope)
def spares(id: UUID, home: Here, account: Visitor) -> Response:
    """How to shoot what is left."""
    return _newest(home, account, id, Result.SPARES)


@router.get("/events/{id}/read", response_model=Envelope)
def read(id: UUID, home: Here, account: Visitor) -> Response:
    """What the log says of lanes and bowler, as it was last read."""
    return _newest(home, account, id, Result.READ)


@router.get("/events/{id}/pocket", response_model=Envelope)
def pocket(id: UUID, home: Here, account: Visitor, kit: KitName = None) -> Response:
    """What the phone carries, with the packing list as it is now: no number comes from a kit, from
    lessons or from what was missing, so none of them makes a pocket stale."""
    return _newest(home, account, id, Result.POCKET, kit)


SheetId = Annotated[UUID, Path(description="id of a kept sheet")]


@router.get("/sheets/{id}.html", response_class=Response, dependencies=[HEAVY])
def sheet_page(id: SheetId, home: Here, account: Visitor) -> Response:
    """A kept sheet as one page."""
    return sheet_as_page(_sheet(home, account, id))


@router.get("/sheets/{id}.pdf", response_class=Response, dependencies=[HEAVY])
def sheet_paper(id: SheetId, home: Here, account: Visitor) -> Response:
    """A kept sheet to print."""
    return sheet_as_paper(_sheet(home, account, id))


def as_kept(computed: Computed) -> Sheet:
    """A sheet as it was computed: what other events taught is not told with it."""
    return result_of(Sheet, computed.document)


def sheet_as_page(sheet: Sheet, headers: Mapping[str, str] | None = None) -> Response:
    """A sheet as one page, which loads nothing and runs nothing."""
    from nextpair.reports.sheet_html import SAFETY, render_sheet_html

    rules = {"Content-Security-Policy": f"{SAFETY}; frame-ancestors 'none'"}
    told = rules | dict(headers or {})
    return Response(render_sheet_html(sheet), media_type="text/html", headers=told)


def sheet_as_paper(sheet: Sheet) -> Response:
    """A sheet to print."""
    from nextpair.reports.sheet_pdf import render_sheet_pdf

    headers = {"Content-Disposition": 'inline; filename="sheet.pdf"'}
    return Response(render_sheet_pdf(sheet), media_type="application/pdf", headers=headers)


def envelope(computed: ComputedNote, inputs: str) -> Envelope:
    """What is told of a result beside itself."""
    return Envelope(
        id=computed.id,
        made_at=computed.made_at,
        model_version=computed.model_version,
        seed=computed.seed,
        stale=is_stale(computed, inputs),
        log_seq=computed.log_seq,
    )


def lessons_told(home: Home, account: Account, at_hand: AtHand) -> tuple[Lesson, ...]:
    """What applies to an event; nothing while its records are not in order."""
    try:
        event = home.events.event(account.id, at_hand)
    except InputRefusedError:
        return ()
    return lessons_for(event, accepted_lessons(home.store, account.id))


def newest_of(home: Home, account: Account, id: UUID, kind: str, of: type[Kind]) -> Kind | None:
    """The newest result of a kind as the domain has it; None where nothing was computed."""
    computed = home.store.computed(account.id, id, kind)
    return None if computed is None else result_of(of, computed.document)


def _newest(
    home: Home, account: Account, id: UUID, kind: Result, kit: str | None = None
) -> Response:
    at_hand = home.events.at_hand(account.id, id)
    computed = home.store.computed(account.id, id, kind)
    if computed is None:
        raise NotKeptError(kind.value, id)
    about = envelope(computed, at_hand.inputs_of(kind)).model_dump_json()
    beside = Beside(
        lessons_told(home, account, at_hand) if kind is Result.SHEET else (),
        _packing(home, account, at_hand, computed, kit) if kind is Result.POCKET else None,
    )
    text = f'{about[:-1]},"{kind.value}":{home.rendered.text(computed, beside)}}}'
    return Response(text, media_type="application/json")


def _packing(
    home: Home, account: Account, at_hand: AtHand, pocket: Computed, kit: str | None
) -> PackingList | None:
    """The list of now for the bag of a pocket; None where the sheet that it was made of, or its
    event, is another one by now."""
    sheet = home.store.computed(account.id, at_hand.record.id, Result.SHEET)
    if sheet is None or is_stale(sheet, at_hand.inputs):
        return None
    if sheet.made_at > pocket.made_at or sheet.seed != pocket.seed:
        return None
    event = home.events.event(account.id, at_hand)
    packed = packed_by(home.store, home.papers, account.id, event, kit)
    return packed.list_of(event, result_of(Sheet, sheet.document).bag).for_others


def _sheet(home: Home, account: Account, id: UUID) -> Sheet:
    """A kept sheet, with what other events have taught by now: no number of it comes from that,
    so a lesson makes no sheet stale."""
    computed = home.store.computed_by_id(account.id, id)
    if computed.kind != Result.SHEET:
        raise NotKeptError("sheet", id)
    sheet = as_kept(computed)
    at_hand = home.events.at_hand(account.id, computed.event)
    return replace(sheet, lessons=lessons_told(home, account, at_hand))
