"""How kinds of stakes, costs and winnings are called, and how amounts stand in a table."""

from __future__ import annotations

from decimal import Decimal

from nextpair.domain.money import PRIZE, amount_words, rounded
from nextpair.domain.stakes import BRACKET, Stake

KIND_WORDS = {PRIZE: "prizes"}


def kind_words(kind: str) -> str:
    """A kind as it is said: 'entry fee'."""
    return KIND_WORDS.get(kind, kind.replace("_", " "))


def stake_name(stake: Stake) -> str:
    """'high game, one pot a game', 'brackets of 8'."""
    if stake.per == BRACKET:
        return f"{kind_words(stake.kind)} of {stake.entries}"
    return f"{kind_words(stake.kind)}, one a {stake.per}"


def amount_cell(amount: Decimal | None, currency: str) -> str:
    """An amount in a table, empty where it is not known."""
    return "" if amount is None else str(rounded(amount, currency))


def said(amount: Decimal, currency: str) -> str:
    """A gain with its sign: '+12.50 EUR'."""
    sign = "+" if rounded(amount, currency) > 0 else ""
    return f"{sign}{amount_words(amount, currency)}"
