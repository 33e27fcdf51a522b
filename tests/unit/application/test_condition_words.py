"""What is said to somebody who bowled a low game: whether it was the lane or they themselves."""

from __future__ import annotations

import numpy as np
import pytest

from event_folder import DEMO
from nextpair.application.condition_words import sds_words
from nextpair.application.standings import standing_of
from nextpair.domain.bowler import Hand
from nextpair.domain.field_score import FieldScore
from nextpair.files import load_event

EVENT = load_event(DEMO / "event.toml")
ME = EVENT.bowler_name


def words_of(own: list[int], mean: float, *, averages: float = 203, pair_pins: float = 0) -> str:
    """A field of 40 with four games each, at a mean, and the bowler's own."""
    rng = np.random.default_rng(1)
    levels = rng.normal(0, 13, 40)
    levels -= levels.mean()
    scores = [
        FieldScore(
            f"Bowler {n}", game,
            round(mean + level + 10 * (-1) ** game + pair_pins * (pair == 13)),
            hand=Hand.RIGHT, pair=f"{pair}-{pair + 1}", average=round(averages + level),
        )
        for n, level in enumerate(levels)
        for game in range(1, 5)
        for pair in (13 + 2 * ((n + game) % 4),)
    ]  # fmt: skip
    scores += [FieldScore(ME, game, pins) for game, pins in enumerate(own, start=1)]
    return " ".join(standing_of(EVENT, scores, 7).condition.words)


def test_a_low_score_on_a_hard_condition_is_the_lanes():
    words = words_of([190, 190, 186, 190], 183)
    assert "The field averages 183 here, 20 under its averages" in words
    assert "Your 189 is half a standard deviation better than that" in words
    assert "a low score is the lane's, not yours" in words
    assert "Your lowest, 186 in game 3, was bowled where 41 bowlers averaged 173" in words


def test_a_low_score_where_the_field_scores_is_ones_own():
    words = words_of([186, 190, 188, 190], 203)
    assert "worse than that: the lane is not all of it" in words
    assert "the lane's, not yours" not in words


def test_what_the_field_bowls_is_said_as_that():
    words = words_of([184] * 4, 183)
    assert (
        "Your 184 is what the field bowls: a low score is the lane's, not yours. 4 games" in words
    )


def test_a_field_that_bowls_its_averages_takes_nothing_from_anybody():
    """Who is 20 under an average of 205 beside others that are on theirs was not robbed."""
    words = words_of([184] * 4, 183, averages=183)
    assert "not yours" not in words
    assert "low beside your average, more so than theirs beside theirs" in words


def test_three_bowlers_of_one_mean_have_a_standing():
    scores = [FieldScore(name, 1, 200) for name in ("Ada", "Bo", ME)]
    assert standing_of(EVENT, scores, 7).condition.own_sds == 0


def test_a_few_games_do_not_settle_it():
    assert "1 game does not settle it" in words_of([192], 183)
    assert "settle it" not in words_of([250, 240, 245, 250], 183)


def test_a_pair_is_told_only_where_it_stands_out():
    assert "Pair 13-14 takes" in words_of([190] * 4, 183, pair_pins=-25)
    assert "No hand, pair or squad stands out beyond doubt." in words_of([190] * 4, 183)


def test_nobody_and_nothing_of_ones_own():
    assert standing_of(EVENT, [], 7).condition.words == ("Nobody's score is known yet.",)
    assert "Your" not in words_of([], 183)


@pytest.mark.parametrize(
    ("sds", "words"),
    [(0.5, "half a standard deviation"), (-1.04, "one standard deviation"),
     (1.7, "1.7 standard deviations"), (-0.3, "0.3 standard deviations")],
)  # fmt: skip
def test_deviations_in_words(sds, words):
    assert sds_words(sds) == words
