"""What an event and a season cost and bring: as planned, and as it came out.

Documents for people and programs outside: the fields are those of `nextpair ledger --json`, as
docs/guide/json.md lists them. Amounts are exact; they are rounded only where they are shown.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class LedgerLine:
    """One kind of cost or winnings: as planned, and as it came out (None: not known yet)."""

    kind: str
    planned: Decimal
    actual: Decimal | None

    @property
    def stands(self) -> Decimal:
        """As it came out, or else as planned."""
        return self.planned if self.actual is None else self.actual


@dataclass(frozen=True, slots=True)
class BreakEven:
    """What pays an event: the prize, the last place that brings as much (None: none does), and
    how many such events the first prize pays (None: there is none, or nothing to pay).

    chance : that the prize pays the event; None where nothing is known of the field.
    """

    prize: Decimal
    place: int | None
    events_paid_by_winning: int | None
    chance: float | None = None


@dataclass(frozen=True, slots=True)
class Expected:
    """What an event is expected to bring, where the field is known: prizes of the event itself,
    side pots and brackets still to be decided, and what is left of that after all costs."""

    prize: Decimal
    prize_sd: Decimal
    side: Decimal
    result: Decimal


@dataclass(frozen=True, slots=True)
class EventLedger:
    """The ledger of one event, in its currency.

    rate : units of the home currency for one of the event's; None where it is not known.
    cost : as it stands: paid where that is known, else planned. won, result : None until it is
        over. home_* : the same in the home currency.
    """

    event: str
    date: str
    currency: str
    home_currency: str | None
    rate: Decimal | None
    games: int
    is_over: bool
    costs: tuple[LedgerLine, ...]
    winnings: tuple[LedgerLine, ...]
    planned_cost: Decimal
    cost: Decimal
    cost_per_game: Decimal
    won: Decimal | None
    result: Decimal | None
    home_cost: Decimal | None
    home_result: Decimal | None
    break_even: BreakEven
    expected: Expected | None = None


@dataclass(frozen=True, slots=True)
class Sums:
    """Some events together; `won` and `result` are 0 where none is over."""

    events: int
    games: int
    cost: Decimal
    cost_per_game: Decimal | None
    won: Decimal
    result: Decimal


@dataclass(frozen=True, slots=True)
class CurrencyTotal:
    """The events of one currency, or all of them turned into one: those that are over as they came
    out, those to come as planned, and both by kind."""

    currency: str
    over: Sums
    to_come: Sums
    costs: tuple[LedgerLine, ...]
    winnings: tuple[LedgerLine, ...]


@dataclass(frozen=True, slots=True)
class SeasonLedger:
    """The ledger of a season.

    home : all events with a known rate, in the home currency; None where there is none.
    without_rate : events that are not in it. left_out : events whose records are not in order.
    """

    events: tuple[EventLedger, ...]
    totals: tuple[CurrencyTotal, ...]
    home: CurrencyTotal | None
    without_rate: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
