"""Words for boards, moves, odds and times, as a bowler says them."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from nextpair.domain.sheet import BagItem, EntryCard, LaterLineCard, MoveCard
from nextpair.reports.wording import (
    before_words,
    board_words,
    clock_words,
    date_words,
    entry_words,
    fallback_line_words,
    halves,
    home_words,
    lanes_apart_words,
    later_line_words,
    move_words,
    patterns_told,
    percent,
    ratio_words,
    rule_words,
    sentence,
)
from unit.reports.sheet_factory import a_sheet


@pytest.mark.parametrize(
    ("number", "words"),
    [(17.2, "17"), (17.3, "17.5"), (17.74, "17.5"), (17.75, "18"), (0.2, "0"), (-0.6, "-0.5")],
)
def test_boards_are_told_in_halves(number, words):
    assert halves(number) == words


def test_a_left_hander_counts_from_the_left():
    assert board_words(12.0, "right") == "12"
    assert board_words(28.0, "left") == "12"
    assert board_words(20.0, "left") == "20"


@pytest.mark.parametrize(
    ("feet", "target", "hand", "words"),
    [
        (3.0, 2.0, "right", "feet 3 left, target 2 left"),
        (3.0, 2.0, "left", "feet 3 right, target 2 right"),
        (-2.0, -1.0, "right", "feet 2 right, target 1 right"),
        (-2.0, 0.1, "left", "feet 2 left, target stay"),
        (0.2, -0.2, "right", "no move"),
    ],
)
def test_a_move_goes_the_way_of_the_hand(feet, target, hand, words):
    # Common practice: a move inside is a move left for a right-hander.
    assert move_words(MoveCard(feet, target, ball_change=False), hand) == words


def test_a_move_has_the_trades_name_where_it_fits():
    move = MoveCard(3.0, 2.0, ball_change=False, name="3-for-2")
    assert move_words(move, "right") == "feet 3 left, target 2 left, a 3-for-2"


def test_there_is_no_move_before_the_first_game():
    assert move_words(None, "right") == "first game"


@pytest.mark.parametrize(
    ("probability", "words"),
    [(0.523, "52 %"), (0.0, "0 %"), (0.004, "under 1 %"), (1.0, "100 %")],
)
def test_percent(probability, words):
    assert percent(probability) == words


def test_a_ratio_without_oil_outside_has_words():
    assert ratio_words(3.14) == "3.1 : 1"
    assert ratio_words(math.inf) == "dry outside"


@pytest.mark.parametrize(
    ("minute", "words"), [(0, "0:00"), (1.4667, "1:28"), (9.5, "9:30"), (12, "12:00")]
)
def test_times_read_as_a_clock(minute, words):
    assert clock_words(minute) == words


def test_a_date_is_written_out():
    assert date_words("2026-06-13") == "13 June 2026"


def test_who_was_there_before():
    game = a_sheet().games[1]
    one = replace(game, shots_before_on_my_side=1, shots_before_other_side=0)
    assert before_words(a_sheet().games[0]) == "nobody yet: the pair is fresh"
    assert before_words(game) == "31 shots on your side, 12 on the other"
    assert before_words(one) == "1 shot on your side, 0 on the other"


def test_lanes_that_agree_share_a_line():
    game = a_sheet().games[0]
    twins = replace(game, lanes=(game.lanes[0], replace(game.lanes[0], lane=14)))
    assert lanes_apart_words(twins, "right") == "the same line on both"
    assert lanes_apart_words(game, "right").startswith("lane 13: feet 31, target 17; lane 14:")


def test_a_hit_past_the_head_pin_says_so():
    assert "2.0 boards to the far side" in entry_words(EntryCard(-2.0, 4.0, 15.0))
    assert "2.0 boards to the pocket side" in entry_words(EntryCard(2.0, 4.0, 15.0))


def test_what_stays_at_home_is_told_by_reason():
    items = [BagItem(name, 2000, 0.0, why) for name, why in (("A", "x."), ("B", "y"), ("C", "x."))]
    assert home_words(tuple(items)) == ("X: A @ 2000, C @ 2000.", "Y: B @ 2000.")
    assert home_words(()) == ()


@pytest.mark.parametrize("hand", ["right", "left"])
def test_the_rule_stands_beside_what_was_computed(hand):
    sheet = a_sheet(hand)
    assert rule_words(sheet).endswith("All lines leave it between 9 and 13.")
    assert sheet.second_opinion in rule_words(sheet)


@pytest.mark.parametrize(
    ("text", "words"), [("it hooks", "It hooks."), ("Go left.", "Go left."), ("why?", "Why?")]
)
def test_sentences_begin_and_end(text, words):
    assert sentence(text) == words


def test_a_fallback_with_the_same_ball_tells_its_move():
    game = a_sheet().games[0]
    assert game.fallback is not None
    moved = replace(
        game.line,
        slide_board=game.line.slide_board + 2,
        target_board=game.line.target_board + 1,
    )
    same = replace(
        game.fallback,
        ball=game.ball,
        surface_grit=game.surface_grit,
        line=moved,
        right_line=moved,
    )
    assert "the same ball, feet 2 left and target 1 left:" in fallback_line_words(
        same, game, "right"
    )
    assert "feet 2 left and target 1 left" in fallback_line_words(same, game, "left")


def test_a_fallback_is_told_once_where_one_line_serves_both_lanes():
    game = a_sheet().games[0]
    assert game.fallback is not None
    once = fallback_line_words(game.fallback, game, "right")
    assert once.startswith("Then Saltmarsh @ 3000: feet 31, target 17, breakpoint 9")
    apart = replace(game.fallback, right_line=replace(game.fallback.line, slide_board=35.0))
    twice = fallback_line_words(apart, game, "right")
    assert "lane 13: feet 31, target 17" in twice
    assert "lane 14: feet 35, target 17" in twice


def test_two_patterns_are_told_each_with_its_own_numbers():
    sheet = a_sheet()
    wet = replace(sheet.pattern, name="Short Tide 36", length_ft=36.0, volume_ml=31.4)
    one, two = patterns_told(sheet), patterns_told(replace(sheet, right_pattern=wet))
    assert [name for name, _ in one] == ["Long Tide 43"]
    assert [name for name, _ in two] == ["Left lanes, Long Tide 43", "Right lanes, Short Tide 36"]
    assert one[0][1] == two[0][1]
    assert two[1][1].startswith("36 ft, 31.4 mL")


def test_a_later_line_is_told_once_where_both_lanes_move_alike():
    game = a_sheet().games[0]
    line, move = game.line, MoveCard(0.5, 0.5, ball_change=False)
    later = LaterLineCard(6, line, line, move, move, 1.2)
    assert later_line_words(later, game, "right").startswith(
        "From frame 6 feet 0.5 left, target 0.5 left: feet 31, target 17,"
    )
    assert "feet 0.5 right, target 0.5 right" in later_line_words(later, game, "left")
    apart = replace(later, right_move=MoveCard(0.0, 0.0, ball_change=False))
    assert later_line_words(apart, game, "right") == (
        "From frame 6: lane 13 feet 0.5 left, target 0.5 left; lane 14 no move."
    )
