"""Frames, leaves, averages and the value of a game against rule books and exact counts.

All expected numbers, with their sources, are in data/scoring.toml.
"""

from __future__ import annotations

import math
from itertools import accumulate

import pytest

from nextpair.domain.format import HandicapRule, Rounding
from nextpair.scoring.averages import average, handicap_by
from nextpair.scoring.game_value import (
    FirstBall,
    FrameOdds,
    expected_score,
    frame_odds_of,
    games_by_score,
    score_distribution,
)
from nextpair.scoring.leaves import is_split, is_washout, mirrored_leave, parse_leave
from nextpair.scoring.notation import game_problems, parse_game
from reference.record import load_authority, load_entry

SCORING = "scoring"
LEAVES = load_entry(SCORING, "splits")


def mean_and_deviation(weights) -> tuple[float, float]:
    total = sum(weights)
    mean = sum(score * weight for score, weight in enumerate(weights)) / total
    square = sum((score - mean) ** 2 * weight for score, weight in enumerate(weights)) / total
    return mean, math.sqrt(square)


def nine_or_strike(strike: float, spare_chance: float) -> FrameOdds:
    return frame_odds_of(strike, [FirstBall(9, 1 - strike, spare_chance)])


def test_the_rule_book_game_adds_up_frame_by_frame(record):
    text = load_entry(SCORING, "rule_book_game")["game"]
    record.published(
        SCORING,
        "rule_book_game",
        running_scores=parse_game(text).running_scores,
        score_with_a_last_ball_of_7=parse_game(text.removesuffix("8") + "7").score,
    )


def test_the_rule_book_game_keeps_its_foul_and_its_split():
    frames = parse_game(load_entry(SCORING, "rule_book_game")["game"]).frames
    fouls = [number for number, frame in enumerate(frames, 1) for ball in frame if ball.foul]
    splits = [number for number, frame in enumerate(frames, 1) for ball in frame if ball.split]
    assert (fouls, splits) == ([6], [5])


def test_a_game_added_up_wrongly_in_print_is_found_out(record):
    wrong = load_entry(SCORING, "wrong_game")
    running = parse_game(wrong["game"]).running_scores
    record.published(SCORING, "wrong_game", right_after_frame_8=running[7], right_score=running[9])
    printed = [None] * 7 + [wrong["printed_after_frame_8"], None, wrong["printed_score"]]
    problems = game_problems(wrong["game"], printed)
    assert [(p.place, p.found, p.allowed) for p in problems] == [("frame 8", "140", "130")]


@pytest.mark.parametrize("fixed", load_authority(SCORING)["fixed_games"], ids=lambda f: f["game"])
def test_a_game_that_everybody_knows_scores_what_it_should(fixed):
    assert parse_game(fixed["game"]).score == fixed["score"]


@pytest.mark.parametrize("leave", LEAVES["splits"])
def test_a_split_of_the_rule_book_is_a_split_for_both_hands(leave):
    assert is_split(parse_leave(leave))
    assert is_split(mirrored_leave(parse_leave(leave)))


@pytest.mark.parametrize("leave", LEAVES["no_splits"])
def test_a_leave_that_is_no_split_is_none_for_both_hands(leave):
    assert not is_split(parse_leave(leave))
    assert not is_split(mirrored_leave(parse_leave(leave)))


@pytest.mark.parametrize("leave", LEAVES["washouts"])
def test_a_gap_behind_a_standing_head_pin_is_a_washout(leave):
    assert is_washout(parse_leave(leave))


@pytest.mark.parametrize("leave", LEAVES["no_washouts"])
def test_other_leaves_are_no_washouts(leave):
    assert not is_washout(parse_leave(leave))


def test_averages_and_handicap_follow_the_examples():
    entry = load_entry(SCORING, "averages")
    example = entry["average"]
    assert average(example["pins"], example["games"]) == example["average"]
    example = entry["handicap"]
    given = handicap_by(HandicapRule(example["base"], example["percent"]), example["average"])
    assert (given, 160 + given) == (example["handicap"], example["score_of_160"])
    example = entry["rounded_handicap"]
    for rounding, key in ((Rounding.DOWN, "dropped"), (Rounding.HALF_UP, "half_up")):
        rule = HandicapRule(example["base"], example["percent"], rounding)
        assert handicap_by(rule, example["average"]) == example[key]


def test_the_number_of_games_with_each_score_is_exact():
    counts = games_by_score()
    published = load_entry(SCORING, "exact_counts")
    assert sum(counts) == published["games"] == 66**9 * 241
    assert max(counts) == counts[77] == published["games_of_77"]
    assert list(counts[:6]) == published["games_from_0"]
    assert list(counts[:6]) == [math.comb(score + 19, 19) for score in range(6)]
    assert list(counts[285:]) == published["games_from_285"]
    of_score = {score: counts[int(score)] for score in published["games_of"]}
    assert of_score == published["games_of"]


def test_the_distribution_over_all_games_has_the_published_shape(record):
    counts = games_by_score()
    mean, deviation = mean_and_deviation(counts)
    record.published(
        SCORING,
        "count_of_games",
        games_1e18=sum(counts) / 1e18,
        most_common_score=counts.index(max(counts)),
        mean_score=mean,
        score_deviation=deviation,
        median_score=[2 * reached >= sum(counts) for reached in accumulate(counts)].index(True),
    )


@pytest.mark.parametrize(
    "model", load_authority(SCORING)["simple_model"], ids=lambda m: m["about"]
)
def test_the_simple_model_has_its_mean_and_deviation(record, model):
    odds = nine_or_strike(model["strike"], model["spare_chance"])
    mean, deviation = mean_and_deviation(score_distribution(odds))
    for quantity, expected, achieved in (
        ("mean_score", model["mean_score"], expected_score(odds)),
        ("mean_score of the distribution", model["mean_score"], mean),
        ("score_deviation", model["score_deviation"], deviation),
    ):
        record.closed_form(
            model["about"],
            quantity,
            expected=expected["value"],
            achieved=achieved,
            tolerance=expected["tolerance"],
            source=f"{model['source']}, {model['mark']}",
        )


def test_a_perfect_game_has_the_published_odds(record):
    strikes = load_entry(SCORING, "perfect_game")["strikes"]
    chances = [score_distribution(nine_or_strike(strike, 0.9))[300] for strike in strikes]
    record.published(
        SCORING,
        "perfect_game",
        one_in_for_a_professional=1 / chances[0],
        one_in_for_an_average_bowler=1 / chances[1],
    )
    assert chances == pytest.approx([strike**12 for strike in strikes], rel=1e-12)
