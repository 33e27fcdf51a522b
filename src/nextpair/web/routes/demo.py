"""What comes with the program for trying it out: one event, and a season around it."""

from __future__ import annotations

from collections.abc import Iterable

from fastapi import APIRouter
from pydantic import BaseModel

from nextpair.application.bundle import SCORES, SHOTS
from nextpair.application.demo_season import (
    kept_events,
    put_season_away,
    read_season,
    take_in_season,
)
from nextpair.application.events import take_in_event
from nextpair.domain.record import Record
from nextpair.web.routes.events import EventMade
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import RecordOut, told_record

router = APIRouter(tags=["demo"])


class SeasonKept(BaseModel):
    """The season's events that are kept, first one first."""

    events: list[RecordOut]


@router.post("/demo", status_code=201)
def demo(home: Here, account: Visitor) -> EventMade:
    """The event that comes with the program; a second time it is the same one."""
    files = home.program.demo_files()
    beside = {name: text for name, text in files.items() if "/" not in name}
    del beside[SHOTS], beside[SCORES]  # whoever tries the program out logs games of their own
    record = take_in_event(home.store, home.papers, account.id, beside)
    return EventMade(event=told_record(record))


@router.get("/demo/season")
def demo_season(home: Here, account: Visitor) -> SeasonKept:
    """What is kept of the season that comes with the program."""
    return _told(kept_events(home.store, account.id))


@router.post("/demo/season", status_code=201)
def take_in_demo_season(home: Here, account: Visitor) -> SeasonKept:
    """Take in the season that comes with the program; a second time nothing changes."""
    season = read_season(home.papers, home.program.demo_files())
    return _told(take_in_season(home.store, home.papers, account.id, season))


@router.delete("/demo/season")
def put_demo_season_away(home: Here, account: Visitor) -> SeasonKept:
    """Delete what the season brought; taken in again it is as it was."""
    season = read_season(home.papers, home.program.demo_files())
    put_season_away(home.store, account.id, season)
    return _told(kept_events(home.store, account.id))


def _told(events: Iterable[Record]) -> SeasonKept:
    return SeasonKept(events=[told_record(event) for event in events])
