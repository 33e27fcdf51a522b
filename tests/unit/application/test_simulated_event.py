"""An event bowled and logged in a world whose truth is known."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nextpair.application.own_games import own_games
from nextpair.application.sheets import typical_weight_kg
from nextpair.application.simulated_event import Planted, simulate_event
from nextpair.carry.table import load_table
from nextpair.domain.units import MPH_MPS
from nextpair.planning.contenders import prepare
from small_event import small_event

SEED, WORLD = 7, 3


@pytest.fixture(scope="module")
def prepared():
    event = replace(small_event(), games=1)
    return prepare(event, load_table(typical_weight_kg(event.locker), event.house.pinfall), SEED)


@pytest.fixture(scope="module")
def plain(prepared):
    return simulate_event(prepared, WORLD, SEED)


def test_the_log_is_a_game_that_can_be_scored_and_no_shot_stands_twice(plain):
    problems = []
    (game,) = own_games(plain.shots, [], plain.event.format.counting, problems)
    assert problems == []
    assert 60 <= game.total <= 300
    assert len({noted.shot.id for noted in plain.shots}) == len(plain.shots)
    assert sum(noted.shot.game == 0 for noted in plain.shots) > 0


def test_the_same_world_is_bowled_the_same_again(prepared, plain):
    assert simulate_event(prepared, WORLD, SEED).shots == plain.shots


def test_a_slower_day_shows_on_the_boards_that_show_speed(prepared, plain):
    slow = simulate_event(prepared, WORLD, SEED, Planted(slower_mph=1.5))
    assert slow.world.release.speed_mps == pytest.approx(
        plain.world.release.speed_mps - 1.5 * MPH_MPS
    )
    shown = [
        np.mean([noted.shot.speed_mph for noted in one.shots if noted.shot.speed_mph])
        for one in (plain, slow)
    ]
    assert shown[0] - shown[1] == pytest.approx(1.5, abs=0.4)


def test_a_wrong_surface_is_another_of_the_same_balls_and_the_log_says_so(prepared, plain):
    wrong = simulate_event(prepared, WORLD, SEED, Planted(surface_grit="polished"))
    assert [ball.name for ball in wrong.bag] == [ball.name for ball in plain.bag]
    assert [ball.surface for ball in wrong.bag] != [ball.surface for ball in plain.bag]
    named = {(ball.name, ball.surface.named) for ball in wrong.bag}
    as_owned = {(ball.name, None) for ball in wrong.event.locker}
    thrown = {(s.shot.ball, s.shot.surface_grit) for s in wrong.shots if s.shot.delivery == 1}
    assert thrown <= named | as_owned


def test_late_moves_begin_as_planned_and_hopeless_spares_are_missed(prepared):
    late = simulate_event(prepared, WORLD, SEED, Planted(late_shots=5, spares_log_odds=-50))
    of_lane = {}
    for noted in late.shots:
        shot = noted.shot
        if shot.game == 1 and shot.delivery == 1 and shot.frame < 10:
            of_lane.setdefault(shot.lane, set()).add((shot.meant_laydown_board, shot.ball))
    assert all(len(lines) == 1 for lines in of_lane.values())
    second = [s.shot for s in late.shots if s.shot.delivery == 2 and s.shot.frame < 10]
    assert second
    assert all(shot.standing_after for shot in second)
