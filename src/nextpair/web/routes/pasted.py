"""Rows that were pasted, read while somebody looks at them; nothing is kept."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict

from fastapi import APIRouter
from pydantic import BaseModel

from nextpair.domain.errors import InputRefusedError, Problem
from nextpair.domain.record import Document, Kind
from nextpair.files.pasted import pasted_scores
from nextpair.web.errors import problems_of
from nextpair.web.routes.scores import FileText
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import Json, ProblemOut

router = APIRouter(tags=["pasted"])


class Rows(BaseModel):
    """The rows that are understood, and what is wrong with the others."""

    rows: list[Json]
    problems: list[ProblemOut]


@router.post("/squads/paste")
def squad(body: FileText, home: Here, _account: Visitor) -> Rows:
    """Rows of a squad."""
    return _told(*home.papers.pasted(Kind.SQUAD, body.text))


@router.post("/balls/paste")
def balls(body: FileText, home: Here, _account: Visitor) -> Rows:
    """Rows of a locker."""
    return _told(*home.papers.pasted(Kind.BALL, body.text))


@router.post("/scores/paste")
def scores(body: FileText, _account: Visitor) -> Rows:
    """Scores of the field."""
    found, problems = pasted_scores(body.text)
    return _told([asdict(score) for score in found], problems)


def _told(rows: Iterable[Document], problems: tuple[Problem, ...]) -> Rows:
    return Rows(
        rows=[dict(row) for row in rows],
        problems=[ProblemOut(**one) for one in problems_of(InputRefusedError(problems))],
    )
