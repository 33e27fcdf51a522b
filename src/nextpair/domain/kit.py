"""What one bowler always packs, and the stock of what is used up."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nextpair.domain.errors import require, require_text, require_within
from nextpair.domain.packing import PackGroup

LONGEST_ITEM = 80


class UsedPer(StrEnum):
    """What a stock is used up by."""

    EVENT = "event"
    GAME = "game"
    HOUR = "hour"


@dataclass(frozen=True, slots=True)
class Stock:
    """Something that is used up: how much there is, how much an event, a game or an hour takes,
    and below how much more should be bought. All in `unit`s."""

    item: str
    have: float
    use: float
    per: UsedPer = UsedPer.EVENT
    reorder_below: float = 0.0
    unit: str = ""

    def __post_init__(self) -> None:
        require_text("item", self.item, 1, LONGEST_ITEM)
        require_within("have", self.have, 0, 100_000, self.unit)
        require_within("use", self.use, 0, 10_000, self.unit)
        require_within("reorder_below", self.reorder_below, 0, 100_000, self.unit)


@dataclass(frozen=True, slots=True)
class KitItem:
    """A line of one's own for the list; `many` 0 takes a thing of that name off it."""

    item: str
    many: int = 1
    why: str = "Your own list."
    group: PackGroup = PackGroup.TABLE

    def __post_init__(self) -> None:
        require_text("item", self.item, 1, LONGEST_ITEM)
        require_within("many", self.many, 0, 99, "")
        require_text("why", self.why, 1, 200)


@dataclass(frozen=True, slots=True)
class Kit:
    """A template: lines of one's own, the stock, and what the journey allows.

    case_limit_lb : of one piece of luggage. case_lb : what an empty ball case weighs.
    balls_a_case : that are carried in one.
    """

    name: str
    items: tuple[KitItem, ...] = ()
    stock: tuple[Stock, ...] = ()
    case_limit_lb: float = 50.0
    case_lb: float = 10.0
    balls_a_case: int = 3

    def __post_init__(self) -> None:
        require(bool(self.name.strip()), "name", self.name, "a name")
        require_within("case_limit_lb", self.case_limit_lb, 5, 200, "lb")
        require_within("case_lb", self.case_lb, 0, 50, "lb")
        require_within("balls_a_case", self.balls_a_case, 1, 8, "balls")
        names = [stock.item for stock in self.stock]
        require(len(names) == len(set(names)), "stock", names, "each item once")


NO_KIT = Kit("Kit")
