"""The document of a kit."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from pydantic import Field

from nextpair.domain.kit import NO_KIT, Kit, KitItem, Stock, UsedPer
from nextpair.domain.packing import PackGroup
from nextpair.domain.record import Document
from nextpair.files.fields import Number, Text, Whole
from nextpair.files.forms import Form, fill, make
from nextpair.files.intake import Intake, Source, Words, shown


class KitItemForm(Form):
    """One `items` table."""

    item: Text = Field(description="what to take", examples=["a thing"])
    many: Whole = Field(default=1, description="how many; 0 takes it off the list")
    why: Text = Field(default="Your own list.", description="why it is taken")
    group: PackGroup = Field(default=PackGroup.TABLE, description="where it is packed")


class StockForm(Form):
    """One `stock` table."""

    item: Text = Field(description="what is used up", examples=["a thing"])
    have: Number = Field(description="how much there is", examples=[1.0])
    use: Number = Field(description="how much is used", examples=[1.0])
    per: UsedPer = Field(default=UsedPer.EVENT, description="by what it is used")
    reorder_below: Number = Field(default=0.0, description="below how much to buy more")
    unit: Text = Field(default="", description="what it is counted in")


class KitForm(Form):
    """The keys of a kit."""

    name: Text = Field(description="name of the kit", examples=["a kit"])
    items: tuple[KitItemForm, ...] = Field(default=(), description="lines of one's own")
    stock: tuple[StockForm, ...] = Field(default=(), description="what is used up")
    case_limit_lb: Number = Field(
        default=NO_KIT.case_limit_lb, description="weight that one piece of luggage may have"
    )
    case_lb: Number = Field(default=NO_KIT.case_lb, description="weight of an empty ball case")
    balls_a_case: Whole = Field(default=NO_KIT.balls_a_case, description="balls in one case")


def kit_of(document: Document, source: Source, intake: Intake) -> Kit:
    """The kit of a document."""
    form = fill(KitForm, dict(document), source, intake)
    items = tuple(
        make(_item, item, source, intake, f"items {number}: ")
        for number, item in enumerate(form.items, start=1)
    )
    stock = tuple(
        make(_stock, one, source, intake, f"stock {number}: ")
        for number, one in enumerate(form.stock, start=1)
    )
    _refuse_twice("items", [item.item for item in items], source, intake)
    _refuse_twice("stock", [one.item for one in stock], source, intake)
    return make(partial(_kit, items=items, stock=stock), form, source, intake)


def _refuse_twice(key: str, names: Sequence[str], source: Source, intake: Intake) -> None:
    """Refuse a name that stands twice, whatever its capitals."""
    number_of: dict[str, int] = {}
    for number, name in enumerate(names, start=1):
        first = number_of.setdefault(name.casefold(), number)
        if first != number:
            found = Words(f"{shown(name)} again, as in {key} {first}")
            intake.refuse(source, f"{key} {number}: item", found, "each item once")


def _kit(form: KitForm, items: tuple[KitItem, ...], stock: tuple[Stock, ...]) -> Kit:
    return Kit(form.name, items, stock, form.case_limit_lb, form.case_lb, form.balls_a_case)


def _item(form: KitItemForm) -> KitItem:
    return KitItem(form.item, form.many, form.why, form.group)


def _stock(form: StockForm) -> Stock:
    return Stock(form.item, form.have, form.use, form.per, form.reorder_below, form.unit)
