"""Money and stakes as they are told: rounded only here, and amounts in JSON as text."""

from __future__ import annotations

import json
import re

from nextpair.domain.ledger import BreakEven, SeasonLedger
from nextpair.reports.ledger_text import break_even_words, render_ledger_text
from nextpair.reports.money_json import money_document, render_ledger_json, stakes_document
from nextpair.reports.stakes_text import render_stakes_text
from unit.reports.money_factory import (
    D,
    a_ledger,
    a_ledger_that_is_over,
    a_season,
    some_stakes,
)


def test_stakes_are_a_table_and_then_words():
    text = render_stakes_text(some_stakes(), a_ledger())
    assert re.search(r"high game, one a game +8\.00 +9\.50 +32\.12 +7 %  worth it", text)
    assert re.search(r"brackets of 8 +8\.00 .* about even", text)
    assert re.search(r"best shirt, one a game +8\.00 +not valued", text)
    assert "What it is worth in words." in text
    assert "costs 64.00 and brings back 76.00 EUR" in text
    assert text.index("Laws decide.") < text.index("MONEY, in SEK")


def test_no_stakes_are_no_section():
    text = render_stakes_text(None, a_ledger())
    assert "SIDE POTS" not in text
    assert "MONEY, in SEK" in text


def test_every_line_fits_the_page():
    for text in (
        render_stakes_text(some_stakes(), a_ledger()),
        render_ledger_text(a_season()),
    ):
        assert max(map(len, text.splitlines())) <= 80


def test_an_event_is_told_as_planned_and_as_it_came_out():
    text = render_stakes_text(None, a_ledger_that_is_over())
    assert re.search(r"entry fee +950\.00$", text, re.MULTILINE)
    assert re.search(r"travel +48\.00 +51\.30$", text, re.MULTILINE)
    assert re.search(r"cost +998\.00 +1001\.30$", text, re.MULTILINE)
    assert re.search(r"won, prizes +2400\.00$", text, re.MULTILINE)
    assert re.search(r"result +1398\.70$", text, re.MULTILINE)
    assert "89.82 EUR at 0.0897, with +125.46 EUR in the end" in " ".join(text.split())


def test_break_even_says_place_chance_and_how_many_events():
    assert break_even_words(a_ledger()) == (
        "a prize of 1001.30 SEK pays the event: place 3 or better, 12 % likely. To win pays "
        "2 such events."
    )
    none = a_ledger(break_even=BreakEven(D("1001.3"), None, None))
    assert "no place brings as much" in break_even_words(none)
    assert (
        break_even_words(a_ledger(break_even=BreakEven(D(0), None, None))) == "it costs nothing."
    )


def test_what_is_expected_is_called_an_estimate():
    text = " ".join(render_stakes_text(None, a_ledger()).split())
    assert "400.00 SEK of prizes, give or take 910.50 SEK and 76.00 SEK of stakes" in text
    assert "-525.30 SEK. An estimate." in text


def test_a_season_has_each_event_each_currency_and_home():
    text = render_ledger_text(a_season())
    assert re.search(r"2026-03-02 +Whin Doubles +1001\.30 +2400\.00 +1398\.70 SEK", text)
    assert "TOTAL in JPY" in text
    assert re.search(r"1001 JPY, 167 a game", text)
    assert "ALL in EUR, at the rates given" in text
    assert "Far Away Open" in text
    assert "Broken" in text


def test_one_event_alone_is_told_in_full():
    text = render_ledger_text(SeasonLedger((a_ledger(),), (), None))
    assert text.startswith("Gorse Singles\n17 October 2026\n")
    assert "Break-even" in text


def test_no_event_is_said():
    assert "nextpair import" in render_ledger_text(SeasonLedger((), (), None))


def test_in_json_amounts_are_text_in_minor_units():
    season = json.loads(render_ledger_json(a_season()))
    assert season["events"][1]["cost_per_game"] == "166.88"
    assert season["events"][1]["rate"] == "0.0897"
    assert season["events"][1]["home_cost"] == "89.82"
    assert season["totals"][1]["over"]["cost"] == "1001"
    assert season["events"][0]["break_even"]["chance"] == 0.125
    assert not re.search(r'"(cost|won|result|planned)": \d', render_ledger_json(a_season()))


def test_in_json_stakes_have_their_gain_and_chances():
    told = stakes_document(some_stakes())
    first = told["stakes"][0]
    assert first["one"] == {
        "entries": 1, "cost": "8.00", "returned": "9.50", "sd": "32.12", "cash_chance": 0.0672,
        "gain": "1.50",
    }  # fmt: skip
    assert (first["advice"], first["further_gain"]) == ("worth it", "-3.70")
    assert (first["fair_form_pins"], first["gain_chance"]) == (201.4, 0.5822)
    assert stakes_document(None) is None
    assert money_document(a_ledger())["expected"]["result"] == "-525.30"
