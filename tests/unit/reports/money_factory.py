"""Stakes and ledgers with made-up numbers that are easy to recognise."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from nextpair.domain.ledger import (
    BreakEven,
    CurrencyTotal,
    EventLedger,
    Expected,
    LedgerLine,
    SeasonLedger,
    Sums,
)
from nextpair.domain.stakes import Advice, Stake, Stakes, StakeValue

D = Decimal


def a_value(entries=1, cost="8.00", returned="9.5", sd="32.125", chance=0.0672):
    return StakeValue(entries, D(cost), D(returned), D(sd), chance)


def a_stake(**changes):
    told = {
        "kind": "high_game",
        "per": "game",
        "fee": D("8.00"),
        "entries": 46,
        "places_paid": 3,
        "own_entries": 1,
        "left": 4,
        "advice": Advice.WORTH_IT,
        "one": a_value(),
        "all": a_value(4, "32.00", "38", "70"),
        "further_gain": D("-3.7"),
        "further_advice": Advice.NOT_WORTH_IT,
        "fair_form_pins": 201.44,
        "gain_chance": 0.58216,
        "words": ("What it is worth in words.",),
    }
    return Stake(**told | changes)


def some_stakes():
    return Stakes(
        event="Gorse Singles",
        bowler="Ada Quill",
        currency="EUR",
        seed=7,
        games_bowled=2,
        games_left=4,
        form_pins=205.25,
        form_sd_pins=7.5,
        field_form_pins=199.0,
        stakes=(
            a_stake(),
            a_stake(kind="brackets", per="bracket", entries=8, advice=Advice.ABOUT_EVEN),
            a_stake(kind="best_shirt", advice=Advice.NOT_VALUED, one=None, all=None),
        ),
        returned=D("76"),
        cost=D("64.00"),
        words=("So far level with the field.",),
        cautions=("Estimates.", "Laws decide."),
    )


def a_ledger(**changes):
    told = {
        "event": "Gorse Singles",
        "date": "2026-10-17",
        "currency": "SEK",
        "home_currency": "EUR",
        "rate": D("0.0897"),
        "games": 6,
        "is_over": False,
        "costs": (
            LedgerLine("entry_fee", D("950.00"), None),
            LedgerLine("travel", D("48"), D("51.3")),
        ),
        "winnings": (),
        "planned_cost": D("998.00"),
        "cost": D("1001.3"),
        "cost_per_game": D("1001.3") / 6,
        "won": None,
        "result": None,
        "home_cost": D("89.81661"),
        "home_result": None,
        "break_even": BreakEven(D("1001.3"), 3, 2, 0.125),
        "expected": Expected(D("400"), D("910.5"), D("76"), D("-525.3")),
    }
    return EventLedger(**told | changes)


def a_ledger_that_is_over():
    return replace(
        a_ledger(),
        event="Whin Doubles",
        date="2026-03-02",
        is_over=True,
        winnings=(LedgerLine("prize", D(0), D("2400")),),
        won=D("2400"),
        result=D("1398.7"),
        home_result=D("125.46339"),
        expected=None,
    )


def a_season():
    over = Sums(1, 6, D("1001.3"), D("1001.3") / 6, D("2400"), D("1398.7"))
    to_come = Sums(1, 6, D("1001.3"), D("1001.3") / 6, D(0), D(0))
    total = CurrencyTotal("SEK", over, to_come, a_ledger().costs, a_ledger_that_is_over().winnings)
    return SeasonLedger(
        events=(a_ledger_that_is_over(), a_ledger()),
        totals=(total, replace(total, currency="JPY")),
        home=replace(total, currency="EUR"),
        without_rate=("Far Away Open",),
        left_out=("Broken",),
    )
