"""The library of patterns, and what a pattern is in numbers."""

from __future__ import annotations

from fastapi import APIRouter
from pydantic import model_validator

from nextpair.application.keeping import LIBRARY_MARK
from nextpair.domain.record import Document
from nextpair.reports.sheet_json import film_document
from nextpair.web.home import Home
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import Json, JsonIn, Library, LibraryPattern, Text, Wire

router = APIRouter(tags=["patterns"])


class FilmOf(Wire):
    """A pattern by its document, or one of the library by its name."""

    document: JsonIn | None = None
    name: Text | None = None

    @model_validator(mode="after")
    def _one_of_both(self) -> FilmOf:
        if (self.document is None) == (self.name is None):
            raise ValueError("either a document or a name")
        return self


@router.get("/library")
def library(home: Here, _account: Visitor) -> Library:
    """The patterns that come with the program, short ones first."""
    if home.library is None:
        listed = [_listed(home, document) for document in home.papers.library()]
        home.library = Library(items=listed)
    return home.library


@router.post("/patterns/film")
def film(body: FilmOf, home: Here, _account: Visitor) -> Json:
    """What a pattern is in numbers, with its film: 60 rows of 39 boards, right to left."""
    asked = body.document if body.document is not None else body.name
    return film_document(home.program.measure_film(home.papers.pattern(asked or "")))


def _listed(home: Home, document: Document) -> LibraryPattern:
    measured = home.program.measure_film(home.papers.pattern(document))
    return LibraryPattern(
        name=f"{LIBRARY_MARK} {measured.pattern.name}",
        document=dict(document),
        length_ft=measured.pattern.length_ft,
        volume_ml=round(measured.pattern.volume_ml, 2),
        ratio=round(measured.pattern.ratio, 2),
        description=measured.description,
    )
