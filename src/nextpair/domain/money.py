"""What an event costs and pays. Amounts are exact decimals in the event's currency."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from nextpair.domain.errors import require, require_within

MOST_ENTRIES = 10_000


@dataclass(frozen=True, slots=True)
class SidePot:
    """A pot beside the main event; `pays` are the shares of the pot by place."""

    kind: str
    fee: Decimal
    entries: int
    pays: tuple[float, ...]
    per: str = "squad"

    def __post_init__(self) -> None:
        require(self.fee >= 0, "side_pots.fee", str(self.fee), "0 or more")
        require_within("side_pots.entries", self.entries, 1, MOST_ENTRIES, "entries")
        require(
            0 < sum(self.pays) <= 1 + 1e-9 and all(share >= 0 for share in self.pays),
            "side_pots.pays",
            list(self.pays),
            "shares of the pot that add up to at most 1",
        )


@dataclass(frozen=True, slots=True)
class Brackets:
    """Single-elimination brackets; `pays` are amounts by place."""

    fee: Decimal
    size: int
    pays: tuple[Decimal, ...]
    count: int

    def __post_init__(self) -> None:
        require(self.fee >= 0, "brackets.fee", str(self.fee), "0 or more")
        require(self.size in (2, 4, 8, 16, 32), "brackets.size", self.size, "2, 4, 8, 16 or 32")
        require_within("brackets.count", self.count, 0, 1000, "brackets")
        require(
            all(amount >= 0 for amount in self.pays),
            "brackets.pays",
            [str(amount) for amount in self.pays],
            "amounts of 0 or more",
        )
        require(
            sum(self.pays) <= self.fee * self.size,
            "brackets.pays",
            [str(amount) for amount in self.pays],
            f"together at most size x fee ({self.fee * self.size})",
        )


@dataclass(frozen=True, slots=True)
class Money:
    """Entry, costs and prizes of one event."""

    entry_fee: Decimal = Decimal(0)
    currency: str = "EUR"
    expenses: tuple[tuple[str, Decimal], ...] = ()
    entries: int = 1
    cut_to: int | None = None
    prizes: tuple[Decimal, ...] = ()
    side_pots: tuple[SidePot, ...] = ()
    brackets: Brackets | None = None

    def __post_init__(self) -> None:
        require(self.entry_fee >= 0, "money.entry_fee", str(self.entry_fee), "0 or more")
        require(
            len(self.currency) == 3 and self.currency.isupper(),
            "money.currency",
            self.currency,
            "three capital letters such as EUR",
        )
        require_within("money.entries", self.entries, 1, MOST_ENTRIES, "entries")
        for kind, amount in self.expenses:
            require(amount >= 0, f"money.expenses.{kind}", str(amount), "0 or more")
        if self.cut_to is not None:
            require_within("money.cut_to", self.cut_to, 1, self.entries, "(at most entries)")
        require(
            list(self.prizes) == sorted(self.prizes, reverse=True)
            and all(prize >= 0 for prize in self.prizes),
            "money.prizes",
            [str(prize) for prize in self.prizes],
            "amounts of 0 or more, largest first",
        )
