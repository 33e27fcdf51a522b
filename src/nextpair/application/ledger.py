"""The money of an event and of a season, in exact decimals: nothing is rounded here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from uuid import UUID

from nextpair.application.bundle import Papers
from nextpair.application.events import bundle_of
from nextpair.application.store import Store
from nextpair.domain.errors import InputRefusedError, InvalidValueError
from nextpair.domain.event import Event
from nextpair.domain.ledger import (
    BreakEven,
    CurrencyTotal,
    EventLedger,
    Expected,
    LedgerLine,
    SeasonLedger,
    Sums,
)
from nextpair.domain.money import BRACKETS, ENTRY_FEE, SIDE_POTS, Money
from nextpair.domain.record import Kind
from nextpair.domain.stakes import Stakes
from nextpair.domain.standing import Prospects

NOTHING = Decimal(0)
STAKED = SIDE_POTS, BRACKETS
"""Kinds of costs and winnings that are shown only to who wants to see them."""


def money_of_event(
    event: Event, prospects: Prospects | None = None, stakes: Stakes | None = None
) -> EventLedger:
    """The ledger of one event; with what is known of the field, what it is expected to bring."""
    money, bowler = event.money, event.bowler
    hidden: tuple[str, ...] = () if bowler.side_pots else STAKED
    is_over = money.winnings is not None
    costs = _costs(event, hidden)
    won = tuple((kind, won) for kind, won in money.winnings or () if kind not in hidden)
    winnings = tuple(LedgerLine(kind, NOTHING, amount) for kind, amount in won)
    cost = _sum(line.stands for line in costs)
    result = _sum(amount for _, amount in won) - cost if is_over else None
    rate = Decimal(1) if money.currency == bowler.home_currency else money.rate
    return EventLedger(
        event=event.name,
        date=event.date.isoformat(),
        currency=money.currency,
        home_currency=bowler.home_currency,
        rate=rate if bowler.home_currency is not None else None,
        games=event.games,
        is_over=is_over,
        costs=costs,
        winnings=winnings,
        planned_cost=_sum(line.planned for line in costs),
        cost=cost,
        cost_per_game=cost / event.games,
        won=_sum(amount for _, amount in won) if is_over else None,
        result=result,
        home_cost=_in_home(cost, rate, bowler.home_currency),
        home_result=_in_home(result, rate, bowler.home_currency),
        break_even=_break_even(money, cost, prospects),
        expected=None if is_over else _expected(cost, prospects, stakes),
    )


def season_ledger(events: Iterable[Event], left_out: Sequence[str] = ()) -> SeasonLedger:
    """The ledgers of some events, first ones first, and what they come to together."""
    ledgers = sorted((money_of_event(event) for event in events), key=lambda one: one.date)
    currencies = dict.fromkeys(one.currency for one in ledgers)
    homes = {one.home_currency for one in ledgers} - {None}
    home: CurrencyTotal | None = None
    without: tuple[str, ...] = ()
    if len(homes) == 1:
        known = [_at_home(one) for one in ledgers if one.home_cost is not None]
        without = tuple(one.event for one in ledgers if one.home_cost is None)
        home = _total(str(homes.pop()), known)
    return SeasonLedger(
        events=tuple(ledgers),
        totals=tuple(
            _total(currency, [one for one in ledgers if one.currency == currency])
            for currency in currencies
        ),
        home=home,
        without_rate=without,
        left_out=tuple(left_out),
    )


def kept_ledger(store: Store, papers: Papers, account: UUID) -> SeasonLedger:
    """The ledger of every event that is kept."""
    events, left_out = [], []
    for record in store.records(account, Kind.EVENT):
        try:
            events.append(papers.event(bundle_of(store, account, record.id)))
        except (InputRefusedError, InvalidValueError):
            left_out.append(record.name)
    return season_ledger(events, left_out)


def _costs(event: Event, hidden: Sequence[str]) -> tuple[LedgerLine, ...]:
    """Everything that costs something, or did in the end."""
    money = event.money
    planned = {
        ENTRY_FEE: money.entry_fee,
        **dict(money.expenses),
        SIDE_POTS: _sum(pot.cost(event.games) for pot in money.side_pots),
        BRACKETS: NOTHING if money.brackets is None else money.brackets.cost,
    }
    spent = dict(money.spent)
    kinds = [kind for kind in {**planned, **spent} if kind not in hidden]
    lines = [
        LedgerLine(kind, planned.get(kind, NOTHING), _actual(kind, planned, spent, money))
        for kind in kinds
    ]
    return tuple(line for line in lines if line.planned or line.actual)


def _actual(
    kind: str, planned: Mapping[str, Decimal], spent: Mapping[str, Decimal], money: Money
) -> Decimal | None:
    """What was paid; once an event is over, what nobody wrote down went as planned."""
    if kind in spent:
        return spent[kind]
    return None if money.winnings is None else planned[kind]


def _break_even(money: Money, cost: Decimal, prospects: Prospects | None) -> BreakEven:
    paying = [place for place, prize in enumerate(money.prizes, start=1) if prize >= cost]
    first = money.prizes[0] if money.prizes else NOTHING
    chance = None
    if prospects is not None:
        chance = sum(chance for prize, chance in prospects.prize_chances if prize >= cost)
    return BreakEven(
        prize=cost,
        place=paying[-1] if paying else None,
        events_paid_by_winning=int(first // cost) if first and cost else None,
        chance=chance,
    )


def _expected(
    cost: Decimal, prospects: Prospects | None, stakes: Stakes | None
) -> Expected | None:
    if prospects is None:
        return None
    side = NOTHING if stakes is None else stakes.returned
    prize = prospects.expected_prize
    return Expected(prize, prospects.prize_sd, side, prize + side - cost)


def _in_home(amount: Decimal | None, rate: Decimal | None, home: str | None) -> Decimal | None:
    return None if amount is None or rate is None or home is None else amount * rate


def _at_home(ledger: EventLedger) -> EventLedger:
    """A ledger whose rate is known, with its amounts in the home currency."""
    rate = ledger.rate or Decimal(1)

    def turned(line: LedgerLine) -> LedgerLine:
        actual = None if line.actual is None else line.actual * rate
        return replace(line, planned=line.planned * rate, actual=actual)

    return replace(
        ledger,
        costs=tuple(map(turned, ledger.costs)),
        winnings=tuple(map(turned, ledger.winnings)),
        cost=ledger.cost * rate,
        won=None if ledger.won is None else ledger.won * rate,
    )


def _total(currency: str, ledgers: Sequence[EventLedger]) -> CurrencyTotal:
    over = [one for one in ledgers if one.is_over]
    return CurrencyTotal(
        currency=currency,
        over=_sums(over),
        to_come=_sums([one for one in ledgers if not one.is_over]),
        costs=_by_kind(line for one in ledgers for line in one.costs),
        winnings=_by_kind(line for one in over for line in one.winnings),
    )


def _sums(ledgers: Sequence[EventLedger]) -> Sums:
    cost, games = _sum(one.cost for one in ledgers), sum(one.games for one in ledgers)
    won = _sum(one.won or NOTHING for one in ledgers)
    result = _sum((one.won or NOTHING) - one.cost for one in ledgers if one.is_over)
    return Sums(len(ledgers), games, cost, cost / games if games else None, won, result)


def _by_kind(lines: Iterable[LedgerLine]) -> tuple[LedgerLine, ...]:
    """Lines of each kind together; what came out is the sum of what is known of it."""
    kinds: dict[str, LedgerLine] = {}
    for line in lines:
        so_far = kinds.get(line.kind, LedgerLine(line.kind, NOTHING, None))
        known = [one.actual for one in (so_far, line) if one.actual is not None]
        kinds[line.kind] = LedgerLine(
            line.kind, so_far.planned + line.planned, _sum(known) if known else None
        )
    return tuple(kinds.values())


def _sum(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, NOTHING)
