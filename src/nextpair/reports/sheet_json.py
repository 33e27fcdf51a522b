"""Sheets, bags, reads, paths, spares, scores, films and carry as JSON: one document each, units in
the names, boards from the right edge. docs/guide/json.md lists every field.
"""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import fields, is_dataclass
from datetime import date
from typing import Any
from uuid import UUID

from nextpair.application.film import FilmCard
from nextpair.application.score_sheet import ScoreSheet
from nextpair.domain.belief import Read
from nextpair.domain.carry import CarryMap
from nextpair.domain.proof import Proof
from nextpair.domain.sheet import Sheet
from nextpair.domain.shot import PathCard
from nextpair.domain.spare import SpareSheet

DECIMALS = {
    "strike_probability": 4,
    "strike_probability_by_board": 4,
    "strike_error": 4,
    "spare_probability": 4,
    "probability": 4,
    "probability_error": 4,
    "left_probability": 4,
    "runner_up_loses_probability": 4,
    "more_probability": 4,
    "release_probability": 4,
    "better_probability": 4,
    "sure_probability": 4,
    "so_few_probability": 4,
    "mean_share": 4,
    "share_interval_80": 4,
    "chance": 4,
    "cut_chance": 4,
    "reach_chance": 4,
    "win_chance": 4,
    "cash_chance": 4,
    "mean": 3,
    "sd": 3,
    "rows": 5,
    "expected_score": 1,
    "expected_finish": 1,
    "bad_case_score": 1,
    "field_score": 1,
    "usual_score": 1,
}
OTHER_DECIMALS = 2
PICTURE_FIELDS = frozenset({"film_units"})
"""Left out of sheets and paths: only pictures need them."""
FILM_MAPS = PICTURE_FIELDS | {"film_units_at"}


def render_sheet_json(sheet: Sheet) -> str:
    """A sheet as one JSON document."""
    return _document(plain(sheet, leave_out=PICTURE_FIELDS))


def sheet_with_films(sheet: Sheet) -> dict[str, Any]:
    """A sheet as plain JSON with each lane's film, as pictures on a screen need it."""
    document: dict[str, Any] = plain(sheet, leave_out=PICTURE_FIELDS)
    for game, told in zip(sheet.games, document["games"], strict=True):
        for lane, told_lane in zip(game.lanes, told["lanes"], strict=True):
            told_lane["film_units"] = _film_tenths(lane.film_units)
    return document


def path_with_film(path: PathCard) -> dict[str, Any]:
    """One shot as plain JSON with the film that it rolled on."""
    document: dict[str, Any] = plain(path, leave_out=PICTURE_FIELDS)
    return document | {"film_units": _film_tenths(path.film_units)}


def read_document(read: Read) -> dict[str, Any]:
    """A read as plain JSON."""
    document: dict[str, Any] = plain(read)
    return document


def spares_document(spares: SpareSheet) -> dict[str, Any]:
    """How to shoot leaves as plain JSON."""
    document: dict[str, Any] = plain(spares)
    return document


def film_document(film: FilmCard) -> dict[str, Any]:
    """A fresh film as plain JSON."""
    measured: dict[str, Any] = plain(film)
    pattern: dict[str, Any] = measured.pop("pattern")
    return pattern | measured


def render_bag_json(sheet: Sheet) -> str:
    """The bag of a sheet as one JSON document."""
    whole = plain(sheet, leave_out=PICTURE_FIELDS)
    keys = ("event", "model_version", "seed", "bag", "bag_worth", "left_at_home", "cautions")
    return _document({key: whole[key] for key in keys})


def render_read_json(read: Read) -> str:
    """A read as one JSON document, with the draws that it stands on."""
    return _document(read_document(read))


def render_paths_json(paths: Sequence[PathCard]) -> str:
    """One shot as one JSON document; several as that of the first, with all of them as `paths`."""
    shots = [plain(path, leave_out=PICTURE_FIELDS) for path in paths]
    return _document(shots[0] | {"paths": shots if len(shots) > 1 else None})


def render_carry_json(carry: CarryMap) -> str:
    """The carry table for one ball and speed as one JSON document."""
    return _document(plain(carry))


def render_spares_json(spares: SpareSheet) -> str:
    """How to shoot leaves as one JSON document."""
    return _document(spares_document(spares))


def render_proof_json(proof: Proof) -> str:
    """The proof as one JSON document; whether a figure is met stands beside it."""
    document = plain(proof)
    for figure, told in zip(proof.figures, document["figures"], strict=True):
        if figure.met is not None:
            told["met"] = figure.met
    return _document(document)


def render_score_json(sheet: ScoreSheet) -> str:
    """A score sheet as one JSON document."""
    return _document(plain(sheet))


def render_film_json(film: FilmCard) -> str:
    """A fresh film as one JSON document, the whole map with it: 60 rows of 39 boards."""
    return _document(film_document(film))


def render_patterns_json(films: Sequence[FilmCard]) -> str:
    """A list of patterns as one JSON document: what a film's has, without the maps."""
    listed = [plain(film, leave_out=FILM_MAPS) for film in films]
    return _document({"patterns": [each.pop("pattern") | each for each in listed]})


def _film_tenths(film_units: Sequence[Sequence[float]]) -> list[list[float]]:
    """A film as fine as colours can show it."""
    return [[round(units, 1) for units in row] for row in film_units]


def _document(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False) + "\n"


def plain(value: Any, key: str = "", leave_out: frozenset[str] = frozenset()) -> Any:
    """Dataclasses as objects, tuples as arrays, days as text, numbers rounded, what is not finite
    as null; `key` names what a bare number is."""
    if key == "leaves":
        return [
            {"pins": pins, "probability": _rounded(chance, "probability")}
            for pins, chance in value
        ]
    if is_dataclass(value):
        return {
            field.name: plain(getattr(value, field.name), field.name, leave_out)
            for field in fields(value)
            if field.name not in leave_out
        }
    if isinstance(value, dict):
        return {name: plain(item, key, leave_out) for name, item in value.items()}
    if isinstance(value, tuple | list):
        return [plain(item, key, leave_out) for item in value]
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, UUID):
        return str(value)
    return _rounded(value, key) if isinstance(value, float) else value


def _rounded(number: float, key: str) -> float | None:
    if not math.isfinite(number):
        return None
    return round(number, DECIMALS.get(key, OTHER_DECIMALS)) + 0.0  # never -0.0
