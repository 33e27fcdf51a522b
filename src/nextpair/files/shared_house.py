"""A house that is shared: one TOML file with what is known of it, and visits to it."""

from __future__ import annotations

import os
from collections.abc import Iterable
from datetime import date
from pathlib import Path
from typing import Any
from uuid import UUID

import tomli_w
from pydantic import Field

from nextpair.application.visit_jottings import payload_of, require_lanes, visit_of
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.house_book import Visit
from nextpair.domain.record import Document
from nextpair.files.documents import document_of
from nextpair.files.fields import Id
from nextpair.files.forms import Form, fill
from nextpair.files.house_file import read_house
from nextpair.files.intake import Intake, Source, Words, key_shown
from nextpair.files.layout import Layout
from nextpair.files.text_file import read_toml

SHARED_HOUSE = "shared-house.toml"


class SharedHouseForm(Form):
    """The tables of a shared house: the keys of house.toml, and visits."""

    house: dict[str, Any] = Field(description="the house", examples=[{"name": "a", "lanes": 1}])
    visit: tuple[dict[str, Any], ...] = Field(default=(), description="visits to it")


class VisitId(Form):
    """What tells one visit from another, wherever it is kept."""

    id: Id = Field(description="id of the visit", examples=[str(UUID(int=0))])


def read_shared_house(source: Source) -> tuple[Document, tuple[Visit, ...]]:
    """The house's document and the visits. Raises InputRefusedError with every problem."""
    intake, layout = Intake(), Layout()
    tables = read_toml(source, intake)
    intake.close()
    form = fill(SharedHouseForm, tables or {}, source, intake)
    intake.close()
    document = document_of(form)
    house = read_house(layout.house(document["house"]), layout.intake)
    _tell_of_house(layout.intake, source, intake)
    intake.close()
    told = enumerate(document.get("visit", ()), start=1)
    visits = tuple(
        _visit(table, house.lanes, f"visit {number}: ", source, intake) for number, table in told
    )
    intake.close()
    return document["house"], visits


def load_shared_house(path: str | os.PathLike[str]) -> tuple[Document, tuple[Visit, ...]]:
    """A shared house on disk. Raises InputRefusedError."""
    return read_shared_house(Source.first(Path(path)))


def shared_house_text(document: Document, visits: Iterable[Visit]) -> str:
    """The text of the file."""
    return tomli_w.dumps({"house": document, "visit": [_table(visit) for visit in visits]})


def _tell_of_house(of_house: Intake, source: Source, intake: Intake) -> None:
    """Tell what is wrong with the house at its table of the shared file."""
    for problem in of_house.problems:
        place, found = f"house: {problem.place}", Words(problem.found)
        intake.refuse(source, place, found, problem.allowed)


def _table(visit: Visit) -> Document:
    return {"id": str(visit.id), **payload_of(visit), "date": visit.date}


def _visit(table: Document, lanes: int, at: str, source: Source, intake: Intake) -> Visit:
    form = fill(VisitId, {"id": table.get("id")}, source, intake, at)
    try:
        visit = visit_of(form.id, {key: table[key] for key in table if key != "id"})
        payload_of(visit)
        require_lanes(visit, lanes)
    except InvalidValueError as refused:
        intake.refuse(source, at + key_shown(refused.field), refused.found, refused.allowed)
        visit = Visit(form.id, date.min)
    return visit
