"""What an event costs and pays. Amounts are exact decimals in the event's currency."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal
from enum import StrEnum

from nextpair.domain.errors import require, require_within

MOST_ENTRIES = 10_000
MOST_OWN_ENTRIES = 1000
USUAL_CURRENCY, USUAL_MINOR_DIGITS = "EUR", 2
MINOR_DIGITS = {
    **dict.fromkeys(("BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW"), 0),
    **dict.fromkeys(("PYG", "RWF", "UGX", "VND", "VUV", "XAF", "XOF", "XPF"), 0),
    **dict.fromkeys(("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"), 3),
}
"""Decimals of the minor unit of currencies that have not two. Source: [iso-4217] list one."""

Amounts = tuple[tuple[str, Decimal], ...]
"""Amounts by kind."""

ENTRY_FEE, PRIZE, SIDE_POTS, BRACKETS, OTHER = (
    "entry_fee",
    "prize",
    "side_pots",
    "brackets",
    "other",
)
"""Kinds of what is paid and won that are no expense of the bowler's own naming."""
OWN_COSTS = ENTRY_FEE, SIDE_POTS, BRACKETS
"""Costs that follow from other keys, so that no expense may be called so."""
WINNINGS = PRIZE, SIDE_POTS, BRACKETS, OTHER


class PotKind(StrEnum):
    """Side pots that can be valued. A pot of another kind is told with its fee alone."""

    HIGH_GAME = "high_game"
    HIGH_SERIES = "high_series"
    MYSTERY_GAME = "mystery_game"
    ELIMINATOR = "eliminator"


@dataclass(frozen=True, slots=True)
class SidePot:
    """A pot beside the main event; `pays` are the shares of the pot by place.

    handicap : whether handicap counts in it; None is as in the event.
    count : how many entries the bowler makes, in each of its pots.
    """

    kind: str
    fee: Decimal
    entries: int
    pays: tuple[float, ...]
    per: str = "squad"
    handicap: bool | None = None
    count: int = 1

    def __post_init__(self) -> None:
        require(self.fee >= 0, "side_pots.fee", str(self.fee), "0 or more")
        require_within("side_pots.entries", self.entries, 1, MOST_ENTRIES, "entries")
        require(
            0 < sum(self.pays) <= 1 + 1e-9 and all(share >= 0 for share in self.pays),
            "side_pots.pays",
            list(self.pays),
            "shares of the pot that add up to at most 1",
        )
        require_within("side_pots.count", self.count, 0, MOST_OWN_ENTRIES, "entries")

    def pots(self, games: int) -> int:
        """How many pots there are in an event of so many games."""
        return games if self.per == "game" else 1

    def cost(self, games: int) -> Decimal:
        """What the bowler's entries cost in an event of so many games."""
        return self.fee * self.count * self.pots(games)


@dataclass(frozen=True, slots=True)
class Brackets:
    """Single-elimination brackets; `pays` are amounts by place.

    count : how many places the bowler takes, each in a bracket of its own.
    handicap : whether handicap counts in them; None is as in the event.
    """

    fee: Decimal
    size: int
    pays: tuple[Decimal, ...]
    count: int
    handicap: bool | None = None

    def __post_init__(self) -> None:
        require(self.fee >= 0, "brackets.fee", str(self.fee), "0 or more")
        require(self.size in (2, 4, 8, 16, 32), "brackets.size", self.size, "2, 4, 8, 16 or 32")
        require_within("brackets.count", self.count, 0, MOST_OWN_ENTRIES, "brackets")
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

    @property
    def rounds(self) -> int:
        """Games that a bracket takes, one after the other."""
        return self.size.bit_length() - 1

    @property
    def cost(self) -> Decimal:
        """What the bowler's places cost."""
        return self.fee * self.count


@dataclass(frozen=True, slots=True)
class Money:
    """Entry, costs and prizes of one event.

    rate : units of the bowler's home currency for one unit of the event's.
    spent : what was paid in the end, by kind, where that is not as planned.
    winnings : what was won, by kind; None until somebody says so.
    """

    entry_fee: Decimal = Decimal(0)
    currency: str = USUAL_CURRENCY
    expenses: Amounts = ()
    entries: int = 1
    cut_to: int | None = None
    prizes: tuple[Decimal, ...] = ()
    side_pots: tuple[SidePot, ...] = ()
    brackets: Brackets | None = None
    rate: Decimal | None = None
    spent: Amounts = ()
    winnings: Amounts | None = None

    def __post_init__(self) -> None:
        require(self.entry_fee >= 0, "money.entry_fee", str(self.entry_fee), "0 or more")
        require_currency("money.currency", self.currency)
        require_within("money.entries", self.entries, 1, MOST_ENTRIES, "entries")
        if self.rate is not None:
            require(self.rate > 0, "money.rate", str(self.rate), "more than 0")
        require_amounts("expenses", self.expenses)
        require_amounts("spent", self.spent)
        require_amounts("winnings", self.winnings or ())
        if self.cut_to is not None:
            require_within("money.cut_to", self.cut_to, 1, self.entries, "(at most entries)")
        require(
            list(self.prizes) == sorted(self.prizes, reverse=True)
            and all(prize >= 0 for prize in self.prizes),
            "money.prizes",
            [str(prize) for prize in self.prizes],
            "amounts of 0 or more, largest first",
        )


def require_amounts(key: str, amounts: Amounts) -> None:
    """Refuse amounts of `expenses`, `spent` or `winnings` that are negative, or of a kind that
    does not belong there."""
    for kind, amount in amounts:
        place = f"money.{key}.{kind}"
        require(amount >= 0, place, str(amount), "0 or more")
        if key == "expenses":
            allowed = f"a cost of its own, none of {', '.join(OWN_COSTS)}"
            require(kind not in OWN_COSTS, place, kind, allowed)
        if key == "winnings":
            require(kind in WINNINGS, place, kind, ", ".join(WINNINGS))


def require_currency(field: str, currency: str) -> None:
    """Refuse what is no code of a currency."""
    code = len(currency) == 3 and currency.isascii() and currency.isalpha() and currency.isupper()
    require(code, field, currency, "three capital letters such as EUR")


def minor_digits(currency: str) -> int:
    """Decimals of a currency's minor unit."""
    return MINOR_DIGITS.get(currency, USUAL_MINOR_DIGITS)


def rounded(amount: Decimal, currency: str) -> Decimal:
    """An amount as it is shown: whole minor units of its currency, halves to the even one."""
    step = Decimal(1).scaleb(-minor_digits(currency))
    return amount.quantize(step, rounding=ROUND_HALF_EVEN) + 0  # never -0.00


def amount_words(amount: Decimal, currency: str) -> str:
    """An amount as it is said: '12.50 EUR'."""
    return f"{rounded(amount, currency)} {currency}"
