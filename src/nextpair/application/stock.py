"""What is used up: how long a stock lasts over the events to come."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nextpair.application.packing_trip import Trip
from nextpair.domain.kit import Kit, Stock, UsedPer
from nextpair.domain.packing import Reorder


def reorders(kit: Kit, trips: Sequence[Trip]) -> tuple[Reorder, ...]:
    """Stocks that run low: that the first of these events, or a later one, empties or takes below
    what its bowler wants in hand."""
    return tuple(found for stock in kit.stock for found in _reorder(stock, trips))


def takes(stock: Stock, trip: Trip) -> float:
    """How much of a stock an event uses."""
    times = {UsedPer.EVENT: 1.0, UsedPer.GAME: float(trip.games), UsedPer.HOUR: trip.hours}
    return stock.use * times[stock.per]


def _reorder(stock: Stock, trips: Sequence[Trip]) -> Iterator[Reorder]:
    used = takes(stock, trips[0])
    left = stock.have
    lasts: list[str] = []
    for trip in trips:
        left -= takes(stock, trip)
        if left < 0:
            break
        lasts.append(trip.event.name)
    at_first = stock.have - used
    if left >= stock.reorder_below and len(lasts) == len(trips):
        return
    yield Reorder(
        item=stock.item,
        have=stock.have,
        takes=used,
        left=at_first,
        unit=stock.unit,
        words=_words(stock, trips, lasts),
    )


def _words(stock: Stock, trips: Sequence[Trip], lasts: Sequence[str]) -> str:
    if not lasts:
        return f"Too little for {trips[0].event.name}: buy more before you go."
    if len(lasts) < len(trips):
        out = trips[len(lasts)].event.name
        return f"Lasts for {', '.join(lasts)}; runs out at {out}."
    amount = f"{stock.reorder_below:g} {stock.unit}".strip()
    return f"Lasts for {', '.join(lasts)}, and leaves less than {amount}."
