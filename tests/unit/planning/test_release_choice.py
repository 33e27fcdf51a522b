"""Changes of release: which are tried, when one is taken, and what is told of it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from nextpair.domain.lane import mirrored_board
from nextpair.domain.units import DEGREE_RAD, MPH_MPS
from nextpair.planning.cards import Desk, meant_line_card
from nextpair.planning.lines import ALIKE_PINS, line_values
from nextpair.planning.reasons import release_reason
from nextpair.planning.release_change import AS_USUAL, ReleaseChange
from nextpair.planning.release_choice import best_change, tried_changes, with_release_changes
from nextpair.planning.second_half import second_half
from nextpair.planning.study import value_over_game
from small_event import mirror_image, small_workings

WORK = small_workings()
STUDY, CHOICE, BOWLER = WORK.study, WORK.choices[0], WORK.event.bowler
CHANGE = ReleaseChange(speed_mps=0.5 * MPH_MPS)


def pins_at(_speed_change_mps: float):
    return WORK.pins


def reaching(speeds_mph=(0.0, 0.0), rotations_deg=(0.0, 0.0)):
    """The bowler with changes of release within reach."""
    reach = replace(
        BOWLER.reach,
        speed_change_mps=tuple(speed * MPH_MPS for speed in speeds_mph),
        axis_rotation_change_rad=tuple(turn * DEGREE_RAD for turn in rotations_deg),
    )
    return replace(BOWLER, reach=reach)


def better(pins: float):
    """The value of impacts, higher throughout."""
    return replace(WORK.pins, value=WORK.pins.value + pins, gutter=WORK.pins.gutter + pins)


def harder(pins: float):
    """The value of impacts of a bowler for whom harder ones are worth more by nature."""
    return lambda change_mps: better(pins * (change_mps > 0))


def test_ends_and_middles_of_speed_and_ends_of_rotation_are_tried():
    tried = tried_changes(reaching((-1.0, 0.8), (-10.0, 5.0)))
    speeds = [change.speed_mps / MPH_MPS for change in tried if change.speed_mps]
    turns = [change.rotation_rad / DEGREE_RAD for change in tried if change.rotation_rad]
    assert speeds == pytest.approx([-1.0, -0.5, 0.4, 0.8])
    assert turns == pytest.approx([-10.0, 5.0])
    assert len(tried) == len(speeds) + len(turns)


def test_nothing_is_tried_out_of_reach_nor_what_nobody_delivers():
    assert tried_changes(reaching()) == ()
    slow = replace(reaching((-4.0, 0.0)), release=replace(BOWLER.release, speed_mps=9.0 * MPH_MPS))
    assert [change.speed_mps / MPH_MPS for change in tried_changes(slow)] == []


def test_without_reach_everything_stays():
    study = replace(STUDY, event=replace(WORK.event, bowler=reaching()))
    same, choices = with_release_changes(study, WORK.choices, WORK.bag.options, pins_at)
    assert choices == WORK.choices
    assert same.lanes == study.lanes


def test_a_change_is_taken_only_if_it_gains_more_than_alike():
    """A constant more on every impact is as much more a game."""
    found = best_change(STUDY, CHOICE, (CHANGE,), harder(20.0))
    assert found is not None
    enough = 20.0 - found.gain_pins + ALIKE_PINS
    assert best_change(STUDY, CHOICE, (CHANGE,), harder(enough - 0.01)) is None
    assert best_change(STUDY, CHOICE, (CHANGE,), harder(enough + 0.01)) is not None


def test_a_gain_is_that_of_the_game_on_both_lanes_with_the_wider_scatter():
    found = best_change(STUDY, CHOICE, (CHANGE,), harder(20.0))
    assert found is not None
    lanes = STUDY.of_game(1)
    worth = []
    for lane in lanes:
        values = line_values(
            lane.films,
            lane.dry_factor,
            CHANGE.released(BOWLER.release),
            STUDY.scatter(CHANGE),
            lane.kind,
            lane.bodies,
            better(20.0),
            lane.values.grid,
        )
        worth.append(value_over_game(values.value[CHOICE.option]))
    usual = [value_over_game(lane.values.value[CHOICE.option]) for lane in lanes]
    assert found.gain_pins == pytest.approx(np.mean(worth) - np.mean(usual), abs=1e-3)
    assert found.gain_pins > ALIKE_PINS


@cache
def taken():
    """The workings of the first game once it is thrown harder."""
    study = replace(STUDY, event=replace(WORK.event, bowler=reaching((0.0, 0.5))))
    return with_release_changes(study, (CHOICE,), WORK.bag.options, harder(20.0))


def test_both_lanes_and_all_that_follows_are_thrown_the_same_way():
    study, (choice,) = taken()
    changes = {line.change for line in choice.lines}
    assert len(changes) == 1
    (change,) = changes
    assert change.speed_mps > 0
    assert choice.release_gain_pins > ALIKE_PINS
    if choice.fallback is not None:
        for line in choice.fallback.lines:
            assert line.change == (change if line.option == choice.option else AS_USUAL)
    later = second_half(study, choice, WORK.pins)
    for line in later.lines if later else ():
        assert line.change == change


def test_only_the_ball_that_is_thrown_so_is_valued_so():
    study, (choice,) = taken()
    for before, after in zip(STUDY.of_game(1), study.of_game(1), strict=True):
        assert set(after.changes) == {choice.option}
        for option in range(len(STUDY.options)):
            if option == choice.option:
                continue
            np.testing.assert_array_equal(before.values.value[option], after.values.value[option])
    assert STUDY.of_game(1)[0].changes == {}


def test_the_card_and_the_reason_tell_what_is_changed():
    study, (choice,) = taken()
    desk = Desk(study, WORK.table, WORK.spares, study.event.bowler, WORK.pins)
    card = meant_line_card(desk, study.of_game(1)[0], choice.lines[0])
    change_mph = choice.lines[0].change.speed_mps / MPH_MPS
    assert card.speed_change_mph == pytest.approx(change_mph)
    assert card.speed_mph == pytest.approx(BOWLER.release.speed_mps / MPH_MPS + change_mph)
    assert card.axis_rotation_change_deg == 0.0
    assert f"{choice.release_gain_pins:.1f} pins a game more" in release_reason(choice)
    assert release_reason(CHOICE) == ""


def test_a_left_handers_change_is_the_same_on_the_mirrored_line():
    study, (choice,) = taken()
    line = choice.lines[0]
    right = Desk(study, WORK.table, WORK.spares, study.event.bowler, WORK.pins)
    mirrored = replace(STUDY, event=mirror_image(study.event))
    left = Desk(mirrored, WORK.table, WORK.spares, mirrored.event.bowler, WORK.pins)
    one, other = (meant_line_card(desk, study.of_game(1)[0], line) for desk in (right, left))
    assert other.speed_change_mph == one.speed_change_mph > 0
    assert other.target_board == pytest.approx(mirrored_board(one.target_board))
    found = best_change(mirrored, CHOICE, (line.change,), harder(20.0))
    assert found is not None
    assert found.gain_pins == choice.release_gain_pins
