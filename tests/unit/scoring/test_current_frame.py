"""Games counted by the current frame."""

from __future__ import annotations

import pytest

from nextpair.domain.errors import InvalidValueError
from nextpair.domain.format import Counting
from nextpair.scoring.current_frame import CurrentFrameGame, expected_frame_pins, new_game
from nextpair.scoring.frames import Game
from nextpair.scoring.game_value import FirstBall, frame_odds_of
from nextpair.scoring.notation import game_problems, game_text, parse_game

BY_FRAME = Counting.CURRENT_FRAME


def game(text: str) -> Game:
    return parse_game(text, BY_FRAME)


def test_each_frame_counts_alone():
    running = game("X, 7/, 9-, F/, (8)1, X, F-, 3/, 4 5, X").running_scores
    assert running == (30, 47, 56, 66, 75, 105, 105, 118, 127, 157)


def test_a_perfect_game_takes_ten_strikes():
    perfect = game("X X X X X X X X X X")
    assert (perfect.score, perfect.is_complete) == (300, True)
    assert CurrentFrameGame().highest_possible == 300


@pytest.mark.parametrize("text", ["X, X, X, X, X, X, X, X, X, X X", "X X X X X X X X X 9 / 8"])
def test_there_are_no_fill_balls(text):
    with pytest.raises(InvalidValueError, match=r"frame 1[01]"):
        game(text)


def test_a_frame_under_way_is_not_counted_yet():
    begun = game("X, 7")
    assert begun.running_scores == (30, None)
    assert begun.score is None
    assert begun.highest_possible == 30 + 17 + 8 * 30
    assert len(begun.frame_under_way) == 1


def test_a_written_game_reads_the_same_and_keeps_its_counting():
    text = "X, 7 /, 9 -, F 9, (8) /, X, X, X, X, 9 /"
    assert game_text(game(text)) == text
    assert type(game(text)) is CurrentFrameGame
    assert game(text) != parse_game(text[: -len(", 9 /")])


def test_totals_are_checked_by_this_counting():
    totals = [30, 48, 57]
    problems = game_problems("X, 7/, 9-", totals, counting=BY_FRAME)
    assert [(p.place, p.found, p.allowed) for p in problems] == [("frame 2", "48", "47")]


def test_a_game_begins_with_the_counting_asked_for():
    assert new_game(BY_FRAME) == CurrentFrameGame()
    assert new_game(Counting.TRADITIONAL) == Game()
    assert Game() != CurrentFrameGame()


def test_a_frames_mean_weighs_strike_spare_and_open():
    odds = frame_odds_of(0.5, [FirstBall(9, 0.4, 0.75), FirstBall(7, 0.1, 0.5, (0.0, 1.0))])
    nines = 0.75 * 19 + 0.25 * 9
    sevens = 0.5 * 17 + 0.5 * 8
    assert expected_frame_pins(odds) == pytest.approx(0.5 * 30 + 0.4 * nines + 0.1 * sevens)
