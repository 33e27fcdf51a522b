"""The numbers of docs/guide/money.md are those that the program tells of its worked event."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from itertools import cycle, permutations

import pytest

from event_folder import DEMO
from nextpair.application.ledger import money_of_event
from nextpair.application.stakes import stakes_of
from nextpair.domain.field_score import FieldScore
from nextpair.domain.money import rounded
from nextpair.domain.stakes import Advice
from nextpair.files import load_event
from source_tree import DOCS

GUIDE = " ".join((DOCS / "guide" / "money.md").read_text("utf-8").split())
EVENT = load_event(DEMO / "event.toml")
AHEAD_PINS = 15
LEVELS = -24, -14, -6, 0, 6, 14, 24
SEED = 7


def worked_scores():
    """A squad about 200 with games 25 pins apart, bowlers as far apart as LEVELS, the bowler
    AHEAD_PINS over it."""
    orders, levels = cycle(permutations((175, 200, 225))), cycle(LEVELS)
    return [
        FieldScore(one.name, game, pins + (AHEAD_PINS if one.name == EVENT.bowler_name else level))
        for one, order, level in zip(EVENT.squad, orders, levels, strict=False)
        for game, pins in enumerate(order, start=1)
    ]


def numbers(pattern):
    found = re.search(pattern, GUIDE)
    assert found, pattern
    return [float(number) for number in found.groups()]


def stake(found, kind):
    return next(one for one in found.stakes if one.kind == kind)


def test_the_event_costs_what_the_guide_says():
    ledger = money_of_event(EVENT)
    assert f"**{rounded(ledger.cost, 'EUR')}**" in GUIDE
    assert numbers(r"That is ([\d.]+) a game")[0] == float(rounded(ledger.cost_per_game, "EUR"))
    assert numbers(r"place (\d+) or better does, and to win pays (\d+) such") == [
        ledger.break_even.place, ledger.break_even.events_paid_by_winning,
    ]  # fmt: skip


def test_it_came_out_as_the_guide_says():
    spent, won = re.search(r"spent = \{(.*?)\} winnings = \{(.*?)\}", GUIDE).groups()
    money = replace(
        EVENT.money,
        spent=tuple(_amounts(spent)),
        winnings=tuple(_amounts(won)),
    )
    ledger = money_of_event(replace(EVENT, money=money))
    told = [float(rounded(one, "EUR")) for one in (ledger.cost, ledger.won, -ledger.result)]
    assert numbers(r"([\d.]+) spent, ([\d.]+) won, ([\d.]+) lost") == told


def _amounts(text):
    for part in text.split(","):
        kind, amount = part.split("=")
        yield kind.strip(), Decimal(amount.strip())


def test_before_the_first_game_stakes_are_worth_what_the_guide_says():
    found = stakes_of(EVENT, [], SEED)
    pot, brackets = stake(found, "high_game"), stake(found, "brackets")
    back, per_hundred = numbers(r"brings back 368 / 46 = ([\d.]+), .*? in (\d+) of 100")
    assert back == pytest.approx(float(pot.one.returned), abs=0.01)
    assert per_hundred == round(100 * pot.one.cash_chance)
    lost, spread = numbers(r"Three of them lose ([\d.]+) on average, and (\d+) up or down")
    assert lost == pytest.approx(-float(brackets.all.gain), abs=0.01)
    assert spread == round(float(brackets.all.sd))


def test_after_three_games_stakes_are_worth_what_the_guide_says():
    found = stakes_of(EVENT, worked_scores(), SEED)
    pot, brackets = stake(found, "high_game"), stake(found, "brackets")
    form, doubt, field = numbers(r"to be (\d+), give or take (\d+), the squad's (\d+)")
    assert [form, doubt, field] == [
        round(found.form_pins), round(found.form_sd_pins), round(found.field_form_pins),
    ]  # fmt: skip
    fair, chance, gained = numbers(
        r"pot is fair for a form of (\d+); the chance of that is (\d+) %.*?([\d.]+) gained"
    )
    assert [fair, chance] == [round(pot.fair_form_pins), round(100 * pot.gain_chance)]
    assert gained == float(rounded(pot.one.gain, "EUR"))
    told = numbers(
        r"brackets want (\d+), .*? the chance of that is (\d+) %, and they are about even"
    )
    assert told == [round(brackets.fair_form_pins), round(100 * brackets.gain_chance)]
    assert brackets.advice is Advice.ABOUT_EVEN
    further = numbers(r"second entry of the pot would lose ([\d.]+)")[0]
    assert further == float(rounded(-pot.further_gain, "EUR"))
