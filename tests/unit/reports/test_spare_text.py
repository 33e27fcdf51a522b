"""Spares on a terminal: one in full, many in a table, the deck, and both hands."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nextpair.reports.deck_text import BALL, deck_lines
from nextpair.reports.spare_text import render_spares_text
from unit.reports.spare_factory import OTHER, SHOT, a_card, a_spare_sheet

PASSES = (16.7, 16.9, 17.2, 17.5)


def in_full(hand: str = "right", **card: str) -> str:
    sheet = a_spare_sheet(hand, **card)
    return render_spares_text(replace(sheet, spares=sheet.spares[:1]), 88, single=True)


def test_one_leave_is_told_in_full():
    text = in_full()
    for words in (
        "3-10   split",
        "Paper Moon @ polished, your spare ball, thrown flat",
        "feet 31, target 17 at the arrows",
        "laid down on 24.5, 2.4 degrees to the right, 17.6 mph, axis rotation 16",
        "47 %, give or take 3 by the racks rolled; takes 1.4 of 2 pins",
        "10 (30 %), 3 (20 %) of all shots",
        "Kestrel @ 2000, 3 points less: feet 31, target 17",
        "no answer to a split",
        "fresh Long Tide 43",
    ):
        assert words in text


def test_a_system_says_its_start_its_chance_and_why():
    text = " ".join(in_full(leave="6", kind="single pin").split())
    assert "Strike line Kestrel @ 2000: feet 31, target 17 at the arrows" in text
    assert "21 %: start 3 left of the strike line, feet 31, target 17" in text
    assert "at the arrows. From there Kestrel passes 4.1 boards left of it." in text
    assert "start 4 left of the strike line" in text
    assert "half of a system's move at the start is walked off" in text


def test_the_same_ball_thrown_two_ways_is_told_apart():
    sheet = a_spare_sheet()
    hooked = replace(SHOT, flat=False, probability=0.4)
    card = replace(a_card(), runner_up=hooked)
    text = render_spares_text(replace(sheet, spares=(card,)), 88, single=True)
    assert "Paper Moon @ polished thrown as for a strike, 7 points less" in " ".join(text.split())


def test_a_left_hander_reads_own_boards_sides_and_true_pins():
    text = in_full("left")
    assert "2-7   split" in text
    assert "feet 31, target 17 at the arrows" in text
    assert "2.4 degrees to the left" in text
    assert "LEFT edge" in text
    assert "7 (30 %), 2 (20 %)" in text


def test_a_spare_ball_that_is_second_to_none_of_the_two_is_told():
    sheet = a_spare_sheet()
    card = replace(a_card(), best=replace(OTHER, probability=0.6), spare_ball=SHOT)
    text = render_spares_text(replace(sheet, spares=(card,)), 88, single=True)
    assert "Spare ball" in text
    assert "Paper Moon @ polished thrown flat, 13 points less" in text


def test_without_another_ball_none_is_promised():
    sheet = a_spare_sheet()
    card = replace(a_card(), runner_up=None)
    text = render_spares_text(replace(sheet, spares=(card,)), 88, single=True)
    assert "no other ball comes along" in text


def test_many_leaves_are_told_in_a_table():
    lines = render_spares_text(a_spare_sheet(), 88, single=False).splitlines()
    row = next(line for line in lines if line.startswith("  3-10 S"))
    assert row.split() == [
        "3-10", "S", "6", "%", "Paper", "Moon", "@", "polished", "31", "17", "47", "%", "10",
    ]  # fmt: skip
    assert any(line.startswith("  6 ") for line in lines)


@pytest.mark.parametrize("columns", [40, 80, 88, 200])
@pytest.mark.parametrize("single", [True, False])
def test_no_line_is_longer_than_the_page(columns, single):
    text = render_spares_text(a_spare_sheet(), columns, single=single)
    assert max(map(len, text.splitlines())) <= min(max(columns, 80), 100)


def test_pins_and_ball_stand_at_their_boards():
    lines = deck_lines("3-10", PASSES, "right")
    # Board 39 is the first sign: the 10 pin, 18 in right of the middle, is on board 3.08.
    assert lines[0].index("[10]") + 1.5 == pytest.approx(39 - 3.08, abs=0.6)
    three = next(line for line in lines if "[ 3]" in line)
    assert three.index("[ 3]") + 1.5 == pytest.approx(39 - 14.36, abs=0.6)
    ball = lines[lines.index(three) + 1]
    assert ball.index(BALL) + 3.5 == pytest.approx(39 - PASSES[1], abs=0.6)
    assert lines[0].count(".") == 3
    assert lines[-2].index("|") == pytest.approx(39 - PASSES[0], abs=0.6)


def test_a_left_handers_deck_is_the_mirror_image_with_true_pins():
    here = deck_lines("3-10", PASSES, "right")
    there = deck_lines("2-7", [40 - board for board in PASSES], "left")
    assert "[ 7]" in there[0]
    assert "[10]" in here[0]
    for row in (0, 1):
        assert there[row].index(".") >= 0
    ball = (next(line for line in lines if BALL in line).index(BALL) for lines in (here, there))
    assert sum(ball) + len(BALL) == pytest.approx(39, abs=1)
    assert here[-1].split() == ["35", "30", "25", "20", "15", "10", "5"]
    assert there[-1].split() == ["5", "10", "15", "20", "25", "30", "35"]


def test_a_ball_that_does_not_arrive_is_not_drawn():
    assert not any(BALL in line or "|" in line for line in deck_lines("10", (), "right"))
