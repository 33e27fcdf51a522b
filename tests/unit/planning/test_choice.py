"""Bag, ball and lines, and what to go to if they fail."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nextpair.domain.event import SurfaceChanges
from nextpair.planning.choice import (
    FARTHEST_BOARDS,
    LEAST_GAIN_PINS,
    GameChoice,
    bag_choice,
    best_line,
    game_choices,
)
from nextpair.planning.lines import ALIKE_PINS
from nextpair.planning.options import ball_options
from nextpair.planning.study import LaneStudy, Study
from nextpair.planning.trial import meant_offset_boards
from small_event import SPARE_BALL, small_event, small_workings, workings_of

WORK = small_workings()
STUDY, BAG, CHOICES = WORK.study, WORK.bag, WORK.choices
GAMES = [choice.game for choice in CHOICES]


def names(options) -> list[str]:
    return [STUDY.options[option].name for option in options]


def test_the_bag_keeps_to_the_limit_with_the_spare_ball_in_it():
    assert WORK.event.ball_limit is not None
    assert len(BAG.options) + 1 <= WORK.event.ball_limit
    assert SPARE_BALL not in names(BAG.options)
    assert len(set(names(BAG.options))) == len(BAG.options)


@pytest.mark.parametrize("limit", [2, 3, None])
def test_a_wider_limit_is_worth_no_less(limit):
    study = replace(STUDY, event=replace(WORK.event, ball_limit=limit))
    bag = bag_choice(study)
    most = len(WORK.event.locker) if limit is None else limit
    assert 1 <= len(bag.options) <= most - 1
    # Bags within a tenth of a pin a game count as equal.
    fewer = bag_choice(replace(STUDY, event=replace(WORK.event, ball_limit=2)))
    per_game = bag.value_pins - fewer.value_pins
    assert per_game / STUDY.answered_values[0].size >= -0.1


def test_the_bag_is_the_best_of_all_bags_of_its_size():
    values = STUDY.answered_values.reshape(len(STUDY.options), -1)
    best = max(
        np.maximum(values[one], values[other]).mean()
        for one in range(len(values))
        for other in range(len(values))
        if one == other or STUDY.options[one].name != STUDY.options[other].name
    )
    assert values[list(BAG.options)].max(axis=0).mean() >= best - 0.1


def test_every_game_is_played_with_a_ball_of_the_bag_that_nothing_in_it_beats_by_much():
    assert GAMES == [1, 2]
    for choice in CHOICES:
        assert choice.option in BAG.options
        in_bag = STUDY.game_values[list(BAG.options), choice.game - 1]
        assert choice.value_pins == pytest.approx(
            float(STUDY.game_values[choice.option, choice.game - 1])
        )
        assert choice.value_pins >= in_bag.max() - ALIKE_PINS


def test_the_first_game_is_played_with_the_best_ball():
    first = STUDY.game_values[list(BAG.options), 0]
    assert CHOICES[0].value_pins == first.max()


def favoured(study: Study, game: int, option: int, pins: float) -> Study:
    """The study with one option's lines worth some pins more in one game."""
    lanes = dict(study.lanes)
    for lane in study.of_game(game):
        value = lane.values.value.copy()
        value[option] += pins
        lanes[game, lane.lane] = replace(lane, values=replace(lane.values, value=value))
    return replace(study, lanes=lanes)


@pytest.mark.parametrize(("more_pins", "changes"), [(ALIKE_PINS - 0.2, False), (3.0, True)])
def test_a_ball_is_changed_only_for_pins_worth_changing_for(more_pins, changes):
    first = CHOICES[0].option
    other = next(o for o, ball in enumerate(STUDY.options) if o != first)
    behind = STUDY.game_values[first, 1] - STUDY.game_values[other, 1]
    study = favoured(STUDY, 2, other, float(behind) + more_pins)
    choices = game_choices(study, replace(BAG, options=(first, other)))
    assert choices[0].option == first
    assert choices[1].option == (other if changes else first)
    assert choices[1].next_best == (first if changes else other)


def test_the_next_best_is_the_best_other_ball():
    for choice in CHOICES:
        others = [o for o in BAG.options if o != choice.option]
        if not others:
            assert choice.next_best is None
            continue
        values = STUDY.game_values[others, choice.game - 1]
        assert choice.next_best in others
        assert choice.next_best_pins == values.max()


def test_lines_are_the_best_of_their_lane_or_score_alike():
    for choice in CHOICES:
        for line, lane in zip(choice.lines, STUDY.of_game(choice.game), strict=True):
            grid = lane.values.grid
            row = int(np.flatnonzero(grid.own_laydown == line.own_laydown)[0])
            column = int(np.flatnonzero(grid.angle_rad == line.angle_rad)[0])
            value = lane.values.mean_value[choice.option]
            assert value[row, column] >= value.max() - ALIKE_PINS


def test_lines_lie_within_reach():
    low, high = WORK.event.bowler.reach.laydown_boards
    smallest, largest = WORK.event.bowler.reach.launch_angle_rad
    fallbacks = [choice.fallback for choice in CHOICES if choice.fallback]
    assert fallbacks
    for line in (line for way in (*CHOICES, *fallbacks) for line in way.lines):
        assert low <= line.own_laydown <= high
        assert smallest <= line.angle_rad <= largest


def gripping(lane: LaneStudy, dry_factor: float) -> LaneStudy:
    """The lane with that much more dry friction."""
    return replace(lane, kind=replace(lane.kind, friction=dry_factor * lane.kind.friction))


def missing_by(study: Study, choice: GameChoice) -> np.ndarray:
    """How far light (+) or high (-) the planned lines arrive in each draw, both lanes' mean."""
    bowler = study.event.bowler
    return np.mean(
        [
            [
                meant_offset_boards(line, film, gripping(lane, dry), bowler)
                - meant_offset_boards(line, lane.middle, lane, bowler)
                for film, dry in zip(lane.films, lane.dry_factor, strict=True)
            ]
            for line, lane in zip(choice.lines, study.of_game(choice.game), strict=True)
        ],
        axis=0,
    )


@pytest.mark.parametrize("game", GAMES)
def test_a_fallback_gains_on_the_side_on_which_the_plan_misses(game):
    choice = CHOICES[game - 1]
    fallback = choice.fallback
    assert fallback is not None
    assert fallback.gain_pins > LEAST_GAIN_PINS
    assert fallback.miss_boards > 0.0
    assert fallback.lines[0].option in BAG.options
    misses = missing_by(STUDY, choice)
    on_side = misses[fallback.side * misses > 0]
    assert len(on_side) > 0
    assert fallback.miss_boards == pytest.approx(np.abs(on_side).mean())


def test_with_the_same_ball_a_fallback_moves_the_way_a_bowler_does():
    """Inside when it goes high, outside when it comes in light. Common practice."""
    steps = []
    for option in range(len(STUDY.options)):
        for choice in game_choices(STUDY, replace(BAG, options=(option,))):
            if choice.fallback is None:
                continue
            for line, planned in zip(choice.fallback.lines, choice.lines, strict=True):
                step = line.own_laydown - planned.own_laydown
                assert abs(step) <= FARTHEST_BOARDS
                assert choice.fallback.side * step <= 0.0
                steps.append(step)
    assert np.ptp(steps) > 0.0


def baited(study: Study, choice: GameChoice, option: int, side: int, pins: float) -> Study:
    """The study with one ball worth more where the plan misses to one side, and as much less where
    it does not, on the lines across the plan from where a bowler moves then."""
    draws = side * missing_by(study, choice) > 0
    lanes = dict(study.lanes)
    for line, lane in zip(choice.lines, study.of_game(choice.game), strict=True):
        value = lane.values.value.copy()
        rows = side * (lane.values.grid.own_laydown - line.own_laydown) > 0
        value[option][np.ix_(draws, rows)] += pins
        value[option][np.ix_(~draws, rows)] -= pins * draws.sum() / (~draws).sum()
        lanes[choice.game, lane.lane] = replace(lane, values=replace(lane.values, value=value))
    return replace(study, lanes=lanes)


@pytest.mark.parametrize("side", [-1, 1])
@pytest.mark.parametrize("stronger", [True, False])
def test_only_a_ball_that_answers_the_miss_crosses_to_the_other_side_of_the_plan(side, stronger):
    """Farther outside, when the plan goes high, only with a ball that hooks less; farther inside,
    when it comes in light, only with one that hooks more. Common practice."""
    line, lane = CHOICES[0].lines[0], STUDY.of_game(1)[0]
    by_hook = sorted(
        range(len(STUDY.options)),
        key=lambda option: meant_offset_boards(
            replace(line, option=option), lane.middle, lane, WORK.event.bowler
        ),
    )
    planned, other = (by_hook[-1], by_hook[0]) if stronger else (by_hook[0], by_hook[-1])
    bag = replace(BAG, options=(planned, other))
    behind = STUDY.game_values[other, 0] - STUDY.game_values[planned, 0]
    study = favoured(STUDY, 1, planned, float(behind) + 30.0)
    plan = game_choices(study, bag)[0]
    answer = game_choices(baited(study, plan, other, side, 70.0), bag)[0]
    assert answer.lines == plan.lines
    crosses = (
        answer.fallback is not None
        and answer.fallback.lines[0].option == other
        and side * (answer.fallback.lines[0].own_laydown - plan.lines[0].own_laydown) > 0.0
    )
    assert crosses == (stronger == (side > 0))


def test_the_line_before_is_kept_where_nothing_else_is_worth_the_move():
    lane = STUDY.of_game(1)[0]
    option = CHOICES[0].option
    line = best_line(lane, option)
    again = best_line(lane, option, near=(line.own_laydown, line.angle_rad))
    assert again == line


def test_where_no_surface_may_be_changed_balls_come_as_they_are():
    event = replace(small_event(), surface_changes=SurfaceChanges.NONE)
    options = ball_options(event)
    assert all(ball in event.locker for ball in options)
    assert len(options) == 3


def test_choices_are_made_anew_for_another_bag():
    only = (BAG.options[-1],)
    alone = game_choices(STUDY, replace(BAG, options=only))
    assert {choice.option for choice in alone} == set(only)
    assert all(choice.next_best is None for choice in alone)


def test_more_games_take_more_choices():
    work = workings_of(replace(small_event(), games=3))
    assert [choice.game for choice in work.choices] == [1, 2, 3]
    assert [str(work.study.pair(game)) for game in (1, 2, 3)] == ["13-14", "17-18", "15-16"]
