"""What an event's side pots and brackets are worth, its money, and the money of a season."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from fastapi import APIRouter
from pydantic import BaseModel

from nextpair.application.ledger import kept_ledger
from nextpair.application.scores import known_scores
from nextpair.reports.money_json import money_document, stakes_document
from nextpair.web.visitor import Here, Visitor

router = APIRouter(tags=["money"])


class MoneyOut(BaseModel):
    """As `stakes` and `money` of `nextpair standing --json`; no stakes where none are shown."""

    stakes: dict[str, Any] | None
    money: dict[str, Any]


@router.get("/events/{id}/money")
def money(id: UUID, home: Here, account: Visitor) -> MoneyOut:
    """What stakes are worth by the scores so far, and the event's ledger."""
    event = home.events.event(account.id, home.events.at_hand(account.id, id))
    log = home.store.log(account.id, id)
    scores = known_scores(log, event.bowler_name, event.format.counting)
    seed = home.program.settings.seed
    stakes = home.program.stakes(event, scores, seed)
    prospects = home.program.standing(event, scores, seed).prospects
    return MoneyOut(
        stakes=stakes_document(stakes),
        money=money_document(home.program.money(event, prospects, stakes)),
    )


@router.get("/ledger")
def ledger(home: Here, account: Visitor) -> dict[str, Any]:
    """The ledger of every event that is kept."""
    return money_document(kept_ledger(home.store, home.papers, account.id))
