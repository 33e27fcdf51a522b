"""Where the account's own bowler scored: by lanes, length and volume."""

from __future__ import annotations

from fastapi import APIRouter

from nextpair.application.condition_chart import chart_of
from nextpair.application.outings import kept_outings
from nextpair.reports.pattern_book_json import conditions_document
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import Json

router = APIRouter(tags=["conditions"])


@router.get("/conditions")
def conditions(home: Here, account: Visitor) -> Json:
    """As `nextpair conditions --json`."""
    return conditions_document(chart_of(kept_outings(home.store, home.papers, account.id)))
