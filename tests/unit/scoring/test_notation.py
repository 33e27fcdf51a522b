"""A game as written, read back and checked."""

from __future__ import annotations

import pytest

from nextpair.domain.errors import InvalidValueError
from nextpair.scoring.frames import Delivery
from nextpair.scoring.notation import game_problems, game_text, parse_game

SPARE_OF_A_SPLIT = (Delivery(8, split=True), Delivery(2))


@pytest.mark.parametrize(
    "text",
    ["X, 7-2, (8)/, F-9, 9-", "X 7-2 (8)/ F-9 9-", "x72(8)/f99-", "X, 7 2, (8) 2, F9, 9 0,"],
)
def test_a_game_is_read_however_its_balls_are_parted(text):
    assert parse_game(text).frames == (
        (Delivery(10),),
        (Delivery(7), Delivery(2)),
        SPARE_OF_A_SPLIT,
        (Delivery(0, foul=True), Delivery(9)),
        (Delivery(9), Delivery(0)),
    )


def test_a_hyphen_is_a_miss_where_it_parts_no_two_balls():
    assert [ball.pins for ball in parse_game("-7").frames[0]] == [0, 7]
    assert [ball.pins for ball in parse_game("--").frames[0]] == [0, 0]
    tenth = parse_game("X, X, X, X, X, X, X, X, X, X-9").frames[-1]
    assert [ball.pins for ball in tenth] == [10, 0, 9]


def test_a_written_game_has_frames_parted_by_commas():
    assert game_text(parse_game("X72(8)/F99--/9")) == "X, 7 2, (8) /, F 9, 9 -, - /, 9"
    assert game_text(parse_game("XXXXXXXXX9/X")) == "X, X, X, X, X, X, X, X, X, 9 / X"


def test_a_good_sheet_has_no_problems():
    assert game_problems("X, 7/, 9-", [20, 39, 48]) == ()
    assert game_problems("X, 7/, 9-", [None, 39]) == ()


@pytest.mark.parametrize(
    ("text", "place", "allowed"),
    [
        ("X X, 9", "frame 1", r"1 ball\(s\) here"),
        ("7 5, X", "frame 1", "at most 3 pins"),
        ("X, /, X", "frame 2", "X where a first ball takes all"),
        ("X, -X, X", "frame 2", "/ where a second ball takes the rest"),
        ("X, 7, X", "frame 2", "two balls, or a strike"),
        ("X,, X", "frame 2", "two balls, or a strike"),
        ("X, -(8)", "frame 2", "a split left by a first ball"),
        ("X, 7Q", "frame 2", "X, /, -, F, digits"),
        ("9-, " * 9 + "9-X", "frame 10", r"2 ball\(s\) here"),
        ("9-, " * 9 + "XX/", "frame 10", "X where a first ball"),
        ("9-, " * 11, "frame 11", "10 frames"),
        ("X" * 13, "frame 11", "10 frames"),
        ("X 7 5", "frame 2", "at most 3 pins"),
        ("7Q", "game", "X, /, -, F, digits"),
    ],
)
def test_an_impossible_sheet_is_told_with_its_frame(text, place, allowed):
    (problem,) = game_problems(text, file="scores.csv")
    assert (problem.file, problem.place) == ("scores.csv", place)
    with pytest.raises(InvalidValueError, match=allowed):
        parse_game(text)
    assert str(problem).startswith("scores.csv: frame") or place == "game"


def test_every_wrong_frame_is_told():
    problems = game_problems("7 5, X, 8 8, /, 9-")
    assert [problem.place for problem in problems] == ["frame 1", "frame 3", "frame 4"]


def test_a_wrong_total_is_told_once_where_it_first_goes_wrong():
    problems = game_problems("X, 7/, 9-, 9-", [20, 40, 49, 58])
    assert [(p.place, p.found, p.allowed) for p in problems] == [("frame 2", "40", "39")]


def test_a_total_before_its_balls_is_told():
    (problem,) = game_problems("X, X", [30])
    assert (problem.place, problem.found) == ("frame 1", "30")
    (problem,) = game_problems("9-", [9, 18])
    assert (problem.place, problem.found) == ("frame 2", "18")
