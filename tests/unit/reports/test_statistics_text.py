"""Statistics for a terminal."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from logged_games import logged_game
from nextpair.application.game_statistics import PlayedGame, statistics_of
from nextpair.application.intervals import share_of
from nextpair.domain.bowler import Hand
from nextpair.domain.statistics import GameLuck, Luck, MeanPins
from nextpair.reports.statistics_text import mean_words, render_statistics, share_words
from nextpair.scoring.notation import parse_game

LINES = (
    {"meant_laydown_board": 24.0, "meant_target_board": 15.0, "lane": 13, "ball": "Kestrel"},
    {"meant_laydown_board": 28.0, "meant_target_board": 17.0, "lane": 16, "ball": "Slate Weir"},
)
SHOTS = [
    *logged_game(
        1, [["10", ""], [""], [""], ["7-10", "7"]] * 2 + [[""], ["", "", "10"]], **LINES[0]
    ),
    *logged_game(2, [["10", "10"]], entry_board=17.5, **LINES[1]),
]


def test_a_share_is_a_count_with_what_it_likely_is():
    # Quantiles of Beta(7.5, 2.5): a tenth lies below 0.569, and a tenth above 0.907.
    assert share_words(share_of(7, 9)) == "7 of 9, likely 57 to 91 %"
    assert share_words(share_of(0, 0)) == "none to count"


@pytest.mark.parametrize(
    ("mean", "words"),
    [
        (MeanPins(24, 9.06, (8.8, 9.32)), "9.1 over 24 first balls, likely 8.8 to 9.3"),
        (MeanPins(1, 9.0, None), "9.0 over 1 first ball, too few or too much alike to say more"),
        (MeanPins(0, None, None), "none to count"),
    ],
)
def test_a_mean_goes_with_its_interval(mean, words):
    assert mean_words(mean, "first ball") == words


@pytest.mark.parametrize("columns", [80, 100])
def test_the_page_keeps_its_width_and_shows_no_bare_percentage(columns):
    text = render_statistics(statistics_of([], SHOTS), columns)
    assert max(map(len, text.splitlines())) <= columns
    shares = re.findall(r"[\d.]+ %", " ".join(text.split()))
    likely = re.findall(r"likely \d+ to (\d+ %)", " ".join(text.split()))
    assert shares == likely
    assert len(shares) > 10


def test_everything_that_was_asked_is_told():
    text = render_statistics(statistics_of([], SHOTS))
    for words in (
        "STATISTICS of 2 games",
        "turkey once",
        "double twice",
        "single pins",
        "7-10 bedposts",
        "BY GAME",
        "BY BALL",
        "24 to 15",
        "left lanes",
        "13-14",
        "15-16",
        "in the pocket",
    ):
        assert words in text, words


def test_a_left_handers_lines_count_from_the_left():
    text = render_statistics(statistics_of([], SHOTS, Hand.LEFT))
    assert "16 to 25" in text


def test_luck_is_told_part_by_part():
    game = GameLuck(1, 187, 201.26, -3.1, -8.0, None, -3.16, 12, 12)
    unseen = GameLuck(2, 200, 190.0, None, None, 8.0, 2.0, 0, 11)
    stats = replace(statistics_of([], SHOTS), luck=Luck((game, unseen), ("Held against a plan.",)))
    text = " ".join(render_statistics(stats).split())
    assert "187, expected 201.3: line -3.1, carry -8.0, spares -3.2" in text
    assert "200, expected 190.0: line and carry unseen +8.0, spares +2.0" in text
    assert "Held against a plan." in text


def test_counts_alone_tell_no_leaves():
    text = render_statistics(statistics_of([PlayedGame(1, parse_game("9 -, 8 1, X"))]))
    assert "LEAVES" not in text
    assert "kind not told" in text


def test_colour_only_adds_to_the_words():
    stats = statistics_of([], SHOTS)
    plain, coloured = render_statistics(stats), render_statistics(stats, colour=True)
    assert "\x1b[" not in plain
    assert len(coloured) > len(plain)
