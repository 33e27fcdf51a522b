"""Scores of an event, and shots and scores by file."""

from __future__ import annotations

from typing import Annotated
from uuid import UUID

from fastapi import APIRouter
from fastapi.responses import Response
from pydantic import BaseModel, Field

from nextpair.application.keeping import record_of
from nextpair.application.scores import scores_of, take_in_scores
from nextpair.application.shot_jottings import logged_shots, take_in_shots
from nextpair.domain.errors import InputRefusedError
from nextpair.domain.format import Counting
from nextpair.domain.record import Document, Kind
from nextpair.web.errors import problems_of
from nextpair.web.routes.log import Receipts, told_receipts
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import ProblemOut, Wire

router = APIRouter(prefix="/events/{id}", tags=["scores"])
LONGEST_FILE = 2_000_000


class FileText(Wire):
    """A file's text."""

    text: Annotated[str, Field(max_length=LONGEST_FILE)]


class FrameOut(BaseModel):
    """A frame's balls as they are written down, and the score after it once that is known."""

    marks: list[str]
    total: int | None


class GameOut(BaseModel):
    game: int
    frames: list[FrameOut]
    total: int | None
    so_far: int
    max_possible: int
    expected_finish: float
    pace: int | None
    source: str


class BowlerOut(BaseModel):
    games: list[GameOut]


class FieldOut(BaseModel):
    """Somebody's games, null for one that nobody wrote down."""

    name: str
    games: list[int | None]
    handicap: int
    total: int


class ScoresOut(BaseModel):
    bowler: BowlerOut
    field: list[FieldOut]
    problems: list[ProblemOut]


def counting_of(event: Document) -> Counting:
    """How the event counts; the usual way where its record says something else."""
    told = event.get("counting")
    return Counting(told) if told in list(Counting) else Counting.TRADITIONAL


@router.get("/scores")
def scores(id: UUID, home: Here, account: Visitor) -> ScoresOut:
    """The bowler's score sheet by the log, and the field's table."""
    event = record_of(home.store, account.id, Kind.EVENT, id).document
    counting = counting_of(event)
    found = scores_of(home.store.log(account.id, id), str(event.get("bowler_name")), counting)
    games = [GameOut.model_validate(game, from_attributes=True) for game in found.bowler]
    return ScoresOut(
        bowler=BowlerOut(games=games),
        field=[FieldOut.model_validate(row, from_attributes=True) for row in found.field],
        problems=[ProblemOut(**one) for one in problems_of(InputRefusedError(found.problems))],
    )


@router.get("/shots.csv", response_class=Response)
def shots_file(id: UUID, home: Here, account: Visitor) -> Response:
    """The shots that stand in the log, as shots.csv."""
    record_of(home.store, account.id, Kind.EVENT, id)
    text = home.papers.shots_text(logged_shots(home.store.log(account.id, id)))
    headers = {"Content-Disposition": 'attachment; filename="shots.csv"'}
    return Response(text, media_type="text/csv", headers=headers)


@router.post("/shots")
def take_in_shots_file(id: UUID, body: FileText, home: Here, account: Visitor) -> Receipts:
    """Add the shots of a shots.csv to the log, each once."""
    event = home.events.event(account.id, home.events.at_hand(account.id, id))
    shots = home.papers.shots(body.text, event)
    return told_receipts(take_in_shots(home.store, account.id, id, shots))


@router.post("/scores")
def take_in_scores_file(id: UUID, body: FileText, home: Here, account: Visitor) -> Receipts:
    """Add the scores of a scores.csv, or of rows copied out of a spreadsheet."""
    record_of(home.store, account.id, Kind.EVENT, id)
    scored = home.papers.scores(body.text)
    return told_receipts(take_in_scores(home.store, account.id, id, scored))
