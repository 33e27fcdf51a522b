"""A season: figures over all events, balls, what is due, and goals."""

from __future__ import annotations

from fastapi import APIRouter
from fastapi.responses import Response

from nextpair.application.season import kept_season
from nextpair.application.store import Account
from nextpair.domain.season import Season
from nextpair.reports.season_calendar import render_season_calendar
from nextpair.reports.season_json import season_document
from nextpair.web.home import Home
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import Json

router = APIRouter(tags=["season"])


@router.get("/season")
def season(home: Here, account: Visitor) -> Json:
    """What all events that are kept say together, as of today."""
    return season_document(_season(home, account))


@router.get("/season.ics", response_class=Response)
def calendar(home: Here, account: Visitor) -> Response:
    """What is due, as a calendar that other programs read."""
    told = render_season_calendar(_season(home, account).deadlines, home.now())
    headers = {"Content-Disposition": 'attachment; filename="season.ics"'}
    return Response(told, media_type="text/calendar", headers=headers)


def _season(home: Home, account: Account) -> Season:
    today = home.now().astimezone().date()
    return kept_season(home.store, home.papers, account.id, today)
