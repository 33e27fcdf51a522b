"""The value of a game against a million games drawn and added up by another scorer, against the
closed form, and against what professionals bowl.
"""

from __future__ import annotations

import math
from itertools import accumulate

import numpy as np
import pytest

from nextpair.scoring.game_value import (
    FirstBall,
    FrameOdds,
    expected_score_of_frames,
    frame_odds_of,
    score_distribution_of_frames,
)
from nextpair.scoring.leaves import PINS, parse_leave, pin_count
from nextpair.scoring.statistics import Counts
from nextpair.scoring.unfinished import odds_of_counts
from plain_scorer import plain_score
from reference.record import load_authority, load_entry
from reference.vector_scorer import FRAMES, RACKS, drawn_balls, vector_scores

SCORING = "scoring"
GAMES = 1_000_000
SEED = 20261128
ERRORS = 4.0
"""Standard errors that a right mean of random games keeps within, 999 times in 1000 and better."""
MODELS = {
    f"{model['strike']} and {model['spare_chance']}": frame_odds_of(
        model["strike"], [FirstBall(9, 1 - model["strike"], model["spare_chance"])]
    )
    for model in load_authority(SCORING)["simple_model"]
}
USUAL = odds_of_counts(Counts(0, 0, 0, 0, 0, 0, 0, 0))
HARD = frame_odds_of(0.3, [FirstBall(8, 0.4, 0.5, (0.5, 0.5)), FirstBall(3, 0.3, 0.1)])
LANES = {
    **{name: [odds] * FRAMES for name, odds in MODELS.items()},
    "two lanes": [USUAL, HARD] * (FRAMES // 2),
}


def simulated(frames: list[FrameOdds]) -> np.ndarray:
    racks = [*frames, *[frames[-1]] * (RACKS - FRAMES)]
    balls = drawn_balls(
        [rack.first for rack in racks],
        [rack.second for rack in racks],
        GAMES,
        np.random.default_rng(SEED),
    )
    return vector_scores(*balls)


def deviation_of(distribution) -> float:
    mean = sum(score * chance for score, chance in enumerate(distribution))
    return math.sqrt(sum((score - mean) ** 2 * p for score, p in enumerate(distribution)))


@pytest.mark.parametrize("name", LANES)
def test_a_million_games_have_the_mean_and_the_distribution(record, name):
    frames = LANES[name]
    scores = simulated(frames)
    distribution = score_distribution_of_frames(frames)
    error = deviation_of(distribution) / math.sqrt(GAMES)
    record.agreement(
        "A million games by another scorer",
        f"strikes and spares {name}" if name in MODELS else name,
        "mean_score, in standard errors",
        error=abs(scores.mean() - expected_score_of_frames(frames)) / error,
        tolerance=ERRORS,
        source="tests/reference/vector_scorer.py; CALC",
    )
    reached = np.cumsum(np.bincount(scores, minlength=301)) / GAMES
    exact = np.array(list(accumulate(distribution)))
    spread = np.sqrt(np.maximum(exact * (1 - exact), 1 / GAMES) / GAMES)
    assert np.max(np.abs(reached - exact) / spread) < ERRORS + 1.0  # of 301 points, dependent


def test_the_other_scorer_scores_as_the_rule_book_does():
    rng = np.random.default_rng(SEED)
    flat = [[1 / 11] * 11] * RACKS, [[[1 / (11 - k)] * (11 - k) for k in range(PINS)]] * RACKS
    firsts, seconds = drawn_balls(*flat, 400, rng)
    for game in range(400):
        rolls: list[int] = []
        for rack in range(RACKS):
            rolls.append(int(firsts[rack, game]))
            if firsts[rack, game] < PINS:
                rolls.append(int(seconds[rack, game]))
        # A game uses as many of the balls at its fill racks as it has.
        assert vector_scores(firsts, seconds)[game] == plain_score(rolls)


@pytest.mark.parametrize(
    "model", load_authority(SCORING)["simple_model"], ids=lambda m: m["about"]
)
def test_the_closed_form_gives_the_published_means(record, model):
    p, c = model["strike"], model["spare_chance"]
    one = 10 * p + 9 * (1 - p)
    two = p * (10 + one) + (1 - p) * (10 * c + 9 * (1 - c))
    mean = 10 * (p * (10 + two) + (1 - p) * (c * (10 + one) + (1 - c) * 9))
    record.closed_form(
        model["about"],
        "mean_score, by the sum written out",
        expected=mean,
        achieved=expected_score_of_frames([frame_odds_of(p, [FirstBall(9, 1 - p, c)])] * FRAMES),
        tolerance=1e-9,
        source=f"{model['source']}, {model['mark']}",
    )
    assert mean == pytest.approx(model["mean_score"]["value"], abs=0.005)


def tour_odds(others_made: float) -> FrameOdds:
    """Televised professionals, with a chance of the spare at leaves that nobody counted."""
    counted = load_entry(SCORING, "tour_strikes_and_spares")
    balls, strikes = counted["first_balls"], counted["strikes"]
    uncounted = balls - strikes - sum(leave["left"] for leave in counted["leaves"])
    told = []
    for leave in counted["leaves"]:
        pins = pin_count(parse_leave(leave["pins"]))
        missed = (*[0.0] * (pins - 1), 1.0)  # a ball that misses takes all but one
        chance = leave["left"] / balls
        told.append(FirstBall(PINS - pins, chance, leave["made_percent"] / 100, missed))
    others = FirstBall(PINS - 2, uncounted / balls, others_made, (0.0, 1.0))
    return frame_odds_of(strikes / balls, [*told, others])


def half_way() -> float:
    """Half way between the spares of the 3-10 and of the corner pins."""
    leaves = load_entry(SCORING, "tour_strikes_and_spares")["leaves"]
    made = {leave["pins"]: leave["made_percent"] / 100 for leave in leaves}
    corner = (710 * made["10"] + 333 * made["7"]) / (710 + 333)
    return (made["3-10"] + corner) / 2


def test_tour_strikes_and_spares_make_tour_averages(record):
    expected = expected_score_of_frames([tour_odds(half_way())] * FRAMES)
    record.published(SCORING, "tour_average", expected_score=expected)
    tour = load_entry(SCORING, "tour_averages")
    assert tour["lowest"] < expected < tour["highest"]
    # Whatever the leaves that nobody counted are made at, the range is met between the two ends.
    never, always = (expected_score_of_frames([tour_odds(made)] * FRAMES) for made in (0.0, 1.0))
    assert never < tour["lowest"] < tour["highest"] < always


def test_independent_racks_vary_somewhat_less_than_games_do(record):
    distribution = score_distribution_of_frames([tour_odds(half_way())] * FRAMES)
    record.unmet(SCORING, "tour_game_deviation", achieved=deviation_of(distribution))
    assert 24 < deviation_of(distribution) < 27.4
