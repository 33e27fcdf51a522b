"""A pattern's page of the book: its notes, its results, and its nearest relatives."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query

from nextpair.application.pattern_book import kept_book
from nextpair.reports.pattern_book_json import similar_document
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import Json

router = APIRouter(tags=["patterns"])
PatternKey = Annotated[
    str, Query(max_length=200, description="the id of a pattern, or library: and its name")
]


@router.get("/similar")
def similar(home: Here, account: Visitor, pattern: PatternKey) -> Json:
    """As `nextpair similar --json`; of a pattern that is kept, or of the library."""
    return similar_document(kept_book(home.store, home.papers, account.id).page(pattern))
