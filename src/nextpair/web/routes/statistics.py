"""What the bowler's games at an event say, and their luck."""

from __future__ import annotations

from dataclasses import replace
from threading import Lock
from uuid import UUID

from fastapi import APIRouter

from nextpair.application.event_statistics import event_statistics
from nextpair.application.shot_jottings import noted_shots
from nextpair.application.store import Account
from nextpair.domain.event import Event
from nextpair.domain.sheet import Sheet
from nextpair.domain.spare import SpareSheet
from nextpair.domain.statistics import GameStatistics
from nextpair.web.home import Home
from nextpair.web.routes.results import newest_of
from nextpair.web.visitor import Here, Visitor

router = APIRouter(prefix="/events/{id}", tags=["statistics"])
ONE_LUCK_AT_A_TIME = Lock()
NOT_WARM = "Luck is told once the program has warmed up: look again in a minute."


@router.get("/statistics")
def statistics(id: UUID, home: Here, account: Visitor) -> GameStatistics:
    """Strikes, pocket, carry, spares and leaves, each with its interval, and luck: against the
    newest sheet where there is one."""
    event = home.events.event(account.id, home.events.at_hand(account.id, id))
    return told_statistics(home, account, id, event)


def told_statistics(home: Home, account: Account, id: UUID, event: Event) -> GameStatistics:
    """The same of an event that was built already."""
    log = home.store.log(account.id, id)
    shots, _ = noted_shots(log)
    told = event_statistics(event, log)
    if not shots:
        return told
    if not home.is_warm:
        return replace(told, notes=(*told.notes, NOT_WARM))
    sheet = newest_of(home, account, id, "sheet", Sheet)
    spares = newest_of(home, account, id, "spares", SpareSheet)
    with ONE_LUCK_AT_A_TIME:
        return replace(told, luck=home.program.luck(event, shots, sheet, spares))
