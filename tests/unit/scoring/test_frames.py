"""Frames, running scores and what a game can still become."""

from __future__ import annotations

import pytest

from nextpair.domain.errors import InvalidValueError
from nextpair.scoring.frames import Delivery, Game, delivery_between, game_of, pins_standing
from nextpair.scoring.leaves import FULL_RACK, parse_leave
from nextpair.scoring.notation import parse_game


def balls(*pins: int) -> tuple[Delivery, ...]:
    return tuple(Delivery(count) for count in pins)


def test_balls_fall_into_frames():
    game = game_of(balls(10, 7, 3, 9, 0, 4))
    assert [[ball.pins for ball in frame] for frame in game.frames] == [[10], [7, 3], [9, 0], [4]]


@pytest.mark.parametrize(
    ("text", "running"),
    [
        ("X", (None,)),
        ("X X", (None, None)),
        ("X X 9", (29, None, None)),
        ("X 7", (None, None)),
        ("X 7 /", (20, None)),
        ("7 /", (None,)),
        ("7 / 4", (14, None)),
        ("7 2 F", (9, None)),
    ],
)
def test_a_frame_counts_once_its_bonus_is_bowled(text, running):
    assert parse_game(text).running_scores == running


def test_a_game_has_a_score_when_it_is_complete():
    nine_strikes = game_of(balls(*[10] * 9))
    assert nine_strikes.score is None
    assert game_of(balls(*[10] * 9, 9, 0)).score == 267
    assert game_of(balls(*[10] * 11)).score is None
    assert game_of(balls(*[10] * 11, 0)).score == 290
    assert Game().running_scores == ()


@pytest.mark.parametrize(
    ("text", "highest"),
    # By the rules: strikes from here on, after a spare where the rack is already broken.
    [
        ("", 300),
        ("X X", 300),
        ("7", 290),
        ("9 -", 279),
        ("X 9 -", 268),
        ("X X X X X X X X X X -", 280),
    ],
)
def test_the_highest_score_still_possible(text, highest):
    assert parse_game(text).highest_possible == highest


@pytest.mark.parametrize(
    ("pins", "place"),
    [
        ((7, 4), "frame 1"),
        ((10, 3, 8), "frame 2"),
        ((0,) * 18 + (6, 5), "frame 10"),
        ((10,) * 10 + (6, 5), "frame 10"),
    ],
)
def test_more_pins_than_stand_are_refused_with_their_frame(pins, place):
    with pytest.raises(InvalidValueError, match=f"{place}: .*no more stand"):
        game_of(balls(*pins))


@pytest.mark.parametrize("pins", [(0,) * 21, (10,) * 13, (9, 1) * 10 + (10, 1)])
def test_nothing_follows_a_complete_game(pins):
    with pytest.raises(InvalidValueError, match="frames: found 11, allowed: at most 10"):
        game_of(balls(*pins))


def test_a_frame_keeps_to_its_number_of_balls():
    with pytest.raises(InvalidValueError, match=r"frame 1: .*2 ball.*over"):
        Game((balls(1, 2, 3),))
    with pytest.raises(InvalidValueError, match=r"frame 1: .*1 ball.*over"):
        Game((balls(10, 0),))
    with pytest.raises(InvalidValueError, match=r"frame 1: .*before the next frame"):
        Game((balls(1), balls(10)))
    with pytest.raises(InvalidValueError, match=r"frame 2: .*at least one ball"):
        Game((balls(10), ()))


def test_a_cleared_rack_in_the_tenth_is_set_again():
    assert pins_standing(balls(10)) == 10
    assert pins_standing(balls(10, 4)) == 6
    assert pins_standing(balls(4, 6)) == 10


@pytest.mark.parametrize(
    ("field", "wrong"),
    [
        ("pins", {"pins": 11}),
        ("pins", {"pins": -1}),
        ("pins", {"pins": 3, "foul": True}),
        ("split", {"pins": 9, "split": True}),
        ("split", {"pins": 0, "split": True}),
    ],
)
def test_a_ball_that_cannot_be_is_refused(field, wrong):
    with pytest.raises(InvalidValueError, match=field):
        Delivery(**wrong)


def test_a_split_is_left_by_a_first_ball_only():
    split = Delivery(8, split=True)
    assert game_of((split,)).frames[0][0].split
    with pytest.raises(InvalidValueError, match="a split left by a first ball"):
        game_of((Delivery(0), split))


def test_a_ball_is_read_from_the_pins_before_and_after_it():
    assert delivery_between(FULL_RACK, parse_leave("7-10")) == Delivery(8, split=True)
    assert delivery_between(FULL_RACK, parse_leave("1-2-10")) == Delivery(7)
    assert delivery_between(parse_leave("2-4-5"), parse_leave("4-5")) == Delivery(1)
    assert delivery_between(FULL_RACK, parse_leave("10"), foul=True) == Delivery(0, foul=True)
    with pytest.raises(InvalidValueError, match="standing_after"):
        delivery_between(parse_leave("7"), parse_leave("10"))
