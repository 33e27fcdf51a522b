"""A recap as plain JSON; docs/guide/json.md lists every field."""

from __future__ import annotations

import json
from typing import Any

from nextpair.domain.recap import Recap
from nextpair.reports.money_json import money_document
from nextpair.reports.recap_words import change_words, in_short, picture_words, use_words
from nextpair.reports.sheet_json import PICTURE_FIELDS, plain

AMOUNTS = frozenset({"money"})
"""Told in whole minor units of their currency."""


def recap_document(recap: Recap) -> dict[str, Any]:
    """A recap as plain JSON, with what its text and the picture's alternative say."""
    document: dict[str, Any] = plain(recap, leave_out=PICTURE_FIELDS | AMOUNTS | {"date"})
    for ball, told in zip(recap.bag, document["bag"], strict=True):
        told["words"] = use_words(ball, recap.games)
    return document | {
        "date": recap.date.isoformat(),
        "total_pins": recap.total_pins,
        "handicap_pins": recap.handicap_pins,
        "average_pins": round(recap.average_pins, 2),
        "in_short": in_short(recap),
        "changed": list(change_words(recap)),
        "picture_words": picture_words(recap),
        "money": None if recap.money is None else money_document(recap.money),
    }


def render_recap_json(recap: Recap) -> str:
    """A recap as one JSON document."""
    return json.dumps(recap_document(recap), ensure_ascii=False, allow_nan=False) + "\n"
