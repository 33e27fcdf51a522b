"""Events as a whole: taken in from files, given out as files, and at a glance."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from typing import Annotated
from uuid import UUID

from fastapi import APIRouter, Query
from fastapi.responses import Response
from pydantic import BaseModel, Field

from nextpair.application.at_hand import AtHand
from nextpair.application.events import folder_of, take_in_event
from nextpair.application.journal import standing
from nextpair.application.store import Account
from nextpair.application.summary import Summary, logged, summary_of
from nextpair.domain.errors import InputRefusedError, InvalidValueError, NextpairError, Problem
from nextpair.web.errors import problems_of
from nextpair.web.home import Home
from nextpair.web.routes.results import Result, envelope
from nextpair.web.visitor import HEAVY, Here, Visitor
from nextpair.web.wire import Envelope, ProblemOut, RecordOut, Wire, told_record

router = APIRouter(tags=["events"])
LARGEST_BODY_BYTES = 16_000_000
MOST_FILES = 50
WITH_PRIVATE = Query(description="with money and what the bowler takes care of")
FileName = Annotated[str, Field(min_length=1, max_length=200)]


class Folder(Wire):
    """The files of an event folder, text by name."""

    files: Annotated[dict[FileName, str], Field(min_length=1, max_length=MOST_FILES)]
    event_file: FileName = "event.toml"


class EventMade(BaseModel):
    event: RecordOut


class Files(BaseModel):
    files: dict[str, str]


class PairOut(BaseModel):
    game: int
    pair: str
    lanes: tuple[int, int]


class LoggedOut(BaseModel):
    seq: int
    shots: int


class SummaryOut(BaseModel):
    """An event at a glance. What was computed is told without itself."""

    event: RecordOut
    pairs: list[PairOut]
    squad_size: int
    bowler: str
    hand: str
    house: str
    patterns: list[str]
    problems: list[ProblemOut]
    guessed: list[str]
    sheet: Envelope | None
    read: Envelope | None
    spares: Envelope | None
    pocket: Envelope | None
    debrief: Envelope | None
    log: LoggedOut


@router.post("/import", status_code=201, max_body_size=LARGEST_BODY_BYTES, dependencies=[HEAVY])
def take_in(body: Folder, home: Here, account: Visitor) -> EventMade:
    """Keep the event of a folder, all of it or nothing."""
    record = take_in_event(home.store, home.papers, account.id, body.files, body.event_file)
    return EventMade(event=told_record(record))


@router.get("/events/{id}/files", dependencies=[HEAVY])
def files(
    id: UUID, home: Here, account: Visitor, private: Annotated[bool, WITH_PRIVATE] = False
) -> Files:
    """An event as the files of a folder; without what is nobody else's business."""
    return Files(files=_folder(home, account, id, private))


@router.get("/events/{id}/folder.zip", response_class=Response, dependencies=[HEAVY])
def folder(
    id: UUID, home: Here, account: Visitor, private: Annotated[bool, WITH_PRIVATE] = False
) -> Response:
    """The same files in one."""
    return packed_folder(_folder(home, account, id, private))


def packed_folder(texts: Mapping[str, str]) -> Response:
    """Files in one, by their names."""
    page = io.BytesIO()
    with zipfile.ZipFile(page, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, text in texts.items():
            packed.writestr(name, text)
    headers = {"Content-Disposition": 'attachment; filename="event.zip"'}
    return Response(page.getvalue(), media_type="application/zip", headers=headers)


@router.get("/events/{id}/summary")
def summary(id: UUID, home: Here, account: Visitor) -> SummaryOut:
    """An event at a glance."""
    at_hand = home.events.at_hand(account.id, id)
    told = told_summary(home, account, at_hand)
    notes = {note.kind: note for note in home.store.computed_notes(account.id, id)}
    log = home.store.log(account.id, id)
    stands = logged(log, [jotting.kind for _, jotting in standing(log)])
    return SummaryOut(
        event=told_record(at_hand.record),
        pairs=told_pairs(told),
        squad_size=told.squad_size,
        bowler=told.bowler,
        hand=told.hand,
        house=told.house,
        patterns=list(told.patterns),
        problems=told_problems(told.problems),
        guessed=list(told.guessed),
        log=LoggedOut.model_validate(stands, from_attributes=True),
        **{
            kind.value: envelope(notes[kind], at_hand.inputs_of(kind)) if kind in notes else None
            for kind in Result
        },
    )


def told_summary(home: Home, account: Account, at_hand: AtHand) -> Summary:
    """An event in short, or what is wrong with it."""
    try:
        return summary_of(home.events.event(account.id, at_hand))
    except (InputRefusedError, InvalidValueError) as refused:
        return Summary(problems=_problems(refused))


def told_pairs(summary: Summary) -> list[PairOut]:
    """The pairs of an event, game by game."""
    return [PairOut.model_validate(one, from_attributes=True) for one in summary.pairs]


def told_problems(problems: tuple[Problem, ...]) -> list[ProblemOut]:
    """What is wrong with an event, as it is answered."""
    return [ProblemOut(**one) for one in problems_of(InputRefusedError(problems))]


def _problems(refused: NextpairError) -> tuple[Problem, ...]:
    if isinstance(refused, InputRefusedError):
        return refused.problems
    if isinstance(refused, InvalidValueError):
        return (Problem("", refused.field, str(refused.found), refused.allowed),)
    return ()


def _folder(home: Home, account: Account, id: UUID, private: bool) -> dict[str, str]:
    return folder_of(home.store, home.papers, account.id, id, others=not private)
