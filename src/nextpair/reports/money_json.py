"""Stakes and ledgers as JSON: amounts are text in whole minor units of their currency, so that
nobody adds them up as floats. docs/guide/json.md lists every field.
"""

from __future__ import annotations

import json
from dataclasses import fields, is_dataclass
from decimal import Decimal
from typing import Any

from nextpair.domain.ledger import EventLedger, SeasonLedger
from nextpair.domain.money import USUAL_CURRENCY, rounded
from nextpair.domain.recap import RecapMoney
from nextpair.domain.stakes import Stakes
from nextpair.domain.standing import Prospects

CHANCE_DECIMALS, PINS_DECIMALS = 4, 1
CHANCES = frozenset({"chance", "chances"})
RATE = "rate"


def stakes_document(stakes: Stakes | None) -> dict[str, Any] | None:
    """Stakes as plain JSON; null where none are shown."""
    if stakes is None:
        return None
    document: dict[str, Any] = _plain(stakes)
    for stake, told in zip(stakes.stakes, document["stakes"], strict=True):
        for name in ("one", "all"):
            value = getattr(stake, name)
            if value is not None:
                told[name]["gain"] = str(rounded(value.gain, stakes.currency))
    return document


def money_document(ledger: EventLedger | SeasonLedger | RecapMoney) -> dict[str, Any]:
    """The ledger of an event, or of a season, or what a recap tells of it, as plain JSON."""
    document: dict[str, Any] = _plain(ledger)
    return document


def prospects_document(prospects: Prospects | None) -> dict[str, Any] | None:
    """What is still to be won as plain JSON; null where nothing is told of prizes or stages."""
    document: dict[str, Any] | None = _plain(prospects)
    return document


def render_ledger_json(season: SeasonLedger) -> str:
    """A season's ledger as one JSON document."""
    return json.dumps(money_document(season), ensure_ascii=False, allow_nan=False) + "\n"


def _plain(value: Any, currency: str = USUAL_CURRENCY, key: str = "") -> Any:
    """Amounts as text, in the currency that the object around them names."""
    if is_dataclass(value):
        currency = getattr(value, "currency", currency)
        home = getattr(value, "home_currency", None) or currency
        return {
            field.name: _plain(
                getattr(value, field.name),
                home if field.name.startswith("home_") else currency,
                field.name,
            )
            for field in fields(value)
        }
    if isinstance(value, tuple | list):
        return [_plain(item, currency, key) for item in value]
    if isinstance(value, Decimal):
        return str(value) if key == RATE else str(rounded(value, currency))
    if isinstance(value, float):
        is_chance = not CHANCES.isdisjoint(key.split("_"))
        decimals = CHANCE_DECIMALS if is_chance else PINS_DECIMALS
        return round(value, decimals) + 0.0
    return value
