"""The money of an event and of a season for a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from nextpair.domain.ledger import CurrencyTotal, EventLedger, LedgerLine, SeasonLedger, Sums
from nextpair.domain.money import amount_words, rounded
from nextpair.reports.ink import Ink, fitted
from nextpair.reports.money_words import amount_cell, kind_words, said
from nextpair.reports.wording import counted, date_words, percent

NOTHING_KEPT = "No event is kept: name event files, or keep some with nextpair import."
KIND_COLUMNS, AMOUNT_COLUMNS = 28, 12
EVENT_COLUMNS, SEASON_COLUMNS = 29, 11


def render_ledger_text(season: SeasonLedger, columns: int = 80, *, colour: bool = False) -> str:
    """A season's ledger; of one event alone, that one's."""
    page = Ink(columns, colour, label_columns=15)
    if len(season.events) == 1 and not season.left_out:
        only = season.events[0]
        heading = [page.strong(only.event), date_words(only.date)]
        return "\n".join([*heading, *event_lines(only, page)]) + "\n"
    lines = [page.strong(f"Ledger of {counted(len(season.events), 'event')}"), ""]
    if not season.events:
        lines.append(NOTHING_KEPT)
    else:
        lines += _events(season.events, page)
    for total in season.totals:
        lines += _total(total, f"TOTAL in {total.currency}", page)
    if season.home is not None and len(season.totals) > 1:
        lines += _total(season.home, f"ALL in {season.home.currency}, at the rates given", page)
    for words in _notes(season):
        lines += ["", *page.indented("  - ", 4, words)]
    return "\n".join(lines) + "\n"


def event_lines(ledger: EventLedger, page: Ink) -> list[str]:
    """The money of one event, as a part of a page."""
    currency = ledger.currency
    lines = page.section(f"MONEY, in {currency}")
    lines.append(page.strong(_row("", "planned", "came out")))
    lines += [_line(line, currency) for line in ledger.costs]
    planned, cost = (amount_cell(one, currency) for one in (ledger.planned_cost, ledger.cost))
    lines.append(page.strong(_row("cost", planned, cost if ledger.is_over else "")))
    lines += [_line(line, currency, "won, ") for line in ledger.winnings]
    if ledger.result is not None:
        lines.append(page.strong(_row("result", "", amount_cell(ledger.result, currency))))
    lines.append("")
    lines += page.labelled("A game", f"{amount_words(ledger.cost_per_game, currency)}.")
    if ledger.home_cost is not None and ledger.home_currency not in (None, currency):
        lines += page.labelled("At home", _home_words(ledger))
    if not ledger.is_over:
        lines += page.labelled("Break-even", break_even_words(ledger))
    if ledger.expected is not None:
        lines += page.labelled("Expected", expected_words(ledger))
    return lines


def break_even_words(ledger: EventLedger) -> str:
    """Which prize pays the event, and how many such events winning pays."""
    even, currency = ledger.break_even, ledger.currency
    if not even.prize:
        return "it costs nothing."
    told = f"a prize of {amount_words(even.prize, currency)} pays the event"
    if even.place is None:
        told += ", and no place brings as much"
    else:
        told += f": place {even.place} or better"
        told += f", {percent(even.chance)} likely" if even.chance is not None else ""
    if even.events_paid_by_winning:
        told += f". To win pays {counted(even.events_paid_by_winning, 'such event')}"
    return f"{told}."


def expected_words(ledger: EventLedger) -> str:
    """What the event is expected to bring."""
    expected, currency = ledger.expected, ledger.currency
    if expected is None:
        return ""
    side = f" and {amount_words(expected.side, currency)} of stakes" if expected.side else ""
    return (
        f"{amount_words(expected.prize, currency)} of prizes, give or take "
        f"{amount_words(expected.prize_sd, currency)}{side} on average; after all costs "
        f"{said(expected.result, currency)}. An estimate."
    )


def _home_words(ledger: EventLedger) -> str:
    home = str(ledger.home_currency)
    told = f"{amount_words(ledger.home_cost or ledger.cost, home)} at {ledger.rate}"
    if ledger.home_result is not None:
        told += f", with {said(ledger.home_result, home)} in the end"
    return f"{told}."


def _line(line: LedgerLine, currency: str, before: str = "") -> str:
    planned = amount_cell(line.planned, currency) if line.planned else ""
    return _row(before + kind_words(line.kind), planned, amount_cell(line.actual, currency))


def _row(name: str, planned: str, actual: str) -> str:
    name = fitted(name, KIND_COLUMNS)
    return f"  {name}{planned:>{AMOUNT_COLUMNS}}{actual:>{AMOUNT_COLUMNS}}".rstrip()


def _events(events: Sequence[EventLedger], page: Ink) -> list[str]:
    heading = f"  {'day':<12}{'event':<{EVENT_COLUMNS}}" + "".join(
        name.rjust(SEASON_COLUMNS) for name in ("cost", "won", "result")
    )
    lines = [page.strong(heading)]
    for one in events:
        cells = (one.cost, one.won, one.result)
        told = "".join(amount_cell(cell, one.currency).rjust(SEASON_COLUMNS) for cell in cells)
        name = fitted(one.event, EVENT_COLUMNS - 1)
        lines.append(f"  {one.date:<12}{name} {told} {one.currency}".rstrip())
    told = "nothing won and no result: not over, and the cost is as planned"
    return (
        lines
        if all(one.is_over for one in events)
        else [
            *lines,
            *page.indented("  ", 2, told, faint=True),
        ]
    )


def _total(total: CurrencyTotal, title: str, page: Ink) -> list[str]:
    lines = page.section(title)
    for name, sums in (("Over", total.over), ("To come", total.to_come)):
        if sums.events:
            lines += page.labelled(name, _sums_words(sums, total.currency, name == "Over"))
    lines += ["", page.strong(_row("by kind", "planned", "came out"))]
    lines += [_line(line, total.currency) for line in total.costs]
    return lines + [_line(line, total.currency, "won, ") for line in total.winnings]


def _sums_words(sums: Sums, currency: str, over: bool) -> str:
    told = (
        f"{counted(sums.events, 'event')}, {counted(sums.games, 'game')}: "
        f"{amount_words(sums.cost, currency)}"
    )
    if sums.cost_per_game is not None:
        told += f", {rounded(sums.cost_per_game, currency)} a game"
    if over:
        told += f"; {amount_words(sums.won, currency)} won, {said(sums.result, currency)}"
    return f"{told}."


def _notes(season: SeasonLedger) -> list[str]:
    notes = []
    if season.without_rate:
        names = ", ".join(season.without_rate)
        notes.append(f"Without a rate, and so in no total at home: {names}.")
    if season.left_out:
        names = ", ".join(season.left_out)
        notes.append(f"Not in order, and so left out: {names}.")
    return notes
