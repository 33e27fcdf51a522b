"""A standing as text and JSON: everything told, nothing wider than the page."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal

import pytest

from event_folder import DEMO
from nextpair.application.standings import standing_of
from nextpair.domain.standing import (
    Condition,
    Cut,
    FieldPlace,
    GameOfField,
    GroupOfField,
    Needed,
    Prospects,
    StageChance,
    Standing,
)
from nextpair.files import load_event, load_scores
from nextpair.reports.standing_json import standing_document
from nextpair.reports.standing_text import needed_words, render_standing_text
from source_tree import DOCS

ME = "Ada Quill"


def place(number: int, name: str, chance: float | None = 0.25) -> FieldPlace:
    return FieldPlace(number, name, "A", (200, None, 180), 8, 396, 3, 191.4, chance)


STANDING = Standing(
    event="Harbour Lights",
    bowler=ME,
    entries=60,
    games=6,
    games_bowled=2,
    seed=7,
    draws=4000,
    field=tuple(place(n, ME if n == 30 else f"Bowler {n}") for n in range(1, 51)),
    condition=Condition(
        bowlers=50,
        games=100,
        mean_pins=183.2,
        bowler_sd_pins=17.0,
        game_sd_pins=27.0,
        against_averages_pins=-20.0,
        own_mean_pins=190.0,
        own_sds=0.4,
        own_sds_interval_80=(-1.0, 1.8),
        by_game=(
            GameOfField(1, 50, 181.6, 30.2, 200, 0.61), GameOfField(2, 4, 180, 20, None, None),
        ),
        groups=(GroupOfField("pair", "13-14", 20, 20, -5.25, (-9.0, -1.5)),),
        words=("The field averages 183 here.",),
    ),
    cut=Cut(
        20, 780, -24, 1149.0, (1134.0, 1168.0), 0.4512,
        (Needed(0.5, 1148, 193.0, True), Needed(0.8, 1500, 310.0, False)),
    ),
    prospects=Prospects(
        (StageChance("step-ladder", 5, 0.1234, 0.05),), 0.3, 0.02, (12, 40),
        Decimal("35.4567"), Decimal("80.1"), "EUR", ((Decimal(1800), 0.02),),
    ),
    cautions=("ten have no score",),
)  # fmt: skip


@pytest.mark.parametrize("columns", [80, 88, 100])
def test_no_line_is_wider_than_the_page(columns):
    text = render_standing_text(STANDING, columns)
    assert max(map(len, text.splitlines())) <= columns
    assert text.count("\n") < 75


def test_everything_is_told():
    text = render_standing_text(STANDING, 88)
    for words in (
        "The field averages 183 here.",
        "+0.6 sd",
        "place 30 of the 50 who have bowled, by pins a game; 396, 24 behind",
        "1149 (1134 to 1168)",
        "45 %",
        "1,148 in all: 193 a game in the 3 left",
        "1,500 in all: out of reach, more than 300 a game",
        "in it 12 %, first in it 5 %",
        "35.46 EUR",
        "-9.0 to -1.5",
        "Ten have no score.",
    ):
        assert words in text


def test_the_bowler_and_the_line_are_among_the_places_shown():
    text = render_standing_text(STANDING, 88)
    assert ME in text
    assert "Bowler 20 " in text
    assert "Bowler 45 " not in text
    whole = replace(STANDING, field=STANDING.field[20:40])
    assert "Bowler 21 " in render_standing_text(whole, 88)


def test_without_a_cut_or_prizes_none_is_told():
    field = tuple(replace(one, cut_chance=None) for one in STANDING.field)
    text = render_standing_text(replace(STANDING, field=field, cut=None, prospects=None), 88)
    assert "THE CUT" not in text
    assert "STILL TO BE WON" not in text


@pytest.mark.parametrize(
    ("needed", "left", "words"),
    [
        (Needed(0.5, 1148, 192.5, True), 2, "1,148 in all: 192.5 a game in the 2 left"),
        (Needed(0.5, 1148, 192.34, True), 3, "1,148 in all: 192.4 a game in the 3 left"),
        (Needed(0.5, 1148, 192.0, True), 1, "1,148 in all: 192 a game in the game that is left"),
        (Needed(0.5, 700, 0.0, True), 2, "700 in all: you have it"),
        (Needed(0.5, 700, None, True), 0, "700 in all: you have it"),
        (Needed(0.5, 701, None, False), 0, "701 in all: out of reach"),
    ],
)
def test_what_is_needed_is_rounded_up(needed, left, words):
    assert needed_words(needed, left) == words


def test_the_document_has_chances_to_four_decimals_and_amounts_as_text():
    document = standing_document(STANDING)
    assert json.loads(json.dumps(document)) == document
    assert document["cut"]["chance"] == 0.4512
    assert document["field"][0]["games"] == [200, None, 180]
    assert document["prospects"]["stages"][0]["reach_chance"] == 0.1234
    assert document["prospects"]["expected_prize"] == "35.46"
    assert document["prospects"]["prize_chances"] == [["1800.00", 0.02]]


def test_the_guide_tells_the_bundled_event_as_the_program_does():
    page = (DOCS / "guide" / "standing.md").read_text("utf-8")
    shown = [line.strip() for line in page.splitlines() if line.startswith("    ")][1:]
    event = load_event(DEMO / "event.toml")
    text = render_standing_text(standing_of(event, load_scores(DEMO / "scores.csv"), 7), 88)
    told = {line.strip() for line in text.splitlines()}
    assert len(shown) > 12
    assert [line for line in shown if line not in told] == []
