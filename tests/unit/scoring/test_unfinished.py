"""What a game under way can become, against every way that it can end."""

from __future__ import annotations

import math

import pytest

from nextpair.domain.format import Counting
from nextpair.scoring.current_frame import CurrentFrameGame, new_game
from nextpair.scoring.frames import Delivery, Game
from nextpair.scoring.game_value import (
    FirstBall,
    expected_score,
    frame_odds_of,
    score_distribution,
)
from nextpair.scoring.notation import parse_game
from nextpair.scoring.statistics import Counts, counts
from nextpair.scoring.unfinished import (
    PRIOR_RACKS,
    expected_finish,
    finish_distribution,
    lowest_possible,
    odds_of_counts,
    pace,
)
from plain_scorer import continuations, frames_of, plain_current_frame_score, plain_score

NO_COUNTS = Counts(0, 0, 0, 0, 0, 0, 0, 0)
USUAL = odds_of_counts(NO_COUNTS)
SCORERS = {Counting.TRADITIONAL: plain_score, Counting.CURRENT_FRAME: plain_current_frame_score}
NEARLY_OVER = [
    [10] * 9,
    [10] * 9 + [10],
    [10] * 9 + [7],
    [10] * 9 + [9, 1],
    [10] * 7 + [9, 1],
    [9, 0] * 7 + [10],
    [0, 0] * 8,
    [0, 10] * 8 + [3],
    [10] * 8 + [7],
]


def chance_of(rolls: tuple[int, ...], begun: int, fill_balls: bool) -> float:
    """Chance of the rolls after the first `begun`, by the usual odds."""
    chance, at = 1.0, 0
    for frame in frames_of(rolls, fill_balls):
        first = None
        for pins in frame:
            of_ball = USUAL.first if first is None else USUAL.second[first]
            chance *= of_ball[pins] if at >= begun else 1.0
            cleared = pins == 10 if first is None else first + pins == 10
            first = None if cleared else pins
            at += 1
    return chance


@pytest.mark.parametrize("counting", Counting)
@pytest.mark.parametrize("rolls", NEARLY_OVER, ids=str)
def test_a_game_nearly_over_ends_as_all_its_continuations_do(rolls, counting):
    fill_balls = counting is Counting.TRADITIONAL
    game = new_game(counting)
    for pins in rolls:
        if game.is_complete:
            break
        game = game.with_ball(Delivery(pins))
    begun = sum(map(len, game.frames))
    by_score = [0.0] * 301
    scores = []
    for ended in continuations(rolls[:begun], fill_balls):
        scores.append(SCORERS[counting](ended))
        by_score[scores[-1]] += chance_of(ended, begun, fill_balls)
    assert finish_distribution(game, USUAL) == pytest.approx(by_score, abs=1e-12)
    mean = sum(score * chance for score, chance in enumerate(by_score))
    assert expected_finish(game, USUAL) == pytest.approx(mean, abs=1e-9)
    assert (lowest_possible(game), game.highest_possible) == (min(scores), max(scores))


def test_a_game_not_begun_is_worth_what_every_game_is():
    assert finish_distribution(Game(), USUAL) == pytest.approx(score_distribution(USUAL))
    assert expected_finish(Game(), USUAL) == pytest.approx(expected_score(USUAL), abs=1e-9)


def test_by_the_current_frame_ten_frames_are_worth_ten_times_one():
    # strike 30, spare 10 + 9, else 9: by hand, with chances of 0.5 and of 0.8.
    odds = frame_odds_of(0.5, [FirstBall(9, 0.5, 0.8)])
    frame = 0.5 * 30 + 0.5 * (0.8 * 19 + 0.2 * 9)
    assert expected_finish(CurrentFrameGame(), odds) == pytest.approx(10 * frame)


@pytest.mark.parametrize("text", ["", "X, 7", "X, X", "9/, 8 1, X, X, 7"])
def test_the_expectation_stays_the_same_on_average_over_the_next_ball(text):
    game = parse_game(text) if text else Game()
    begun = game.frame_under_way
    following = USUAL.second[begun[0].pins] if begun else USUAL.first
    after = sum(
        chance * expected_finish(game.with_ball(Delivery(pins)), USUAL)
        for pins, chance in enumerate(following)
    )
    assert after == pytest.approx(expected_finish(game, USUAL), abs=1e-9)


def test_a_finished_game_is_certain():
    game = parse_game("X, X, X, 7-2, (8)/, F-9, X, 7/, 9-, X X 8")
    assert expected_finish(game, USUAL) == lowest_possible(game) == game.highest_possible == 180
    assert math.fsum(finish_distribution(game, USUAL)) == 1.0


@pytest.mark.parametrize(
    ("text", "expected"),
    [("X", None), ("X X", None), ("X X X", 300), ("9-, 8", 90), ("X, 7/, 9-", 10 * 48 // 3)],
)
def test_pace_goes_on_as_the_frames_that_are_known(text, expected):
    assert pace(parse_game(text)) == expected


def test_own_counts_weigh_against_the_usual_ones():
    games = [parse_game("X, 9/, X, 9/, X, 9/, X, 9/, X, 9/X")] * 20
    seen = counts(games)
    own = odds_of_counts(seen)
    weight = seen.first_balls / (seen.first_balls + PRIOR_RACKS)
    rate = seen.strikes / seen.first_balls
    assert own.strike == pytest.approx(weight * rate + (1 - weight) * USUAL.strike)
    assert USUAL.spare < own.spare < 1
    assert USUAL.first_ball_pins < own.first_ball_pins
    as_counted = frame_odds_of(rate, [FirstBall(9, 1 - rate, 1.0)])
    assert expected_score(USUAL) < expected_score(own) < expected_score(as_counted)


def test_the_usual_odds_are_those_of_a_200_average():
    assert 190 < expected_score(USUAL) < 205
    assert USUAL.strike + (1 - USUAL.strike) * USUAL.spare == pytest.approx(0.85, abs=0.03)


@pytest.mark.parametrize(
    "extreme",
    [Counts(10**6, 10**7, 10**6, 0, 0, 0, 0, 0), Counts(10**6, 0, 0, 10**6, 0, 0, 0, 0),
     Counts(10**6, 9 * 10**6, 0, 10**6, 10**6, 0, 0, 0)],
)  # fmt: skip
def test_extreme_counts_give_odds_too(extreme):
    odds = odds_of_counts(extreme)
    assert odds.strike == pytest.approx(extreme.strikes / extreme.first_balls, abs=1e-4)
    if extreme.spare_tries:
        assert odds.spare == pytest.approx(extreme.spares / extreme.spare_tries, abs=1e-4)
    assert odds.first_ball_pins == pytest.approx(
        extreme.first_ball_pins / extreme.first_balls, abs=1e-3
    )
