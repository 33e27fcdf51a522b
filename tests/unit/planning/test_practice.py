"""Practice: shots that fit the minutes, on both lanes, for what they tell."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise

import pytest

from nextpair.planning.choice import best_line
from nextpair.planning.own_wear import wear_in_gain_pins
from nextpair.planning.practice import (
    ALIKE_GAIN_PINS,
    LEARN,
    LOOK,
    MIX,
    WEAR_IN,
    corner_pin_shot,
    practice_plan,
    weighed_practice,
)
from nextpair.planning.practice_words import drill_words, use_words
from nextpair.planning.rotation import SECONDS_A_SHOT, practice_shots_per_bowler
from nextpair.planning.spare_plan import plan_spares
from nextpair.scoring.leaves import pin_bit
from small_event import SEED, small_sheet, small_workings

WORK = small_workings()
STUDY, EVENT, BAG = WORK.study, WORK.event, WORK.bag
FIRST = WORK.choices[0].option
OTHER = next(o for o, ball in enumerate(STUDY.options) if ball.name != STUDY.options[FIRST].name)
BOWLERS = len(EVENT.block.entrants_on(EVENT.start_pair, 0))


def with_another_ball_in_game_2():
    lanes = STUDY.of_game(2)
    lines = (best_line(lanes[0], OTHER), best_line(lanes[1], OTHER))
    return (WORK.choices[0], replace(WORK.choices[1], option=OTHER, lines=lines))


TWO_BALLS = with_another_ball_in_game_2()


@cache
def weighed(minutes: float = 12.0, choices=TWO_BALLS):
    study = replace(STUDY, event=replace(EVENT, practice_s=60.0 * minutes))
    practice = weighed_practice(study, choices, (FIRST, OTHER), WORK.pins, SEED)
    return study, practice


def learning():
    """The drills of a practice that learns the lane, whatever else would gain more."""
    study, practice = weighed()
    learn = tuple(use for use in practice.uses if use.name == LEARN)
    return practice_plan(study, replace(practice, uses=learn)), study.event


def plan_of(minutes: float = 12.0, choices=TWO_BALLS):
    study, practice = weighed(minutes, choices)
    return practice_plan(study, practice), study.event


@pytest.mark.parametrize("minutes", [2.0, 5.0, 12.0])
def test_shots_are_as_many_as_the_minutes_allow_less_one_for_the_spare(minutes):
    drills, event = plan_of(minutes)
    allowed = practice_shots_per_bowler(event.block, event.start_pair)
    assert sum(drill.shots for drill in drills) == allowed - 1
    assert all(drill.shots > 0 for drill in drills)
    for use in weighed(minutes)[1].uses:
        assert sum(use.shots) == allowed - 1


@pytest.mark.parametrize("minutes", [0.0, 0.3])
def test_without_minutes_there_is_nothing_to_throw(minutes):
    assert plan_of(minutes)[0] == ()


@pytest.mark.parametrize("minutes", [2.0, 12.0])
def test_drills_follow_each_other_and_end_in_time(minutes):
    drills, _ = plan_of(minutes)
    turn_min = SECONDS_A_SHOT / 60 * max(BOWLERS / 2, 1.0)
    assert drills[0].minute == 0.0
    for drill, following in pairwise(drills):
        assert following.minute >= drill.minute + drill.shots * turn_min - 1e-9
    assert drills[-1].minute + (drills[-1].shots + 1) * turn_min <= minutes + 1e-9


def test_the_first_games_line_is_seen_on_both_lanes_first():
    drills, event = plan_of()
    first = [drill for drill in drills if drill.line.option == FIRST]
    assert list(drills[: len(first)]) == first
    assert [drill.lane for drill in first] == list(event.start_pair.lanes)
    for drill in first:
        assert drill.line == TWO_BALLS[0].lines[drill.lane_side]
        assert 1 in drill.games


def test_the_ball_of_a_later_game_is_seen_once_on_each_lane_at_least():
    drills, _ = learning()
    later = [drill for drill in drills if drill.line.option == OTHER]
    assert sum(drill.shots for drill in later) >= LOOK
    assert {drill.lane for drill in later} == set(EVENT.start_pair.lanes)
    for drill in later:
        assert drill.games == (2,)
        assert drill.line == TWO_BALLS[1].lines[drill.lane_side]


def test_three_uses_are_weighed_and_the_best_is_taken():
    _, practice = weighed()
    assert [use.name for use in practice.uses] == [LEARN, WEAR_IN, MIX]
    most = max(use.gain_pins for use in practice.uses)
    assert practice.best.gain_pins > most - ALIKE_GAIN_PINS
    clear = replace(practice, uses=(*practice.uses[:2], replace(practice.uses[2], told_pins=9.0)))
    assert clear.best.name == MIX
    wear_in = practice.uses[1]
    assert wear_in.shots[0] == sum(wear_in.shots)
    assert practice.uses[2].shots[0] >= sum(wear_in.shots) / 2
    for use in practice.uses:
        assert use.told_pins >= 0.0


def test_what_a_line_wears_in_is_next_to_nothing_of_a_game():
    """Fifteen shots among hundreds; [facts] section 8: a whole squad in practice and the first
    game takes 40 % of the oil."""
    gain = wear_in_gain_pins(STUDY, WORK.choices[0].lines, 15, WORK.pins, SEED)
    assert abs(gain) < 1.5
    assert wear_in_gain_pins(STUDY, WORK.choices[0].lines, 0, WORK.pins, SEED) == 0.0


def test_the_corner_pin_is_shot_as_the_spares_say():
    shot = corner_pin_shot(EVENT, SEED)
    (plan,) = plan_spares(EVENT, WORK.table, SEED, (pin_bit(10),)).plans
    told = next(other for other in plan.shots if other.delivery == shot.delivery)
    assert (shot.own_laydown, shot.angle_rad, shot.chance) == (
        told.own_laydown,
        told.angle_rad,
        told.chance,
    )
    card = small_sheet().practice[-1]
    assert card.line.laydown_board == shot.own_laydown
    assert card.line.target_board == shot.own_target
    assert f"{shot.chance:.0%}" in card.why


def test_without_a_spare_ball_no_corner_pin_is_shot():
    assert corner_pin_shot(replace(EVENT, spare_balls=0), SEED) is None


def test_drills_say_what_they_tell_and_that_the_pair_is_left():
    drills, event = learning()
    study = replace(STUDY, event=event)
    first, later = drills[0], next(d for d in drills if d.line.option == OTHER)
    assert "first ball" in drill_words(study, first, first=True)
    said = drill_words(study, later, first=False)
    assert "game 2 on 17-18" in said
    assert "leave this pair" in said
    assert f"{later.sight.noise_boards:.1f}" in said
    stays = replace(study, event=replace(event, move_pairs=0))
    assert "leave this pair" not in drill_words(stays, later, first=False)
    assert "same line on this lane" in drill_words(study, drills[1], first=True)


def test_uses_say_what_is_thrown_and_what_it_gains():
    study, practice = weighed()
    for use in practice.uses:
        words = use_words(study, practice, use)
        assert f"{sum(use.shots)} shots" in words
        assert f"{use.told_pins:.2f}" in words
        assert "leave the pair" in words
