"""What others share: for a coach, who reads and changes nothing."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated
from uuid import UUID

from fastapi import APIRouter, Query
from fastapi.responses import Response
from pydantic import BaseModel, Field

from nextpair.application.events import folder_of
from nextpair.application.jobs import DEBRIEF
from nextpair.application.scores import known_scores, scores_of
from nextpair.application.sharing import Athlete, day_of, readable_events, shared_with_me
from nextpair.application.shot_jottings import logged_shots
from nextpair.application.store import Computed, NotKeptError
from nextpair.application.summary import tells_more
from nextpair.domain.debrief import Debrief
from nextpair.domain.record import Record
from nextpair.domain.statistics import GameStatistics
from nextpair.files.results import result_of
from nextpair.reports.debrief_json import debrief_document
from nextpair.reports.standing_json import standing_document
from nextpair.web.reader import Shared, SharedEvent
from nextpair.web.routes.debrief import DebriefOut
from nextpair.web.routes.events import (
    PairOut,
    packed_folder,
    told_pairs,
    told_problems,
    told_summary,
)
from nextpair.web.routes.results import (
    Result,
    as_kept,
    envelope,
    sheet_as_page,
    sheet_as_paper,
)
from nextpair.web.routes.scores import BowlerOut, FieldOut, GameOut, ScoresOut, counting_of
from nextpair.web.routes.statistics import told_statistics
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import AccountOut, Envelope, Json, ProblemOut, told_account

router = APIRouter(prefix="/shared", tags=["shared with me"])
EVENT = "/{owner}/events/{id}"
Search = Annotated[str, Query(max_length=100, description="words of the athlete's name")]
PageNumber = Annotated[int, Query(ge=1, le=1_000_000)]


class EventLine(BaseModel):
    """An event in a list."""

    id: UUID
    name: str
    date: str


class AthleteOut(BaseModel):
    """Somebody who shares something: how many events, and the next one, or else the last."""

    owner: AccountOut
    events: int
    next: EventLine | None


class AthleteList(BaseModel):
    """A page of athletes by name; `total` are on all pages."""

    page: int
    pages: int
    total: int
    items: list[AthleteOut]


class EventLines(BaseModel):
    """The events that an athlete shares, first day first."""

    owner: AccountOut
    items: list[EventLine]


class SharedEventOut(EventLine):
    """A shared event at a glance. What was computed is told without itself."""

    owner: AccountOut
    bowler: str
    hand: str
    house: str
    patterns: list[str]
    pairs: list[PairOut]
    squad_size: int
    problems: list[ProblemOut]
    sheet: Envelope | None
    debrief: Envelope | None
    shots: Annotated[int, Field(description="shots that stand in the log")]


@router.get("")
def athletes(
    home: Here, account: Visitor, search: Search = "", page: PageNumber = 1
) -> AthleteList:
    """Who shares something with you, by name."""
    found = shared_with_me(home.store, account.id, home.now().date(), search, page)
    items = [_told_athlete(one) for one in found.athletes]
    return AthleteList(page=found.page, pages=found.pages, total=found.total, items=items)


@router.get("/{owner}/events")
def events(owner: UUID, home: Here, account: Visitor) -> EventLines:
    """What somebody shares with you."""
    whose, found = readable_events(home.store, account.id, owner)
    return EventLines(owner=told_account(whose), items=[_line(record) for record in found])


@router.get(EVENT)
def event(shared: Shared) -> SharedEventOut:
    """A shared event at a glance."""
    home, at_hand = shared.home, shared.at_hand
    told = told_summary(home, shared.owner, at_hand)
    notes = {note.kind: note for note in home.store.computed_notes(shared.owner.id, shared.id)}

    def computed(kind: Result) -> Envelope | None:
        return envelope(notes[kind], at_hand.inputs_of(kind)) if kind in notes else None

    return SharedEventOut(
        id=shared.id,
        name=at_hand.record.name,
        date=day_of(at_hand.record),
        owner=told_account(shared.owner),
        bowler=told.bowler,
        hand=told.hand,
        house=told.house,
        patterns=list(told.patterns),
        pairs=told_pairs(told),
        squad_size=told.squad_size,
        problems=told_problems(told.problems),
        shots=len(logged_shots(home.store.log(shared.owner.id, shared.id))),
        sheet=computed(Result.SHEET),
        debrief=computed(Result.DEBRIEF),
    )


@router.get(f"{EVENT}/sheet", response_model=Envelope)
def sheet(shared: Shared) -> Response:
    """The newest sheet, without what other events taught."""
    computed = _newest(shared, Result.SHEET)
    about = envelope(computed, shared.at_hand.inputs).model_dump_json()
    text = f'{about[:-1]},"sheet":{shared.home.rendered.text(computed)}}}'
    return Response(text, media_type="application/json")


@router.get(f"{EVENT}/sheet.html", response_class=Response)
def sheet_page(shared: Shared) -> Response:
    """The newest sheet as one page."""
    return sheet_as_page(as_kept(_newest(shared, Result.SHEET)))


@router.get(f"{EVENT}/sheet.pdf", response_class=Response)
def sheet_paper(shared: Shared) -> Response:
    """The newest sheet to print."""
    return sheet_as_paper(as_kept(_newest(shared, Result.SHEET)))


@router.get(f"{EVENT}/folder.zip", response_class=Response)
def folder(shared: Shared) -> Response:
    """The event's files, as `nextpair export --for-others` writes them, in one."""
    home = shared.home
    return packed_folder(
        folder_of(home.store, home.papers, shared.owner.id, shared.id, others=True)
    )


@router.get(f"{EVENT}/shots.csv", response_class=Response)
def shots(shared: Shared) -> Response:
    """The shots that stand in the log, without notes."""
    found = logged_shots(shared.home.store.log(shared.owner.id, shared.id))
    text = shared.home.papers.shots_text([replace(shot, note="") for shot in found])
    headers = {"Content-Disposition": 'attachment; filename="shots.csv"'}
    return Response(text, media_type="text/csv", headers=headers)


@router.get(f"{EVENT}/scores")
def scores(shared: Shared) -> ScoresOut:
    """The bowler's score sheet, and the field's table. What is wrong with a log is its owner's:
    it may quote what he wrote."""
    document = shared.at_hand.record.document
    log = shared.home.store.log(shared.owner.id, shared.id)
    found = scores_of(log, str(document.get("bowler_name")), counting_of(document))
    games = [GameOut.model_validate(game, from_attributes=True) for game in found.bowler]
    field = [FieldOut.model_validate(row, from_attributes=True) for row in found.field]
    return ScoresOut(bowler=BowlerOut(games=games), field=field, problems=[])


@router.get(f"{EVENT}/standing")
def standing(shared: Shared) -> Json:
    """Where the bowler stands in the field, without prizes."""
    home, event = shared.home, shared.event
    log = home.store.log(shared.owner.id, shared.id)
    known = known_scores(log, event.bowler_name, event.format.counting)
    found = home.program.standing(event, known, home.program.settings.seed)
    return standing_document(replace(found, prospects=None))


@router.get(f"{EVENT}/statistics")
def statistics(shared: Shared) -> GameStatistics:
    """What the bowler's games say, and their luck."""
    return told_statistics(shared.home, shared.owner, shared.id, shared.event)


@router.get(f"{EVENT}/debrief")
def debrief(shared: Shared) -> DebriefOut:
    """What the event taught, without money and without what was decided on it."""
    computed = _newest(shared, Result.DEBRIEF)
    about = envelope(computed, shared.at_hand.inputs_of(DEBRIEF))
    log = shared.home.store.log(shared.owner.id, shared.id)
    later = tells_more(log, computed.log_seq or 0)
    told = debrief_document(result_of(Debrief, computed.document))
    return DebriefOut(**about.model_dump() | {"stale": about.stale or later}, debrief=told)


def _newest(shared: SharedEvent, kind: Result) -> Computed:
    computed = shared.home.store.computed(shared.owner.id, shared.id, kind)
    if computed is None:
        raise NotKeptError(kind.value, shared.id)
    return computed


def _told_athlete(athlete: Athlete) -> AthleteOut:
    coming = None if athlete.next is None else _line(athlete.next)
    return AthleteOut(owner=told_account(athlete.owner), events=athlete.events, next=coming)


def _line(record: Record) -> EventLine:
    return EventLine(id=record.id, name=record.name, date=day_of(record))
