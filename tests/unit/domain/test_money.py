"""Amounts, the kinds that they are of, and how they are rounded to be shown."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from nextpair.domain.errors import InvalidValueError
from nextpair.domain.money import Brackets, Money, SidePot, minor_digits, rounded

POT = SidePot("high_game", Decimal("8.00"), 46, (0.5, 0.3, 0.2), per="game")
BRACKETS = Brackets(Decimal(5), 8, (Decimal(25), Decimal(10)), 3)


def test_a_pot_a_game_is_paid_every_game_and_for_every_entry():
    assert POT.cost(games=6) == Decimal("48.00")
    assert replace(POT, count=2).cost(games=6) == Decimal("96.00")
    assert replace(POT, per="squad").cost(games=6) == Decimal("8.00")
    assert replace(POT, count=0).cost(games=6) == 0


def test_a_bracket_takes_a_game_a_round():
    assert BRACKETS.cost == 15
    assert [replace(BRACKETS, size=size, pays=()).rounds for size in (2, 4, 8, 16, 32)] == [
        1, 2, 3, 4, 5,
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("key", "kind"), [("expenses", "entry_fee"), ("expenses", "brackets"), ("winnings", "travel")]
)
def test_an_amount_of_a_kind_that_stands_elsewhere_is_refused(key, kind):
    with pytest.raises(InvalidValueError, match=f"money.{key}.{kind}"):
        replace(Money(), **{key: ((kind, Decimal(1)),)})


@pytest.mark.parametrize("key", ["expenses", "spent", "winnings"])
def test_no_amount_is_negative(key):
    with pytest.raises(InvalidValueError, match=key):
        replace(Money(), **{key: (("other", Decimal(-1)),)})


@pytest.mark.parametrize("currency", ["EURO", "eur", "E1R", "\u00c4UR"])
def test_what_is_no_code_of_a_currency_is_refused(currency):
    with pytest.raises(InvalidValueError, match="currency"):
        Money(currency=currency)


def test_a_rate_is_more_than_nothing():
    with pytest.raises(InvalidValueError, match="rate"):
        Money(rate=Decimal(0))


def test_an_amount_is_shown_in_whole_minor_units():
    assert [minor_digits(code) for code in ("EUR", "JPY", "KWD", "SEK")] == [2, 0, 3, 2]
    assert str(rounded(Decimal("4.375"), "EUR")) == "4.38"
    assert str(rounded(Decimal("4.365"), "EUR")) == "4.36", "halves go to the even cent"
    assert str(rounded(Decimal("1234.5"), "JPY")) == "1234"
    assert str(rounded(Decimal("0.1"), "KWD")) == "0.100"
    assert str(rounded(Decimal("-0.001"), "EUR")) == "0.00"
