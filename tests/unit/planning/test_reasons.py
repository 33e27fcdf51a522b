"""Sentences: every one holds the numbers it speaks of, and sides as the bowler sees them."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from nextpair.domain.ball import Surface, Tool
from nextpair.domain.bowler import Hand
from nextpair.domain.units import DEGREE_RAD, FOOT_M
from nextpair.kernel.throws import release_errors
from nextpair.physics.film import film_line_units
from nextpair.planning.choice import Fallback
from nextpair.planning.reasons import (
    LOOK_FT,
    SAME_BOARDS,
    ball_reason,
    fallback_words,
    film_words,
    insured_words,
    opinion_words,
    purpose_words,
    same_line_words,
    sides,
    spare_ball_words,
)
from nextpair.planning.rotation import ShotsBefore
from nextpair.planning.second_opinion import SecondOpinion
from nextpair.planning.trial import Line, meant_offset_boards, try_line
from small_event import SEED, mirror_image, small_workings

WORK = small_workings()
STUDY, BOWLER = WORK.study, WORK.event.bowler
LEFT_STUDY = replace(STUDY, event=mirror_image(WORK.event))
LANE = STUDY.of_game(2)[0]
CHOICE = WORK.choices[1]
LINE = CHOICE.lines[0]
TRIAL = try_line(
    LINE, LANE, BOWLER, WORK.table, WORK.pins, release_errors(BOWLER.scatter, 8, SEED)
)
OTHER = next(
    o for o, ball in enumerate(STUDY.options) if ball.name != STUDY.options[LINE.option].name
)
BALL, OTHER_BALL = (STUDY.options[o].name for o in (LINE.option, OTHER))
BOTH_SIDES = ShotsBefore(64, 12, 0, 0)
FAR_SIDE = ShotsBefore(0, 84, 0, 0)
NOBODY = ShotsBefore(0, 0, 0, 0)


def numbers(words: str) -> list[float]:
    return [float(n) for n in re.findall(r"(?<![\w.-])\d+(?:\.\d+)?", words)]


def test_a_shift_to_the_own_side_is_right_for_a_right_hander_and_left_for_a_left_hander():
    assert sides(Hand.RIGHT).of(2.44) == "2.4 boards right"
    assert sides(Hand.RIGHT).of(-2.44) == "2.4 boards left"
    assert sides(Hand.LEFT).of(2.44) == "2.4 boards left"
    assert sides(Hand.LEFT).of(-2.44) == "2.4 boards right"


@pytest.mark.parametrize(
    ("study", "shots", "who"),
    [
        (
            STUDY,
            BOTH_SIDES,
            "64 shots by right-handers before you, 12 from the other side",
        ),
        (
            LEFT_STUDY,
            BOTH_SIDES,
            "64 shots by left-handers before you, 12 from the other side",
        ),
        (
            STUDY,
            FAR_SIDE,
            "no right-hander before you, 84 shots from the other side",
        ),
        (
            LEFT_STUDY,
            FAR_SIDE,
            "no left-hander before you, 84 shots from the other side",
        ),
        (STUDY, NOBODY, "nobody has bowled here before you"),
        (
            STUDY,
            ShotsBefore(0, 84, 20, 44),
            "no right-hander before you, 84 shots from the other side, 20 by hands that nobody "
            "wrote down; 44 of them by earlier squads",
        ),
    ],
)
def test_the_film_says_who_was_here_before(study, shots, who):
    words = film_words(study, LANE, TRIAL, shots)
    assert who in words
    assert "17-18" in words


def test_the_film_says_what_oil_was_laid_and_is_left_under_the_line():
    words = film_words(STUDY, LANE, TRIAL, BOTH_SIDES)
    low, high = (int(n) for n in re.findall(r"boards (\d+)-(\d+)", words)[0])
    under = np.interp(LOOK_FT, np.arange(60), TRIAL.path)
    assert low <= under <= high
    left, laid = (
        np.mean(film_line_units(film, LOOK_FT * FOOT_M)[low - 1 : high])
        for film in (LANE.start, LANE.fresh)
    )
    assert f"{left:.1f} of {laid:.1f}" in words


@pytest.mark.parametrize(("length_ft", "told_ft"), [(52, 35), (40, 35), (36, 31), (28, 23)])
def test_the_film_is_told_where_there_is_oil_however_short_the_pattern(length_ft, told_ft):
    words = film_words(
        STUDY,
        replace(LANE, kind=replace(LANE.kind, length_m=length_ft * FOOT_M)),
        TRIAL,
        BOTH_SIDES,
    )
    under = np.interp(told_ft, np.arange(60), TRIAL.path)
    low, high = (int(n) for n in re.findall(r"boards (\d+)-(\d+)", words)[0])
    left = np.mean(film_line_units(LANE.start, told_ft * FOOT_M)[low - 1 : high])
    assert low <= under <= high
    assert f"At {told_ft} ft {left:.1f} of" in words


@pytest.mark.parametrize(("beyond", "board"), [(-16.0, 1), (120.0, 39)])
def test_beside_the_lane_the_film_is_told_of_its_last_board(beyond, board):
    words = film_words(STUDY, LANE, replace(TRIAL, path=np.full(60, beyond)), BOTH_SIDES)
    left = film_line_units(LANE.start, LOOK_FT * FOOT_M)[board - 1]
    assert f"boards {board}-{board}" in words
    assert f"{left:.1f} of" in words


@pytest.mark.parametrize(
    ("shift_boards", "said"), [(3.0, "light"), (-3.0, "high"), (0.3, "arrives in the same place")]
)
def test_the_line_before_comes_in_light_or_high_or_in_the_same_place(shift_boards, said):
    arrives = meant_offset_boards(LINE, LANE.middle, LANE, BOWLER)
    words = same_line_words(STUDY, LANE, LINE, arrives - shift_boards, 1)
    assert words is not None
    assert said in words
    assert BALL in words
    assert "Game 1" in words
    if abs(shift_boards) >= SAME_BOARDS:
        side = "right" if shift_boards > 0 else "left"
        assert f"{abs(shift_boards):.1f} boards {side}" in words


def test_a_ball_is_told_with_its_strikes_and_how_much_the_next_one_falls_short():
    choice = replace(CHOICE, dropped=None, next_best=OTHER, value_pins=190.0, next_best_pins=187.6)
    words = ball_reason(STUDY, choice, 0.456)
    assert BALL in words
    assert OTHER_BALL in words
    assert "46%" in words
    assert "2.4 pins" in words


def test_a_ball_that_is_kept_though_another_scores_more_says_so():
    choice = replace(CHOICE, dropped=None, next_best=OTHER, value_pins=190.0, next_best_pins=190.3)
    words = ball_reason(STUDY, choice, 0.456)
    assert "0.3 pins a game more" in words
    assert "-" not in words.replace("-hander", "")


def test_the_only_ball_is_told_as_the_only_one():
    words = ball_reason(STUDY, replace(CHOICE, next_best=None), 0.5)
    assert BALL in words
    assert "50%" in words
    assert OTHER_BALL not in words


def opinion(rule: float, exit_board: float, line: Line | None = LINE) -> SecondOpinion:
    return SecondOpinion(rule, exit_board, line, 3.27)


def test_a_second_opinion_that_agrees_says_by_how_much():
    words = opinion_words(opinion(11.0, 12.4), TRIAL)
    assert "board 11" in words
    assert "12.4" in words
    assert "1.4" in words
    assert "less" not in words


@pytest.mark.parametrize(("exit_board", "where"), [(4.0, "outside"), (18.0, "inside")])
def test_a_second_opinion_that_differs_says_where_and_what_it_costs(exit_board, where):
    turned = replace(LINE, angle_rad=LINE.angle_rad - 1.0 * DEGREE_RAD)
    words = opinion_words(opinion(11.0, exit_board, turned), TRIAL)
    assert where in words
    assert f"{exit_board:.1f}" in words
    assert "3.3 pins" in words
    assert "less launch angle" in words
    assert f"board {LINE.own_laydown:.0f}" in words


def test_where_nothing_in_reach_leaves_at_the_rules_board_no_cost_is_named():
    words = opinion_words(opinion(11.0, 4.0, None), TRIAL)
    assert "reach" in words
    assert "pins" not in words


@pytest.mark.parametrize(
    ("study", "side", "seen"),
    [
        (STUDY, 1, "comes in light, about 1.7 boards right"),
        (STUDY, -1, "goes high, about 1.7 boards left"),
        (LEFT_STUDY, 1, "comes in light, about 1.7 boards left"),
        (LEFT_STUDY, -1, "goes high, about 1.7 boards right"),
    ],
)
def test_a_fallback_says_what_the_bowler_sees(study, side, seen):
    words = fallback_words(study, CHOICE, Fallback(CHOICE.lines, side, 1.7, 6.4))
    assert seen in words
    assert BALL in words
    assert "6 pins" in words


@pytest.mark.parametrize(("gain", "said"), [(0.8, "Worth 1 pin a game"), (1.8, "Worth 2 pins a")])
def test_one_pin_is_told_as_one(gain, said):
    assert said in fallback_words(STUDY, CHOICE, Fallback(CHOICE.lines, 1, 1.7, gain))


def test_a_pair_that_is_bowled_on_again_is_named_once():
    stays = replace(STUDY, event=replace(WORK.event, move_pairs=0, games=3))
    assert purpose_words(stays, OTHER, (2, 3), LINE, "").startswith("Games 2 and 3 on 13-14.")
    assert purpose_words(STUDY, OTHER, (1, 2), LINE, "").startswith(
        "Games 1 and 2 on 13-14 and 17-18."
    )


def test_where_two_patterns_lie_the_film_is_told_of_its_own_lane():
    event = replace(
        WORK.event, right_pattern=replace(WORK.event.right_pattern, name="Another Tide")
    )
    assert "lane" not in film_words(STUDY, LANE, TRIAL, BOTH_SIDES)
    assert f"of lane {LANE.lane} " in film_words(
        replace(STUDY, event=event), LANE, TRIAL, BOTH_SIDES
    )


def test_a_ball_of_the_bag_says_its_games_and_pairs_and_how_much_it_hooks():
    words = purpose_words(STUDY, OTHER, (2,), LINE, "")
    assert "2" in words
    assert "17-18" in words
    lane = STUDY.of_game(1)[0]
    main, other = (
        meant_offset_boards(line, lane.middle, lane, BOWLER)
        for line in (LINE, replace(LINE, option=OTHER))
    )
    assert abs(main - other) > SAME_BOARDS
    assert f"{abs(main - other):.1f} boards {'more' if main > other else 'less'}" in words
    assert BALL in words


def test_what_a_ball_that_is_not_planned_is_for():
    assert "change" in insured_words(STUDY, 0.4, 0.2, None)
    saves = insured_words(STUDY, 0.0, 1.2, None)
    assert "nothing on average" in saves
    assert 1.2 in numbers(saves)
    stands_in = insured_words(STUDY, 0.0, 0.0, (LINE.option, 2.3))
    assert BALL in stands_in
    assert 2.3 in numbers(stands_in)
    assert "nothing else" in insured_words(STUDY, 0.0, 0.0, (LINE.option, None))


@pytest.mark.parametrize(("cost_pins", "said"), [(0.0, "as many"), (1.5, "fewer"), (-1.5, "more")])
def test_the_spare_ball_is_held_against_a_strike_ball_thrown_flat(cost_pins, said):
    words = spare_ball_words(BALL, cost_pins)
    assert said in words
    assert BALL in words


def test_a_ball_for_no_game_is_what_it_is_brought_for():
    assert "change" in purpose_words(STUDY, OTHER, (), LINE, "The change.").lower()


@pytest.mark.parametrize(
    ("tool", "said"),
    [
        (Tool.SPINNER, "Put a fresh surface on it: 500, on a spinner before the event."),
        (Tool.HAND, "500, all over with a pad by hand, before each of its games."),
    ],
)
def test_surface_work_says_with_which_tool_and_when(tool, said):
    ball = STUDY.options[LINE.option]
    worked = replace(ball, surface=Surface(500, by=tool, under=ball.surface))
    options = (*STUDY.options[: LINE.option], worked, *STUDY.options[LINE.option + 1 :])
    assert said in purpose_words(replace(STUDY, options=options), LINE.option, (1,), LINE, "")
