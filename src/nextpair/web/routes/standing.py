"""Where the bowler stands in the field of an event."""

from __future__ import annotations

from uuid import UUID

from fastapi import APIRouter

from nextpair.application.scores import known_scores
from nextpair.reports.standing_json import standing_document
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import Json

router = APIRouter(tags=["standing"])


@router.get("/events/{id}/standing")
def standing(id: UUID, home: Here, account: Visitor) -> Json:
    """The field, how it scores, and the cut, by the scores in the log. What stakes and money come
    to is told beside it."""
    event = home.events.event(account.id, home.events.at_hand(account.id, id))
    log = home.store.log(account.id, id)
    scores = known_scores(log, event.bowler_name, event.format.counting)
    return standing_document(home.program.standing(event, scores, home.program.settings.seed))
