"""What the bowler can still win: chances of stages and places, and prizes to the cent."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import numpy as np
import pytest

from event_folder import DEMO
from nextpair.application.prospects import prospects_of
from nextpair.application.standings import standing_of
from nextpair.domain.field_score import FieldScore
from nextpair.domain.format import Format, PinsTaken, Stage, StageKind
from nextpair.files import load_event
from nextpair.tournament.field_model import FieldModel
from nextpair.tournament.totals import draw_totals

DRAWS = 40_000
LADDER = Format(
    stages=(
        Stage(StageKind.BLOCK, 6, 4, PinsTaken.CARRIED),
        Stage(StageKind.STEP_LADDER, 3),
    )
)


def event(prizes=(), rules=None, currency="EUR"):
    loaded = load_event(DEMO / "event.toml")
    money = replace(
        loaded.money, prizes=tuple(map(Decimal, prizes)), currency=currency, cut_to=None
    )
    return replace(loaded, money=money, format=rules or Format())


def equals(n=12, left=4, me=0):
    return FieldModel(
        names=("",) * n,
        totals=np.zeros(n, dtype=int),
        games_left=np.full(n, left),
        form_pins=np.full(n, 200.0),
        form_sd_pins=np.full(n, 8.0),
        game_sd_pins=27.4,
        squads=np.zeros(n, dtype=int),
        squad_sd_pins=5.0,
        me=me,
    )


def prospects(told, model, draws=DRAWS):
    rng = np.random.default_rng(6)
    return prospects_of(told, model, draw_totals(model, draws, rng), rng)


def test_without_stages_and_prizes_nothing_is_told():
    assert prospects(event(), equals(), draws=10) is None


@pytest.mark.parametrize("rules", [Format(), LADDER])
def test_equals_share_all_prizes(rules):
    paid = (500, 300, 200, 100, 50, 50)
    told = prospects(event(paid, rules), equals())
    mean = sum(paid) / 12
    sd = (sum(amount**2 for amount in paid) / 12 - mean**2) ** 0.5
    assert float(told.expected_prize) == pytest.approx(mean, abs=4 * sd / DRAWS**0.5)
    assert float(told.prize_sd) == pytest.approx(sd, rel=0.03)
    assert told.win_chance == pytest.approx(1 / 12, abs=0.006)
    assert told.cash_chance == pytest.approx(6 / 12, abs=0.01)
    assert told.place_interval_80 == (2, 11)
    assert [amount for amount, _ in told.prize_chances] == [500, 300, 200, 100, 50]
    assert sum(chance for _, chance in told.prize_chances) == pytest.approx(told.cash_chance)
    assert dict(told.prize_chances)[Decimal(50)] == pytest.approx(2 / 12, abs=0.01)


def test_stages_are_told_with_the_chance_to_be_in_them_and_to_win_them():
    told = prospects(event((), LADDER), equals())
    assert [(one.kind, one.entrants) for one in told.stages] == [("block", 6), ("step-ladder", 3)]
    block, ladder = told.stages
    assert block.reach_chance == pytest.approx(6 / 12, abs=0.01)
    assert block.win_chance == pytest.approx(1 / 12, abs=0.006)
    assert ladder.reach_chance == pytest.approx(3 / 12, abs=0.01)
    assert ladder.win_chance == told.win_chance == pytest.approx(1 / 12, abs=0.006)
    assert (told.cash_chance, told.expected_prize, told.prize_chances) == (0, 0, ())


def test_a_field_that_is_done_pays_exactly_what_it_pays():
    model = replace(equals(4, left=0, me=2), totals=np.array([800, 790, 780, 770]))
    told = prospects(event(("100.10", "60.05", "33.33")), model, draws=7)
    assert (told.expected_prize, told.prize_sd) == (Decimal("33.33"), Decimal("0.00"))
    assert (told.cash_chance, told.win_chance, told.place_interval_80) == (1, 0, (3, 3))


def test_amounts_are_rounded_at_the_end_and_to_the_minor_unit_of_the_currency():
    model = replace(equals(3, left=0), totals=np.array([700, 700, 700]))
    told = prospects(event(("0.10", "0.10", "0.10")), model, draws=3)
    assert (told.expected_prize, told.prize_sd) == (Decimal("0.10"), Decimal("0.00"))
    yen = prospects(event((100, 50), currency="JPY"), equals(3), draws=999)
    assert yen.expected_prize == yen.expected_prize.to_integral_value()
    assert yen.expected_prize.as_tuple().exponent == 0


def test_places_that_are_told_to_pay_nothing_do_not_cash():
    told = prospects(event((100, 0, 0)), equals(4))
    assert told.cash_chance == told.win_chance


def test_a_standing_tells_them_and_what_the_stages_ask():
    loaded = event((900, 400, 200), LADDER)
    field = [
        FieldScore(one.name, game, 150 + 3 * number + game)
        for number, one in enumerate(loaded.squad)
        for game in range(1, 5)
    ]
    standing = standing_of(loaded, field, seed=5)
    told = standing.prospects
    assert told is not None
    assert told.stages[0].reach_chance == pytest.approx(standing.cut.chance, abs=0.02)
    assert told == standing_of(loaded, field, seed=5).prospects
    assert standing_of(event(), field, seed=5).prospects is None
