"""What to take to an event, for who owns it: private lines are among it."""

from __future__ import annotations

from enum import StrEnum
from uuid import UUID

from fastapi import APIRouter
from pydantic import BaseModel

from nextpair.application.at_hand import AtHand
from nextpair.application.jobs import is_stale
from nextpair.application.missing import missing_at, note_missing
from nextpair.application.packing_at_home import packed_by, ticked
from nextpair.application.store import Account
from nextpair.domain.record import Kind
from nextpair.domain.sheet import BagItem, Sheet
from nextpair.files.results import result_of
from nextpair.reports.packing_json import packing_document
from nextpair.web.home import Home
from nextpair.web.routes.results import KitName, Result
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import Json, Text, Wire

router = APIRouter(prefix="/events/{id}/packing", tags=["packing"])


class BagFrom(StrEnum):
    """What the sheet of an event says of its bag: nothing where there is none, or an old one."""

    SHEET = "sheet"
    OLD_SHEET = "old sheet"
    NO_SHEET = "no sheet"


class MissingIn(Wire):
    """A thing that was not there when it was needed."""

    item: Text


class NotedOut(BaseModel):
    """What is noted as missing at this event."""

    noted: list[str]


class PackingOut(NotedOut):
    """The list as `nextpair pack --private --json` tells it, and what stands beside it.

    kit : by which it is packed. done : what is packed already.
    """

    bag_from: BagFrom
    kit: str | None
    kits: list[str]
    done: list[str]
    packing: Json


@router.get("")
def packing(id: UUID, home: Here, account: Visitor, kit: KitName = None) -> PackingOut:
    """What to take; without balls as long as no sheet that holds has chosen any."""
    at_hand = home.events.at_hand(account.id, id)
    event = home.events.event(account.id, at_hand)
    bag_from, bag = _bag(home, account, at_hand)
    kits = [record.name for record in home.store.records(account.id, Kind.KIT)]
    packed = packed_by(home.store, home.papers, account.id, event, kit)
    log = home.store.log(account.id, id)
    return PackingOut(
        bag_from=bag_from,
        kit=packed.kit.name if kits else None,
        kits=kits,
        done=sorted(ticked(log)),
        noted=list(missing_at(log)),
        packing=packing_document(packed.list_of(event, bag)),
    )


@router.post("/missing")
def missing(id: UUID, body: MissingIn, home: Here, account: Visitor) -> NotedOut:
    """Note that a thing was not there, once: later lists begin with it."""
    event = home.events.event(account.id, home.events.at_hand(account.id, id))
    note_missing(home.store, account.id, event, id, [body.item])
    return NotedOut(noted=list(missing_at(home.store.log(account.id, id))))


def _bag(home: Home, account: Account, at_hand: AtHand) -> tuple[BagFrom, tuple[BagItem, ...]]:
    """The bag of the newest sheet, where it is of the event as it is now."""
    computed = home.store.computed(account.id, at_hand.record.id, Result.SHEET)
    if computed is None:
        return BagFrom.NO_SHEET, ()
    if is_stale(computed, at_hand.inputs):
        return BagFrom.OLD_SHEET, ()
    return BagFrom.SHEET, result_of(Sheet, computed.document).bag
