"""Luck: its parts add up, it comes to nothing over many fair games, and what was planted shows."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logged_games import logged_game
from nextpair.application.luck import luck_of_game
from nextpair.application.met_racks import MetRack, game_of_racks, racks_of_game, racks_of_shots
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.format import Counting
from nextpair.planning.odds import frame_odds, pins_if_missed
from nextpair.scoring.current_frame import expected_frame_pins
from nextpair.scoring.frames import Delivery, delivery_between
from nextpair.scoring.game_value import expected_score
from nextpair.scoring.leaves import FULL_RACK, parse_leave, pin_count
from nextpair.scoring.notation import parse_game

TEN, SPLIT, PAIR = (parse_leave(text) for text in ("10", "7-10", "2-8"))
POCKET = {0: 0.7, TEN: 0.25, SPLIT: 0.05}
HIGH = {0: 0.3, SPLIT: 0.3, PAIR: 0.4}
MIXTURE = {0: 0.54, TEN: 0.15, SPLIT: 0.15, PAIR: 0.16}
"""Six balls in ten in the pocket, the others high."""
SPARES = {TEN: 0.85, SPLIT: 0.1, PAIR: 0.6}
GAMES = 600


def spare_chance(leave: int) -> float:
    return SPARES.get(leave, 0.05)


def parts(luck) -> list[float]:
    told = (luck.line_pins, luck.carry_pins, luck.line_and_carry_pins, luck.spares_pins)
    return [part for part in told if part is not None]


def is_over(racks) -> bool:
    """Whether the racks met so far are all of a game."""
    if len(racks) < 10:
        return False
    if len(racks) == 10:
        return not (racks[9].is_strike or racks[9].is_spare)
    return len(racks) == 12 or racks[9].is_spare or not racks[10].is_strike


def second_ball(leave: int, stands: int) -> Delivery:
    return Delivery(pin_count(leave) - pin_count(stands))


def simulated_game(rng, better_spares: float = 0.0) -> tuple[tuple[MetRack, ...], dict]:
    """Racks of a game drawn from the odds, and what each entry was to leave."""
    racks: list[MetRack] = []
    came_in = {}
    while not is_over(racks):
        place = len(racks)
        came_in[place] = POCKET if rng.random() < 0.6 else HIGH
        leave = int(rng.choice(list(came_in[place]), p=list(came_in[place].values())))
        is_last_fill = place == 11 or (place == 10 and racks[9].is_spare)
        second = None
        if leave and not is_last_fill:
            is_made = rng.random() < spare_chance(leave) + better_spares
            stands = 0 if is_made else _standing_after_miss(leave)
            second = second_ball(leave, stands)
        racks.append(MetRack(1, place, delivery_between(FULL_RACK, leave), leave, second))
    return tuple(racks), came_in


def _standing_after_miss(leave: int) -> int:
    for _ in range(pins_if_missed(pin_count(leave))):
        leave &= leave - 1
    return leave


def mean_and_error(values) -> tuple[float, float]:
    return float(np.mean(values)), float(np.std(values, ddof=1) / math.sqrt(len(values)))


def lucks(seed: int, better_spares: float = 0.0):
    rng = np.random.default_rng(seed)
    games = [simulated_game(rng, better_spares) for _ in range(GAMES)]
    return [luck_of_game(racks, [MIXTURE] * 12, came_in, spare_chance) for racks, came_in in games]


@st.composite
def finished_games(draw):
    """Racks of a finished game of any leaves, some of whose entries were seen."""
    leaves = st.integers(0, FULL_RACK)
    racks: list[MetRack] = []
    while not is_over(racks):
        place = len(racks)
        leave = draw(st.one_of(st.just(0), leaves))
        second = None
        if leave and not (place == 11 or (place == 10 and racks[9].is_spare)):
            second = second_ball(leave, draw(st.one_of(st.just(0), leaves)) & leave)
        racks.append(MetRack(1, place, delivery_between(FULL_RACK, leave), leave, second))
    seen = draw(st.sets(st.sampled_from([rack.place for rack in racks])))
    return tuple(racks), {place: draw(st.sampled_from([POCKET, HIGH])) for place in seen}


@given(finished_games())
@settings(max_examples=100, deadline=None)
def test_the_parts_add_up_to_the_score_less_what_was_expected(game):
    racks, came_in = game
    luck = luck_of_game(racks, [MIXTURE] * 12, came_in, spare_chance)
    assert sum(parts(luck)) == pytest.approx(luck.score - luck.expected_score, abs=1e-9)
    assert luck.score == game_of_racks(racks).score


def test_spares_that_are_sure_are_no_luck():
    racks = racks_of_shots(logged_game(1, [["10", ""]] * 9 + [["10", "", "10"]]))
    assert luck_of_game(racks, [POCKET] * 12, {}, lambda _: 1.0).spares_pins == pytest.approx(0)


def test_what_is_expected_is_the_value_of_a_game_with_these_odds():
    racks, came_in = simulated_game(np.random.default_rng(1))
    odds = frame_odds(
        MIXTURE[0],
        [TEN, SPLIT, PAIR],
        [MIXTURE[leave] for leave in (TEN, SPLIT, PAIR)],
        [SPARES[leave] for leave in (TEN, SPLIT, PAIR)],
    )
    luck = luck_of_game(racks, [MIXTURE] * 12, came_in, spare_chance)
    assert luck.expected_score == pytest.approx(expected_score(odds), abs=1e-9)


def test_over_fair_games_every_part_comes_to_nothing():
    told = lucks(seed=17)
    for name in ("line_pins", "carry_pins", "spares_pins"):
        mean, error = mean_and_error([getattr(luck, name) for luck in told])
        assert abs(mean) < 3 * error, name
        assert error < 1.1, name  # so that three pins a game of bias would be seen


def test_better_spares_show_as_spares_and_as_nothing_else():
    told = lucks(seed=19, better_spares=0.12)
    mean, error = mean_and_error([luck.spares_pins for luck in told])
    gained = sum(
        MIXTURE[leave] * 0.12 * (pin_count(leave) - pins_if_missed(pin_count(leave)))
        for leave in (TEN, SPLIT, PAIR)
    )
    # Ten frames' pins, and a bonus of a first ball on each spare more.
    first_ball = sum((10 - pin_count(leave)) * chance for leave, chance in MIXTURE.items())
    planted = 10 * (gained + 0.12 * (1 - MIXTURE[0]) * first_ball)
    assert mean == pytest.approx(planted, abs=3 * error + 0.1 * planted)
    for name in ("line_pins", "carry_pins"):
        mean, error = mean_and_error([getattr(luck, name) for luck in told])
        assert abs(mean) < 3 * error, name


def test_where_nobody_saw_the_ball_line_and_carry_stand_together():
    racks, came_in = simulated_game(np.random.default_rng(2))
    seen = luck_of_game(racks, [MIXTURE] * 12, came_in, spare_chance)
    unseen = luck_of_game(racks, [MIXTURE] * 12, {}, spare_chance)
    assert (seen.line_and_carry_pins, unseen.line_pins, unseen.carry_pins) == (None, None, None)
    assert unseen.line_and_carry_pins == pytest.approx(seen.line_pins + seen.carry_pins)
    assert (unseen.seen, unseen.first_balls, unseen.spares_pins) == (
        0,
        len(racks),
        pytest.approx(seen.spares_pins),
    )


def test_balls_in_the_pocket_that_do_not_carry_are_bad_carry_on_a_good_line():
    frames = [["10", ""]] * 9 + [["10", "", "10"]]
    racks = racks_of_shots(logged_game(1, frames))
    came_in = {rack.place: POCKET for rack in racks}
    luck = luck_of_game(racks, [MIXTURE] * 12, came_in, spare_chance)
    assert luck.score == 190
    assert luck.line_pins > 0 > luck.carry_pins
    assert luck.spares_pins > 0


def test_frames_that_count_alone_have_luck_of_their_own():
    racks = racks_of_shots(logged_game(1, [[""]] * 9 + [["10", "10"]]))
    odds = frame_odds(
        POCKET[0], [TEN, SPLIT], [POCKET[TEN], POCKET[SPLIT]], [SPARES[TEN], SPARES[SPLIT]]
    )
    luck = luck_of_game(racks, [POCKET] * 12, {}, spare_chance, Counting.CURRENT_FRAME)
    assert luck.score == 9 * 30 + 9
    assert luck.expected_score == pytest.approx(10 * expected_frame_pins(odds))
    assert sum(parts(luck)) == pytest.approx(luck.score - luck.expected_score)


@pytest.mark.parametrize(
    "racks",
    [
        racks_of_shots(logged_game(1, [[""]] * 9)),
        racks_of_game(1, parse_game("9 - " * 10)),
    ],
)
def test_a_game_under_way_or_without_leaves_has_no_luck_yet(racks):
    with pytest.raises(InvalidValueError, match="racks"):
        luck_of_game(racks, [MIXTURE] * 12, {}, spare_chance)
