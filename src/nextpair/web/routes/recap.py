"""One event to be shown to anybody: looked at, and taken away as text, page or picture."""

from __future__ import annotations

from typing import Annotated
from uuid import UUID

from fastapi import APIRouter, Query
from fastapi.responses import Response

from nextpair.application.lessons import lessons_of_event
from nextpair.application.recap import recap_of
from nextpair.application.scores import known_scores
from nextpair.application.shot_jottings import noted_shots
from nextpair.application.store import Account
from nextpair.domain.recap import Recap
from nextpair.domain.sheet import Sheet
from nextpair.reports.recap_json import recap_document
from nextpair.reports.recap_markdown import render_recap_markdown
from nextpair.web.home import Home
from nextpair.web.routes.results import Result, newest_of
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import Json

router = APIRouter(tags=["recap"])
WithMoney = Annotated[bool, Query(description="with what the event cost and brought")]


@router.get("/events/{id}/recap")
def recap(id: UUID, home: Here, account: Visitor, money: WithMoney = False) -> Json:
    """What of an event may be shown to anybody, and the same as text."""
    told = _recap(home, account, id, money)
    return recap_document(told) | {"markdown": render_recap_markdown(told)}


@router.get("/events/{id}/recap.md", response_class=Response)
def text(id: UUID, home: Here, account: Visitor, money: WithMoney = False) -> Response:
    """The recap as Markdown."""
    told = render_recap_markdown(_recap(home, account, id, money))
    return _file(told, "text/markdown", "recap.md")


@router.get("/events/{id}/recap.html", response_class=Response)
def page(id: UUID, home: Here, account: Visitor, money: WithMoney = False) -> Response:
    """The recap as one page, to be passed on."""
    from nextpair.reports.recap_html import render_recap_html

    told = render_recap_html(_recap(home, account, id, money))
    return _file(told, "text/html", "recap.html")


@router.get("/events/{id}/recap.png", response_class=Response)
def picture(id: UUID, home: Here, account: Visitor, money: WithMoney = False) -> Response:
    """The recap as a picture."""
    from nextpair.reports.recap_picture import render_recap_png

    return _file(render_recap_png(_recap(home, account, id, money)), "image/png", "recap.png")


def _file(content: str | bytes, media_type: str, name: str) -> Response:
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(content, media_type=media_type, headers=headers)


def _recap(home: Home, account: Account, id: UUID, with_money: bool) -> Recap:
    event = home.events.event(account.id, home.events.at_hand(account.id, id))
    log = home.store.log(account.id, id)
    scores = known_scores(log, event.bowler_name, event.format.counting)
    sheet = newest_of(home, account, id, Result.SHEET, Sheet)
    bag = () if sheet is None else sheet.bag
    lessons = lessons_of_event(home.store, account.id, id)
    return recap_of(event, scores, noted_shots(log)[0], lessons, with_money, planned_bag=bag)
