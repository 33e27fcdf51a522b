"""Racks as they were met, of shots and of written games."""

from __future__ import annotations

import pytest

from logged_games import logged_frame, logged_game
from nextpair.application.met_racks import (
    follows,
    game_of_racks,
    racks_of_game,
    racks_of_shots,
)
from nextpair.domain.bowler import Hand
from nextpair.domain.format import Counting
from nextpair.scoring.leaves import FULL_RACK, LeaveKind, parse_leave
from nextpair.scoring.notation import game_text, parse_game

OPEN = ("10", "10")
GAME = [[""], ["10", ""], ["3-10", "10"], ["F", "7"], *[[""]] * 5, ["", "6-10", ""]]
WRITTEN = "X, 9 /, (8) 1, F 9, X, X, X, X, X, X 8 /"


def test_shots_and_the_written_game_meet_the_same_racks():
    logged = racks_of_shots(logged_game(1, GAME))
    written = racks_of_game(1, parse_game(WRITTEN))
    assert [(rack.place, rack.first, rack.second) for rack in logged] == [
        (rack.place, rack.first, rack.second) for rack in written
    ]
    game = game_of_racks(logged)
    assert game is not None
    assert game_text(game) == WRITTEN


def test_a_logged_leave_is_known_pin_by_pin():
    racks = racks_of_shots(logged_game(1, GAME))
    assert [rack.leave for rack in racks[:4]] == [
        0,
        parse_leave("10"),
        parse_leave("3-10"),
        FULL_RACK,
    ]
    assert [rack.kind for rack in racks[:4]] == [
        None,
        LeaveKind.SINGLE_PIN,
        LeaveKind.SPLIT,
        LeaveKind.MAKEABLE,
    ]


def test_a_count_tells_what_it_can_of_the_leave():
    racks = racks_of_game(1, parse_game("9 -, (8) 1, 8 1, - 9, X"))
    assert [rack.leave for rack in racks] == [None, None, None, FULL_RACK, 0]
    assert [rack.kind for rack in racks] == [
        LeaveKind.SINGLE_PIN,
        LeaveKind.SPLIT,
        None,
        LeaveKind.MAKEABLE,
        None,
    ]


def test_leaves_beside_a_written_game_are_those_of_first_balls():
    leaves = ((0,), (parse_leave("10"), 0), (None, None), (FULL_RACK, parse_leave("7")))
    racks = racks_of_game(1, parse_game(WRITTEN), leaves)
    assert [rack.leave for rack in racks[:4]] == [0, parse_leave("10"), None, FULL_RACK]
    assert [rack.leave for rack in racks[9:]] == [0, None]


@pytest.mark.parametrize(
    ("tenth", "places"),
    [
        ([""], [9]),
        (["", ""], [9, 10]),
        (["", "", "7"], [9, 10, 11]),
        (["", "7", ""], [9, 10]),
        (["7", "", ""], [9, 10]),
        (["7", "7"], [9]),
    ],
)
def test_fill_balls_meet_racks_with_places_of_their_own(tenth, places):
    assert [rack.place for rack in racks_of_shots(logged_frame(1, 10, tenth))] == places


def test_where_nobody_looked_a_rack_is_left_out_or_has_no_second_ball():
    assert racks_of_shots(logged_frame(1, 1, ["?", ""])) == ()
    (rack,) = racks_of_shots(logged_frame(1, 1, ["7", "?"]))
    assert (rack.first.pins, rack.second) == (9, None)


def test_pins_that_cannot_stand_are_not_believed():
    (rack,) = racks_of_shots(logged_frame(1, 1, ["7", "10"]))
    assert rack.second is None
    shots = logged_frame(1, 1, ["7"], standing_before=frozenset({7, 10}))
    assert racks_of_shots(shots) == ()


def test_practice_is_no_game():
    assert racks_of_shots(logged_frame(0, 1, [""])) == ()


def test_a_rack_follows_only_the_one_right_before_it():
    first, second, third = racks_of_shots(logged_game(1, [[""], ["?", ""], [""], [""]]))
    assert not follows(first, second)
    assert follows(second, third)


def test_a_game_with_a_rack_missing_is_no_game():
    racks = racks_of_shots(logged_game(1, GAME))
    assert game_of_racks(racks[:-1]) is None
    assert game_of_racks((*racks[:4], *racks[5:])) is None
    open_second = racks_of_shots(logged_game(1, [["7", "?"], *[[""]] * 8, ["", "", ""]]))
    assert game_of_racks(open_second) is None


def test_ten_racks_make_a_game_where_frames_count_alone():
    racks = racks_of_shots(logged_game(1, [[""]] * 10))
    assert game_of_racks(racks) is None
    alone = game_of_racks(racks, Counting.CURRENT_FRAME)
    assert alone is not None
    assert alone.score == 300


@pytest.mark.parametrize(
    ("board", "hand", "is_in"),
    [
        (17.5, Hand.RIGHT, True),
        (18.5, Hand.RIGHT, True),
        (19.0, Hand.RIGHT, False),
        (16.0, Hand.RIGHT, True),
        (15.0, Hand.RIGHT, False),
        (22.5, Hand.LEFT, True),
        (17.5, Hand.LEFT, False),
    ],
)
def test_the_pocket_lies_to_the_bowlers_side_of_the_head_pin(board, hand, is_in):
    (rack,) = racks_of_shots(logged_frame(1, 1, [""], entry_board=board))
    assert rack.in_pocket(hand) is is_in


def test_nobody_knows_of_the_pocket_what_nobody_saw():
    (rack,) = racks_of_shots(logged_frame(1, 1, [""]))
    assert rack.in_pocket(Hand.RIGHT) is None
