"""Exact mean and distribution of a game's score from the odds of its racks."""

from __future__ import annotations

from itertools import product

import pytest

from nextpair.domain.errors import InvalidValueError
from nextpair.scoring.frames import Delivery, game_of
from nextpair.scoring.game_value import (
    FirstBall,
    FrameOdds,
    expected_score,
    expected_score_of_frames,
    expected_score_of_racks,
    frame_odds_of,
    score_distribution,
    score_distribution_of_frames,
    score_interval,
)

ALWAYS_STRIKE = frame_odds_of(1.0, [])


def always(first: int, spare_chance: float, missed: int = 0) -> FrameOdds:
    return frame_odds_of(0.0, [FirstBall(first, 1.0, spare_chance, (*[0.0] * missed, 1.0))])


def mean(distribution) -> float:
    return sum(score * chance for score, chance in enumerate(distribution))


@pytest.mark.parametrize(
    ("odds", "score"),
    # Fixed games of the rule book and by the rules.
    [(ALWAYS_STRIKE, 300), (always(9, 1.0), 190), (always(5, 1.0), 150), (always(9, 0.0), 90)],
)
def test_a_bowler_without_luck_has_one_score(odds, score):
    distribution = score_distribution(odds)
    assert distribution[score] == 1.0
    assert sum(distribution) == 1.0
    assert expected_score(odds) == pytest.approx(score, abs=1e-9)


def test_strikes_on_one_lane_and_spares_on_the_other_take_turns():
    # 20 a frame for nine frames; the tenth is 7 / 7 on the spare lane, X X X on the strike lane.
    spare = always(7, 1.0)
    assert score_distribution(ALWAYS_STRIKE, spare)[9 * 20 + 17] == 1.0
    assert score_distribution(spare, ALWAYS_STRIKE)[9 * 20 + 30] == 1.0
    assert expected_score(ALWAYS_STRIKE, spare) == pytest.approx(197.0, abs=1e-9)
    assert expected_score(spare, ALWAYS_STRIKE) == pytest.approx(210.0, abs=1e-9)


def test_the_tenth_frame_is_bowled_on_the_other_lane():
    # Nines missed on one lane, strikes on the other: five frames of 9 and five of 19 or, in the
    # tenth, 30.
    missed = always(9, 0.0)
    assert expected_score(missed, ALWAYS_STRIKE) == pytest.approx(5 * 9 + 4 * 19 + 30)
    assert expected_score(ALWAYS_STRIKE, missed) == pytest.approx(5 * 19 + 5 * 9)


def test_a_distribution_is_that_of_all_games_bowled_out():
    # Two ways a rack can go, so at most 2^12 games: strike, or 8 pins and then 1.
    odds = frame_odds_of(0.25, [FirstBall(8, 0.75, 0.0, (0.0, 1.0))])
    exact = [0.0] * 301
    for racks in product((True, False), repeat=12):
        game = game_of(())
        used = []
        for strike in racks:
            if game.is_complete:
                break
            used.append(strike)
            for pins in (10,) if strike else (8, 1):
                if not game.is_complete:
                    game = game.with_ball(Delivery(pins))
        if all(racks[len(used) :]):
            exact[game.score] += 0.25 ** sum(used) * 0.75 ** (len(used) - sum(used))
    assert sum(exact) == pytest.approx(1.0, abs=1e-12)
    assert score_distribution(odds) == pytest.approx(exact, abs=1e-14)


def test_first_balls_with_the_same_pins_are_merged_by_weight():
    odds = frame_odds_of(
        0.5,
        [FirstBall(9, 0.3, 0.9), FirstBall(9, 0.1, 0.5), FirstBall(8, 0.1, 0.2, (0.25, 0.75))],
    )
    assert odds.first == pytest.approx([0] * 8 + [0.1, 0.4, 0.5])
    assert odds.second[9] == pytest.approx([0.2, 0.8])
    assert odds.second[8] == pytest.approx([0.2, 0.6, 0.2])
    assert odds.spare == pytest.approx((0.4 * 0.8 + 0.1 * 0.2) / 0.5)
    assert odds.first_ball_pins == pytest.approx(9.4)
    assert odds.two_ball_pins == pytest.approx(9.4 + 0.4 * 0.8 + 0.1 * (0.6 + 0.2 * 2))


@pytest.mark.parametrize("strike", [0.5, -0.1])
def test_odds_that_do_not_add_up_are_refused(strike):
    with pytest.raises(InvalidValueError, match="first"):
        frame_odds_of(strike, [FirstBall(9, 0.4 if strike > 0 else 1.0, 1.0)])


@pytest.mark.parametrize(
    "terms",
    [
        (10, 0.5, 1.0),
        (9, 1.5, 1.0),
        (9, 0.5, 1.1),
        (9, 0.5, 1.0, (0.5, 0.5)),
        (7, 0.5, 1.0, (0.6,)),
    ],
    ids=str,
)
def test_a_first_ball_that_cannot_be_is_refused(terms):
    with pytest.raises(InvalidValueError):
        FirstBall(*terms)


def test_odds_have_a_row_for_every_first_ball():
    with pytest.raises(InvalidValueError, match="first"):
        FrameOdds((1.0,), ALWAYS_STRIKE.second)
    with pytest.raises(InvalidValueError, match="second"):
        FrameOdds(ALWAYS_STRIKE.first, ((1.0,),) * 10)


def test_an_interval_leaves_as_much_below_as_above():
    flat = [0.0] * 100 + [0.1] * 10 + [0.0] * 191
    assert score_interval(flat, 0.7) == (101, 108)
    assert score_interval(flat, 0.5) == (102, 107)
    assert score_interval(score_distribution(ALWAYS_STRIKE)) == (300, 300)
    with pytest.raises(InvalidValueError, match="share"):
        score_interval(flat, 1.0)


def test_a_share_of_the_distribution_lies_within_its_interval():
    distribution = score_distribution(frame_odds_of(0.4, [FirstBall(9, 0.6, 0.8)]))
    low, high = score_interval(distribution, 0.8)
    assert sum(distribution[low : high + 1]) >= 0.8
    assert sum(distribution[: low + 1]) >= 0.1 >= sum(distribution[:low])
    assert sum(distribution[high:]) >= 0.1 >= sum(distribution[high + 1 :])
    assert low < mean(distribution) < high


def test_frames_may_have_odds_of_their_own():
    """By the rules: five strikes, then five open nines; 30 x 3, 29, 19 and 9 x 5."""
    frames = [ALWAYS_STRIKE] * 5 + [always(9, 0.0)] * 5
    assert expected_score_of_frames(frames) == pytest.approx(30 * 3 + 29 + 19 + 9 * 5)
    assert score_distribution_of_frames(frames)[183] == pytest.approx(1.0)


def test_a_game_has_ten_frames():
    with pytest.raises(InvalidValueError, match="frames"):
        expected_score_of_frames([ALWAYS_STRIKE] * 9)


def test_fill_balls_may_have_odds_of_their_own():
    strike, nine = ALWAYS_STRIKE, always(9, 1.0)
    assert expected_score_of_racks([strike] * 12) == 300
    assert expected_score_of_racks([*[strike] * 11, nine]) == 299
    assert expected_score_of_racks([*[strike] * 10, nine, strike]) == 9 * 30 - 1 + 20
    with pytest.raises(InvalidValueError, match="racks"):
        expected_score_of_racks([strike] * 10)
