"""The `[money]` table of event.toml: what the event costs and pays, in exact decimals."""

from __future__ import annotations

from decimal import Decimal
from functools import partial
from typing import Literal

from pydantic import Field

from nextpair.domain.errors import InvalidValueError
from nextpair.domain.money import (
    MOST_ENTRIES,
    USUAL_CURRENCY,
    Amounts,
    Brackets,
    Money,
    SidePot,
    require_amounts,
)
from nextpair.files.fields import Amount, Flag, Number, Rate, Text, Whole
from nextpair.files.forms import Form, make, note_guesses
from nextpair.files.intake import Intake, Source, Words

GUESSED_IF_LEFT_OUT = ("entries",)


class SidePotForm(Form):
    """One of `side_pots`."""

    kind: Text = Field(description="what is won, such as high_game", examples=["high_game"])
    fee: Amount = Field(description="fee of one entry", examples=[Decimal(0)])
    entries: Whole = Field(description="how many enter the pot", examples=[1])
    pays: tuple[Number, ...] = Field(description="shares of the pot by place", examples=[(1.0,)])
    per: Literal["game", "squad"] = Field(
        default="squad", description="one pot a game, or one a squad"
    )
    handicap: Flag | None = Field(default=None, description="whether handicap counts in it")
    count: Whole = Field(default=1, description="how many entries the bowler makes")


class BracketsForm(Form):
    """The table `brackets`."""

    fee: Amount = Field(description="fee of one place in a bracket", examples=[Decimal(0)])
    size: Whole = Field(description="players in a bracket", examples=[8])
    pays: tuple[Amount, ...] = Field(description="amounts by place", examples=[()])
    count: Whole = Field(default=1, description="how many brackets the bowler enters")
    handicap: Flag | None = Field(default=None, description="whether handicap counts in them")


class MoneyForm(Form):
    """The keys of `[money]`."""

    entry_fee: Amount = Field(default=Decimal(0), description="entry fee")
    currency: Text = Field(default=USUAL_CURRENCY, description="three capital letters such as EUR")
    rate: Rate | None = Field(
        default=None, description="units of the home currency for one unit of this one"
    )
    expenses: dict[Text, Amount] = Field(default={}, description="other costs by kind")
    entries: Whole | None = Field(
        default=None, description="entries of the whole event", examples=[MOST_ENTRIES]
    )
    cut_to: Whole | None = Field(default=None, description="how many go on after the cut")
    prizes: tuple[Amount, ...] = Field(default=(), description="prizes by place, largest first")
    side_pots: tuple[SidePotForm, ...] = Field(
        default=(), description="pots beside the main event"
    )
    brackets: BracketsForm | None = Field(default=None, description="single-elimination brackets")
    spent: dict[Text, Amount] = Field(
        default={}, description="what was paid in the end, by kind, where not as planned"
    )
    winnings: dict[Text, Amount] | None = Field(
        default=None, description="what was won, by kind, once it is known"
    )


def money_of(form: MoneyForm, squad_size: int, source: Source, intake: Intake) -> Money:
    """The money of an event, from its filled form."""
    at = "money."
    note_guesses(form, GUESSED_IF_LEFT_OUT, source, intake, at)
    side_pots = tuple(
        make(_side_pot, pot, source, intake, at=f"{at}side_pots {number}: ", strip="side_pots.")
        for number, pot in enumerate(form.side_pots, start=1)
    )
    brackets = None
    if form.brackets is not None:
        where = f"{at}brackets."
        brackets = make(_brackets, form.brackets, source, intake, at=where, strip="brackets.")
    expenses = _amounts("expenses", form.expenses, source, intake)
    spent = _amounts("spent", form.spent, source, intake)
    winnings = None
    if form.winnings is not None:
        winnings = _amounts("winnings", form.winnings, source, intake)
    build = partial(
        _money,
        squad_size=squad_size,
        expenses=expenses,
        side_pots=side_pots,
        brackets=brackets,
        spent=spent,
        winnings=winnings,
    )
    return make(build, form, source, intake, at=at, strip="money.")


def _amounts(key: str, amounts: dict[str, Decimal], source: Source, intake: Intake) -> Amounts:
    """The amounts by kind that are in order; the others are told."""
    accepted = []
    for one in amounts.items():
        try:
            require_amounts(key, (one,))
        except InvalidValueError as refused:
            intake.refuse(source, refused.field, Words(refused.found), refused.allowed)
        else:
            accepted.append(one)
    return tuple(accepted)


def _side_pot(form: SidePotForm) -> SidePot:
    return SidePot(
        kind=form.kind,
        fee=form.fee,
        entries=form.entries,
        pays=form.pays,
        per=form.per,
        handicap=form.handicap,
        count=form.count,
    )


def _brackets(form: BracketsForm) -> Brackets:
    return Brackets(
        fee=form.fee,
        size=form.size,
        pays=form.pays,
        count=form.count,
        handicap=form.handicap,
    )


def _money(
    form: MoneyForm,
    squad_size: int,
    expenses: Amounts,
    side_pots: tuple[SidePot, ...],
    brackets: Brackets | None,
    spent: Amounts = (),
    winnings: Amounts | None = None,
) -> Money:
    return Money(
        entry_fee=form.entry_fee,
        currency=form.currency,
        expenses=expenses,
        entries=squad_size if form.entries is None else form.entries,
        cut_to=form.cut_to,
        prizes=form.prizes,
        side_pots=side_pots,
        brackets=brackets,
        rate=form.rate,
        spent=spent,
        winnings=winnings,
    )
