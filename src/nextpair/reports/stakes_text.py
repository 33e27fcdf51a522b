"""Side pots, brackets and the money of an event for a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from nextpair.domain.ledger import EventLedger
from nextpair.domain.money import rounded
from nextpair.domain.stakes import Advice, Stake, Stakes
from nextpair.reports.ink import Ink, fitted
from nextpair.reports.ledger_text import event_lines
from nextpair.reports.money_words import amount_cell, stake_name
from nextpair.reports.wording import percent

NAME_COLUMNS = 28


def render_stakes_text(
    stakes: Stakes | None, ledger: EventLedger, columns: int = 80, *, colour: bool = False
) -> str:
    """What stakes are worth, where there are any to be shown, and the money of the event."""
    page = Ink(columns, colour, label_columns=15)
    lines = [] if stakes is None else _stakes(stakes, page)
    return "\n".join([*lines, *event_lines(ledger, page)]) + "\n"


def _stakes(stakes: Stakes, page: Ink) -> list[str]:
    lines = page.section(f"SIDE POTS AND BRACKETS, in {stakes.currency}")
    for words in stakes.words:
        lines += page.indented("  ", 2, words)
    lines += ["", page.strong(_cells("one entry", ("fee", "back", "spread", "chance"), "advice"))]
    lines += [_row(stake, stakes.currency, page) for stake in stakes.stakes]
    told = (
        "back: what it brings back on average; spread: one standard deviation of that; chance: "
        "of anything at all"
    )
    lines += page.indented("  ", 2, told, faint=True)
    for stake in stakes.stakes:
        lines += ["", f"  {page.strong(stake_name(stake))}"]
        for words in stake.words:
            lines += page.indented("  ", 2, words)
    lines += ["", *_together(stakes, page)]
    return lines + [line for word in stakes.cautions for line in page.indented("  - ", 4, word)]


def _together(stakes: Stakes, page: Ink) -> list[str]:
    if not stakes.cost:
        return []
    back, cost = (rounded(amount, stakes.currency) for amount in (stakes.returned, stakes.cost))
    told = (
        f"All that is still to be decided costs {cost} and brings back {back} {stakes.currency} "
        "on average."
    )
    return [*page.indented("  ", 2, told), ""]


def _row(stake: Stake, currency: str, page: Ink) -> str:
    one = stake.one
    cells = [amount_cell(stake.fee, currency), "", "", ""]
    if one is not None:
        cells[1:] = [
            amount_cell(one.returned, currency),
            amount_cell(one.sd, currency),
            percent(one.cash_chance),
        ]
    advice = stake.advice.value
    if stake.advice is Advice.WORTH_IT:
        advice = page.accent(advice)
    return _cells(stake_name(stake), cells, advice)


def _cells(name: str, cells: Sequence[str], advice: str) -> str:
    told = "".join(text.rjust(width) for text, width in zip(cells, (8, 9, 9, 11), strict=True))
    return f"  {fitted(name, NAME_COLUMNS)}{told}  {advice}"
