"""Odds of a rack from leaves, and the numbers of a game under doubt about the lanes."""

from __future__ import annotations

import pytest

from nextpair.domain.errors import InvalidValueError
from nextpair.planning.odds import bad_case_score, frame_odds, game_numbers, pins_if_missed
from nextpair.scoring.game_value import FirstBall, expected_score, frame_odds_of
from nextpair.scoring.leaves import FULL_RACK, parse_leave, pin_count

STRIKES_ONLY = frame_odds_of(1.0, [])
OPENS_ONLY = frame_odds_of(0.0, [FirstBall(9, 1.0, 0.0)])


def masks(*leaves: str) -> list[int]:
    return [parse_leave(leave) for leave in leaves]


def test_leaves_become_counts_with_their_spare_chances():
    odds = frame_odds(0.5, masks("10", "7", "7-10"), [0.3, 0.1, 0.1], [0.9, 0.5, 0.0])
    assert odds.strike == 0.5
    assert odds.first == pytest.approx([0] * 8 + [0.1, 0.4, 0.5])
    assert odds.second[9] == pytest.approx([0.2, 0.8])
    assert odds.second[8] == pytest.approx([0.0, 1.0, 0.0])


def test_shares_are_scaled_to_what_the_strike_leaves_over():
    odds = frame_odds(0.4, masks("10", "2-8"), [3.0, 1.0], [0.9, 0.5])
    assert odds.first[8:] == pytest.approx([0.15, 0.45, 0.4])


def test_a_strike_among_the_leaves_is_passed_over():
    with_strike = frame_odds(0.4, masks("", "10"), [0.4, 0.6], [1.0, 0.9])
    assert with_strike == frame_odds(0.4, masks("10"), [0.6], [0.9])


def test_a_gutter_ball_leaves_the_full_rack():
    odds = frame_odds(0.0, [FULL_RACK], [1.0], [0.1])
    assert odds.first[0] == 1.0
    assert odds.second[0][10] == pytest.approx(0.1)
    assert odds.second[0][5] == pytest.approx(0.9)


def test_a_bowler_who_always_strikes_needs_no_leaves():
    assert frame_odds(1.0, [], [], []) == STRIKES_ONLY
    assert frame_odds(1.0, masks("10"), [0.0], [0.9]) == STRIKES_ONLY


@pytest.mark.parametrize(
    "terms",
    [
        (1.1, [1], [0.1], [0.5]),
        (0.5, [], [], []),
        (0.5, [1], [0.0], [0.5]),
        (0.5, [1, 2], [0.5], [0.5]),
        (0.5, [1], [0.5], [1.5]),
        (0.5, [1, 2], [1.5, -0.5], [0.5, 0.5]),
    ],
    ids=str,
)
def test_odds_that_are_none_are_refused(terms):
    with pytest.raises(InvalidValueError):
        frame_odds(*terms)


@pytest.mark.parametrize(
    ("leave", "pins"), [("10", 0), ("7-10", 1), ("2-4-5", 1), ("4-6-7-10", 2)]
)
def test_a_missed_spare_takes_half_the_leave(leave, pins):
    assert pins_if_missed(pin_count(parse_leave(leave))) == pins


def test_a_lane_without_doubt_has_the_numbers_of_its_distribution():
    odds = frame_odds_of(0.5, [FirstBall(9, 0.5, 0.8)])
    score, (low, high) = game_numbers([odds], [odds])
    assert score == pytest.approx(expected_score(odds))
    assert low < score < high


def test_doubt_is_mixed_over_its_draws():
    # Half the draws are all strikes, half all nines with a miss: no game lies in between.
    draws = [STRIKES_ONLY, OPENS_ONLY]
    assert game_numbers(draws, draws) == (pytest.approx((300 + 90) / 2), (90, 300))


def test_doubt_widens_the_interval():
    sure = frame_odds_of(0.5, [FirstBall(9, 0.5, 0.8)])
    low, high = (frame_odds_of(strike, [FirstBall(9, 1 - strike, 0.8)]) for strike in (0.3, 0.7))
    narrow = game_numbers([sure, sure], [sure, sure])[1]
    wide = game_numbers([low, high], [low, high])[1]
    assert wide[0] < narrow[0] < narrow[1] < wide[1]


def test_draws_may_weigh_differently():
    draws = [STRIKES_ONLY, OPENS_ONLY]
    assert game_numbers(draws, draws, weights=[1, 3])[0] == pytest.approx((300 + 3 * 90) / 4)
    assert game_numbers(draws, draws, weights=[0, 1])[1] == (90, 90)


def test_the_lanes_of_a_pair_take_turns():
    score, interval = game_numbers([STRIKES_ONLY], [OPENS_ONLY])
    assert score == pytest.approx(5 * 19 + 5 * 9)
    assert interval == (140, 140)


def test_both_lanes_need_the_same_draws():
    with pytest.raises(InvalidValueError, match="draws"):
        game_numbers([STRIKES_ONLY], [])
    with pytest.raises(InvalidValueError, match="draws"):
        game_numbers([], [])


def test_the_bad_case_is_the_mean_score_of_the_worst_tenth_of_draws():
    draws = [OPENS_ONLY, *[STRIKES_ONLY] * 9]
    assert bad_case_score(draws, draws) == pytest.approx(90)
    twenty = [OPENS_ONLY, *[STRIKES_ONLY] * 19]
    assert bad_case_score(twenty, twenty) == pytest.approx((90 + 300) / 2)
