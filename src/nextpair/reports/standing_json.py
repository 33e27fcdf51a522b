"""A standing as plain JSON; docs/guide/json.md lists every field."""

from __future__ import annotations

import json
from typing import Any

from nextpair.domain.ledger import EventLedger
from nextpair.domain.stakes import Stakes
from nextpair.domain.standing import Standing
from nextpair.reports.money_json import money_document, prospects_document, stakes_document
from nextpair.reports.sheet_json import plain

AMOUNTS = frozenset({"prospects"})
"""Told in whole minor units of their currency."""


def standing_document(standing: Standing) -> dict[str, Any]:
    """A standing as plain JSON, amounts as text."""
    told: dict[str, Any] = plain(standing, leave_out=AMOUNTS)
    return told | {"prospects": prospects_document(standing.prospects)}


def render_standing_json(standing: Standing, stakes: Stakes | None, ledger: EventLedger) -> str:
    """A standing with stakes and the event's money as one JSON document."""
    document = standing_document(standing) | {
        "stakes": stakes_document(stakes),
        "money": money_document(ledger),
    }
    return json.dumps(document, ensure_ascii=False, allow_nan=False) + "\n"
