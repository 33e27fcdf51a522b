"""Laws that hold for every game, every leave and all odds."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nextpair.scoring.frames import Delivery, Game, balls_at_rack, pins_standing
from nextpair.scoring.game_value import (
    FirstBall,
    FrameOdds,
    expected_score,
    frame_odds_of,
    score_distribution,
)
from nextpair.scoring.leaves import (
    FULL_RACK,
    is_split,
    is_washout,
    leave_text,
    mirrored_leave,
    parse_leave,
    pin_count,
)
from nextpair.scoring.notation import game_text, parse_game
from nextpair.scoring.statistics import counts

LEAVES = st.integers(0, FULL_RACK)
CHANCES = st.floats(0, 1)


@st.composite
def unfinished_games(draw) -> Game:
    """A game of any number of balls that may be bowled, with fouls and splits."""
    game = Game()
    for _ in range(draw(st.integers(0, 21))):
        if game.is_complete:
            break
        under_way = game.frame_under_way
        pins = draw(st.integers(0, pins_standing(under_way)))
        foul = pins == 0 and draw(st.booleans())
        can_split = 1 <= pins <= 8 and not balls_at_rack(under_way)
        game = game.with_ball(Delivery(pins, foul, can_split and draw(st.booleans())))
    return game


@st.composite
def odds(draw) -> FrameOdds:
    """Odds of a rack with up to four leaves."""
    found = draw(st.lists(st.tuples(st.integers(0, 9), st.integers(1, 9), CHANCES), max_size=4))
    strikes = draw(st.integers(0 if found else 1, 9))
    total = strikes + sum(weight for _, weight, _ in found)
    return frame_odds_of(
        strikes / total,
        [
            FirstBall(pins, weight / total, spare, (*[0.0] * draw(st.integers(0, 9 - pins)), 1.0))
            for pins, weight, spare in found
        ],
    )


@given(unfinished_games())
def test_running_scores_never_fall_and_never_pass_the_highest_possible(game):
    known = [score for score in game.running_scores if score is not None]
    assert known == sorted(known)
    assert all(score <= game.highest_possible <= 300 for score in known)


@given(unfinished_games(), st.integers(0, 10))
def test_a_ball_that_leaves_pins_lowers_what_is_still_possible(game, pins):
    if game.is_complete or pins > pins_standing(game.frame_under_way):
        return
    after = game.with_ball(Delivery(pins)).highest_possible
    if pins == pins_standing(game.frame_under_way):
        assert after == game.highest_possible
    else:
        assert after < game.highest_possible


@given(unfinished_games())
def test_a_written_game_reads_the_same(game):
    assert parse_game(game_text(game)) == game


@given(unfinished_games())
def test_the_bonus_is_all_that_a_score_adds_to_the_pins(game):
    if game.score is None:
        return
    pins = sum(ball.pins for frame in game.frames for ball in frame)
    seen = counts([game])
    marks = seen.strikes + seen.spares
    assert pins <= game.score <= pins + 20 * marks
    assert game.score == pins or marks
    assert seen.first_balls == seen.strikes + seen.spare_tries + (
        len(game.frames[-1]) == 3 and len(balls_at_rack(game.frames[-1])) == 1
    )


@given(LEAVES)
def test_the_other_hand_sees_the_mirror_image(leave):
    image = mirrored_leave(leave)
    assert mirrored_leave(image) == leave
    assert pin_count(image) == pin_count(leave)
    assert (is_split(image), is_washout(image)) == (is_split(leave), is_washout(leave))
    assert parse_leave(leave_text(leave)) == leave


@given(LEAVES)
def test_a_split_needs_the_head_pin_down_and_a_washout_needs_it_up(leave):
    assert not (is_split(leave) and leave & 1)
    assert not (is_washout(leave) and not leave & 1)
    if pin_count(leave) < 2:
        assert not is_split(leave)
        assert not is_washout(leave)


@given(odds(), odds())
def test_the_distribution_has_the_expected_score_as_its_mean(here, there):
    distribution = score_distribution(here, there)
    assert sum(distribution) == pytest.approx(1.0, abs=1e-9)
    assert min(distribution) >= 0
    mean = sum(score * chance for score, chance in enumerate(distribution))
    assert mean == pytest.approx(expected_score(here, there), abs=1e-7)


@given(st.integers(0, 9), CHANCES, CHANCES, CHANCES)
def test_more_spares_are_never_worth_less(pins, strike, spare, better):
    low, high = sorted((spare, better))
    scores = [
        expected_score(frame_odds_of(strike, [FirstBall(pins, 1 - strike, chance)]))
        for chance in (low, high)
    ]
    assert scores[0] <= scores[1] + 1e-9


@given(CHANCES, CHANCES)
def test_twelve_strikes_are_independent(here, there):
    odds_here, odds_there = (frame_odds_of(p, [FirstBall(9, 1 - p, 0.5)]) for p in (here, there))
    assert score_distribution(odds_here, odds_there)[300] == pytest.approx(
        here**5 * there**7, rel=1e-9, abs=1e-300
    )
