"""A debrief as plain JSON; docs/guide/json.md lists every field."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from nextpair.domain.debrief import Debrief, GameAccount
from nextpair.domain.ledger import EventLedger
from nextpair.domain.lesson import Lesson
from nextpair.reports.debrief_words import (
    decision_words,
    fields_words,
    regret_words,
    spare_words,
    went_well,
    where_words,
)
from nextpair.reports.game_parts import told_parts, told_plan, told_sums
from nextpair.reports.money_json import money_document
from nextpair.reports.sheet_json import plain

AMOUNTS = frozenset({"money"})


def debrief_document(
    debrief: Debrief, lessons: Sequence[Lesson] = (), ledger: EventLedger | None = None
) -> dict[str, Any]:
    """A debrief as plain JSON, with what was decided on its findings; without money unless a
    ledger is given."""
    document: dict[str, Any] = plain(debrief, leave_out=AMOUNTS)
    for game, told in zip(debrief.games, document["games"], strict=True):
        told["told"] = _told(game)
    for finding, told in zip(debrief.findings, document["findings"], strict=True):
        told["decision"] = decision_words(finding, lessons)
        told["where_it_shows"] = where_words(finding.change)
    for spare, told in zip(debrief.spares, document["spares"], strict=True):
        told["words"] = spare_words(spare)
    for words, told in zip(fields_words(debrief), document["field"], strict=True):
        told["words"] = words
    return document | {
        "sums": {
            "planned_score": round(sum(told_plan(game) for game in debrief.games), 1),
            **told_sums(debrief.games),
            "score": sum(game.score for game in debrief.games),
        },
        "went_well": list(went_well(debrief)),
        "regret_words": regret_words(debrief.games),
        "money": None if ledger is None else money_document(ledger),
    }


def render_debrief_json(
    debrief: Debrief, lessons: Sequence[Lesson] = (), ledger: EventLedger | None = None
) -> str:
    """A debrief as one JSON document."""
    document = debrief_document(debrief, lessons, ledger)
    return json.dumps(document, ensure_ascii=False, allow_nan=False) + "\n"


def _told(game: GameAccount) -> dict[str, float]:
    return {"planned_score": told_plan(game), **told_parts(game), "score": game.score}
