"""The pocket as one JSON document, `*.pocket.json`: short, for a phone that holds it offline.

docs/guide/pocket.md tells its parts. Boards count from the right edge; those of paths and bands
are whole tenths, and films are steps of colour, one hex digit a board.
"""

from __future__ import annotations

import json
from bisect import bisect_right
from collections.abc import Iterable
from typing import Any

from nextpair.domain.pocket import Pocket, PocketField
from nextpair.domain.sheet import GameCard, LaneCard
from nextpair.domain.spare import SpareCard
from nextpair.reports.packing_json import packing_parts
from nextpair.reports.palette import FILM_STEPS_UNITS
from nextpair.reports.sheet_json import plain

FORMAT = 1
"""Of the document; an older phone page refuses a newer one."""
TENTHS = 10
OF_A_GAME = (
    "game", "pair", "ball", "surface_grit", "room", "expected_score", "score_interval_80",
    "strike_probability", "spare_probability", "field_score", "usual_score",
    "shots_before_on_my_side", "shots_before_other_side", "move_from_previous_game", "fallback",
    "later_line", "why",
)  # fmt: skip
OF_A_STAGE = ("kind", "entrants", "games", "pins")
OF_A_LANE = ("lane", "line", "entry", "strike_probability")


def render_pocket_json(pocket: Pocket) -> str:
    """A pocket as its file holds it."""
    return json.dumps(
        pocket_document(pocket), ensure_ascii=False, allow_nan=False, separators=(",", ":")
    )


def pocket_document(pocket: Pocket) -> dict[str, Any]:
    """A pocket as plain values, ready to be written as JSON."""
    sheet = pocket.sheet
    return {
        "app": "nextpair",
        "pocket": FORMAT,
        "event_id": str(pocket.event_id),
        "made_at": pocket.made_at,
        "model_version": sheet.model_version,
        "seed": sheet.seed,
        "event": {
            "name": sheet.event,
            "date": sheet.date,
            "house": sheet.house,
            "bowler": sheet.bowler,
            "hand": sheet.hand,
            "games": pocket.games,
            "practice_minutes": pocket.practice_minutes,
            "surface_changes": pocket.surface_changes,
            "ball_limit": pocket.ball_limit,
            "pinfall": pocket.pinfall,
            "pattern_names": list(pocket.pattern_names),
            "rule_of_31_exit_board": plain(sheet.rule_of_31_exit_board),
            **_decided(pocket.field),
        },
        "pairs": plain(pocket.pairs),
        "balls": plain(pocket.balls),
        "games": [_game(game) for game in sheet.games],
        "practice": plain(sheet.practice),
        "condition": sheet.condition,
        "second_opinion": sheet.second_opinion,
        "guessed": list(sheet.guessed),
        "cautions": list(dict.fromkeys((*sheet.cautions, *pocket.spares.cautions))),
        "spares": {card.leave: spare_document(card) for card in pocket.spares.spares},
        "spares_alike": dict(pocket.alike),
        "reading": plain(pocket.reading),
        **packing_parts(pocket.packing),
        "squad": plain(pocket.field.squad),
    }


def _decided(field: PocketField) -> dict[str, Any]:
    """How the event is decided."""
    told = field.format
    return {
        "average": plain(field.average),
        "counting": told.counting,
        "cut_to": field.cut_to,
        "entries": field.entries,
        "handicap": plain(told.handicap),
        "places_paid": field.places_paid,
        "stages": [{name: getattr(stage, name) for name in OF_A_STAGE} for stage in told.stages],
    }


def _game(game: GameCard) -> dict[str, Any]:
    told = {name: plain(getattr(game, name), name) for name in OF_A_GAME}
    return told | {"lanes": [_lane(lane) for lane in game.lanes]}


def _lane(lane: LaneCard) -> dict[str, Any]:
    told = {name: plain(getattr(lane, name), name) for name in OF_A_LANE}
    return told | {
        "path": _tenths(lane.path_boards),
        "band": [_tenths(ends) for ends in lane.band_boards],
        "film": ["".join(map(_step, row)) for row in lane.film_units],
    }


def _tenths(boards: Iterable[float]) -> list[int]:
    return [round(TENTHS * board) for board in boards]


def _step(units: float) -> str:
    """Step of the film's colours: 0 dry to a."""
    return f"{bisect_right(FILM_STEPS_UNITS, units):x}"


def spare_document(card: SpareCard) -> dict[str, Any]:
    """How to shoot one leave, in short."""
    best, other = card.best, card.runner_up
    system = max(card.systems, key=lambda each: each.probability, default=None)
    return {
        "ball": best.ball,
        "surface_grit": best.surface_grit,
        "flat": best.flat,
        "line": plain(best.line),
        "probability": plain(best.probability, "probability"),
        "pass_boards": [round(board, 1) for board in best.pass_boards],
        "kind": card.kind,
        "runner_up": other
        and {"ball": other.ball, "probability": plain(other.probability, "probability")},
        "system": system and plain(system),
    }
