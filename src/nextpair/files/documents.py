"""An event's files as documents: plain JSON with the keys of the files, checked as a whole."""

from __future__ import annotations

import os
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from enum import Enum
from math import isfinite
from pathlib import Path, PurePath
from typing import Any, TypeVar

from nextpair.application.bundle import SCORES, SHOTS, EarlierSquad, EventBundle, EventFolder
from nextpair.domain.record import Document
from nextpair.files.board_csv import BoardTable
from nextpair.files.bowler_file import BowlerForm
from nextpair.files.csv_file import read_rows
from nextpair.files.event_file import PATTERN_KEYS, EventForm, read_event
from nextpair.files.film_csv import read_film_table
from nextpair.files.folder import Table
from nextpair.files.forms import Form, fill, keys_of
from nextpair.files.heights_csv import read_height_table
from nextpair.files.house_file import HouseForm
from nextpair.files.intake import Intake, Source
from nextpair.files.locker_file import MAY_LACK, BallRow
from nextpair.files.pattern_file import PatternForm
from nextpair.files.pattern_library import marked_name
from nextpair.files.scores_file import read_scores
from nextpair.files.shots_file import read_shots
from nextpair.files.squad_file import EntrantRow
from nextpair.files.text_file import read_toml

NEIGHBOURS = ("house", *PATTERN_KEYS, "bowler", "locker", "squad", "earlier_squad")
"""Keys of event.toml that name other files."""

F = TypeVar("F", bound=Form)


def read_bundle(source: Source, intake: Intake) -> EventBundle:
    """The documents of an event, keys in the order of the guide.

    Raises InputRefusedError with every problem of its files.
    """
    read_event(source, intake)
    form = _filled(EventForm, source)
    event = document_of(form)
    patterns = [
        _pattern(name, source.neighbour(key, name))
        for key in PATTERN_KEYS
        if (name := getattr(form, key)) is not None
    ]
    return EventBundle(
        event={key: value for key, value in event.items() if key not in NEIGHBOURS},
        house=_house(source.neighbour("house", form.house)),
        left_pattern=patterns[0],
        right_pattern=patterns[1] if len(patterns) > 1 else None,
        bowler=document_of(_filled(BowlerForm, source.neighbour("bowler", form.bowler))),
        locker=_rows(BallRow, source.neighbour("locker", form.locker), MAY_LACK),
        squad=_rows(EntrantRow, source.neighbour("squad", form.squad)),
        earlier=tuple(
            EarlierSquad(
                {key: value for key, value in terms.items() if key != "squad"},
                _rows(EntrantRow, source.neighbour("squad", terms["squad"])),
                PurePath(terms["squad"]).stem,
            )
            for terms in event.get("earlier_squad", ())
        ),
        squad_name=PurePath(form.squad).stem,
    )


def load_folder(path: str | os.PathLike[str]) -> EventFolder:
    """An event on disk as documents, with its shots and scores. Raises InputRefusedError."""
    return read_folder(Source.first(Path(path)))


def read_folder(source: Source) -> EventFolder:
    """An event with the shots and scores that lie beside it, wherever that is."""
    bundle = read_bundle(source, Intake())
    beside, folder = source.path.parent, source.folder
    shots, scores = (Source.first(beside / name, folder) for name in (SHOTS, SCORES))
    event, intake = read_event(source, Intake()), Intake()
    logged = read_shots(shots, event, intake) if shots.is_there else ()
    field = read_scores(scores, intake) if scores.is_there else ()
    intake.close()
    return EventFolder(bundle, logged, field)


def document_of(form: Form) -> dict[str, Any]:
    """A filled form as plain JSON: what was given, and nothing that is typical."""
    document: dict[str, Any] = _plain(form.model_dump(by_alias=True, exclude_unset=True))
    return document


def _plain(value: Any) -> Any:
    """A value in JSON's kinds; a whole number without a point, as JavaScript writes it."""
    if isinstance(value, Mapping):
        return {key: _plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float | Decimal):
        return int(value) if isfinite(value) and value == int(value) else float(value)
    return value


def _filled(form: type[F], source: Source) -> F:
    return fill(form, read_toml(source, Intake()) or {}, source, Intake())


def _rows(
    form: type[Form], source: Source, may_lack: tuple[str, ...] = ()
) -> tuple[Document, ...]:
    rows = read_rows(source, keys_of(form), Intake(), may_lack)
    return tuple(document_of(fill(form, row.cells, source, Intake())) for row in rows)


def _pattern(name: str, source: Source) -> Document | str:
    return pattern_document(source) if marked_name(name) is None else name


def pattern_document(source: Source) -> dict[str, Any]:
    """The document of one pattern's file, whose form was checked."""
    form = _filled(PatternForm, source)
    document = document_of(form)
    if form.film is not None:
        table = read_film_table(source.neighbour("film.csv", form.film.csv), Intake())
        document["film"] = _boards(table, "units")
    return document


def _house(source: Source) -> Document:
    document = document_of(_filled(HouseForm, source))
    for lane in document.get("lane", ()):
        if "heights" in lane:
            table = read_height_table(source.neighbour("heights", lane["heights"]), Intake())
            lane["heights"] = _boards(table, "height_in")
    return document


def _boards(table: BoardTable | None, key: str) -> dict[str, Table]:
    return {} if table is None else _plain({"distance_ft": table.distance_ft, key: table.values})
