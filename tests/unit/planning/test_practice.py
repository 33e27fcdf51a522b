"""Practice: shots that fit the minutes, both lanes, and balls for later pairs."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from nextpair.domain.ball import CONTACT_M
from nextpair.domain.lane import BOARD_M, BOARDS, END_PLANE_M, HEAD_PIN_M, pin_position_m
from nextpair.kernel.layout import bodies_of
from nextpair.kernel.outcome import Status
from nextpair.kernel.roll import roll
from nextpair.planning.choice import best_line
from nextpair.planning.options import spare_balls
from nextpair.planning.practice import practice_plan, spare_drill, worth_of_knowing
from nextpair.planning.rotation import (
    SECONDS_A_SHOT,
    entrants_on,
    practice_shots_per_bowler,
)
from nextpair.planning.throws import shots_of
from small_event import small_workings

WORK = small_workings()
STUDY, EVENT, BAG = WORK.study, WORK.event, WORK.bag
FIRST = WORK.choices[0].option
OTHER = next(o for o, ball in enumerate(STUDY.options) if ball.name != STUDY.options[FIRST].name)
BOWLERS = len(entrants_on(EVENT, EVENT.start_pair, 0))


def with_another_ball_in_game_2():
    lanes = STUDY.of_game(2)
    lines = (best_line(lanes[0], OTHER), best_line(lanes[1], OTHER))
    return (WORK.choices[0], replace(WORK.choices[1], option=OTHER, lines=lines))


TWO_BALLS = with_another_ball_in_game_2()


def plan_of(minutes: float = 12.0, choices=TWO_BALLS):
    study = replace(STUDY, event=replace(EVENT, practice_s=60.0 * minutes))
    return practice_plan(study, choices, (FIRST, OTHER)), study.event


@pytest.mark.parametrize("minutes", [2.0, 5.0, 12.0, 15.0])
def test_shots_are_as_many_as_the_minutes_allow_less_one_for_the_spare(minutes):
    drills, event = plan_of(minutes)
    allowed = practice_shots_per_bowler(event, event.start_pair)
    assert sum(drill.shots for drill in drills) == allowed - 1
    assert all(drill.shots > 0 for drill in drills)


@pytest.mark.parametrize("minutes", [0.0, 0.3])
def test_without_minutes_there_is_nothing_to_throw(minutes):
    assert plan_of(minutes)[0] == ()


@pytest.mark.parametrize("minutes", [2.0, 5.0, 12.0])
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


def test_the_ball_of_a_later_game_is_thrown_too():
    drills, _ = plan_of()
    later = [drill for drill in drills if drill.line.option == OTHER]
    assert later
    for drill in later:
        assert drill.games == (2,)
        assert drill.line == TWO_BALLS[1].lines[drill.lane_side]
        assert drill.lane in EVENT.start_pair.lanes


def test_one_ball_for_all_games_takes_all_shots():
    drills, _ = plan_of(choices=WORK.choices)
    thrown = {choice.option for choice in WORK.choices}
    assert {drill.line.option for drill in drills} == thrown
    assert len(drills) == 2 * len(thrown)


def test_shots_go_where_knowing_is_worth_most():
    drills, _ = plan_of(30.0)
    worth = {o: worth_of_knowing(STUDY, (FIRST, OTHER), g) for o, g in ((FIRST, 1), (OTHER, 2))}
    thrown = {
        option: sum(drill.shots for drill in drills if drill.line.option == option)
        for option in worth
    }
    share = (thrown[FIRST] - 2) / (sum(thrown.values()) - 2)
    assert share == pytest.approx(worth[FIRST] / sum(worth.values()), abs=0.05)


@pytest.mark.parametrize("game", [1, 2])
def test_knowing_the_lane_is_worth_something_and_not_the_game(game):
    assert 0.0 < worth_of_knowing(STUDY, BAG.options, game) < 40.0
    one = worth_of_knowing(STUDY, (FIRST,), game)
    assert one >= 0.0


def test_the_spare_shot_meets_the_corner_pin_from_the_lane():
    ball = spare_balls(EVENT)[0]
    shot = spare_drill(STUDY, ball, 9.0)
    assert (shot.ball, shot.minute) == (ball, 9.0)
    lane = STUDY.of_game(1)[0]
    shots = shots_of(
        EVENT.bowler.release,
        lane.kind,
        own_laydown=shot.own_laydown,
        launch_angle_rad=shot.angle_rad,
    )
    paths = roll(lane.kind.under(lane.start), bodies_of([ball], EVENT.house), shots)
    pin_x_m, behind_m = pin_position_m(10)
    slope = paths.v_x_mps / paths.v_y_mps
    level_m = paths.x_m + slope * (HEAD_PIN_M + behind_m - END_PLANE_M)
    assert abs(level_m[0] - pin_x_m) < CONTACT_M
    assert Status(int(paths.status[0])) is Status.PINS
    assert paths.break_x_m[0] < (BOARDS / 2) * BOARD_M
