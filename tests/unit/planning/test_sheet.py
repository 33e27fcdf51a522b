"""The plan of an event put together, and what rules, lockers and squads change in it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from nextpair.carry.table import load_table
from nextpair.domain.ball import Role
from nextpair.domain.bowler import Hand
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.event import Event, SurfaceChanges
from nextpair.domain.house import LaneTrait
from nextpair.domain.units import FOOT_M, INCH_M
from nextpair.planning.sheet import EventPlan, plan_event
from small_event import SEED, SPARE_BALL, small_event, small_sheet, unheard

EVENT = small_event()


@cache
def planned(event: Event = EVENT) -> EventPlan:
    return plan_event(event, load_table(), SEED, unheard)


def only(*names: str) -> Event:
    return replace(EVENT, locker=tuple(ball for ball in EVENT.locker if ball.name in names))


def test_every_ball_of_the_locker_is_brought_or_left_at_home():
    plan = planned()
    brought = [item.ball for item in plan.bag]
    left = [item.ball for item in plan.left_at_home]
    strikes = {ball.name for ball in EVENT.locker if ball.role is Role.STRIKE}
    assert len(set(brought)) == len(brought)
    assert not set(brought) & set(left)
    assert set(brought) | set(left) == strikes | {SPARE_BALL}


def test_the_bag_says_what_each_ball_is_for_and_what_it_costs_to_leave_it():
    plan = planned()
    for item in plan.bag:
        assert item.purpose
        assert item.cost_if_left_pins_per_game >= 0.0
    assert plan.bag[-1].ball == SPARE_BALL
    costs = [item.cost_if_left_pins_per_game for item in plan.bag[:-1]]
    assert costs == sorted(costs, reverse=True)
    assert all(item.cost_if_left_pins_per_game >= 0.0 for item in plan.left_at_home)


def test_games_of_the_bag_are_the_games_of_the_cards():
    plan = planned()
    thrown = {(item.ball, game) for item in plan.bag for game in item.games}
    assert thrown == {(card.ball, card.game) for card in plan.games}
    for card in plan.games:
        item = next(item for item in plan.bag if item.ball == card.ball)
        assert item.surface_grit == card.surface_grit


def test_the_rule_of_31_is_applied_to_the_pattern():
    plan = planned()
    length_ft = EVENT.left_pattern.length_m / FOOT_M
    assert plan.rule_of_31_exit_board == pytest.approx(length_ft - 31)
    assert f"{plan.rule_of_31_exit_board:.0f}" in plan.second_opinion


def test_a_left_handers_rule_of_31_counts_from_the_right_edge_too():
    assert small_sheet(Hand.LEFT).rule_of_31_exit_board == pytest.approx(
        40 - small_sheet(Hand.RIGHT).rule_of_31_exit_board
    )


def test_without_practice_minutes_nothing_is_practised():
    assert planned(replace(EVENT, practice_s=0.0)).practice == ()


def test_one_strike_ball_is_thrown_in_every_game():
    plan = planned(only("Dunlin Flock", SPARE_BALL))
    assert {card.ball for card in plan.games} == {"Dunlin Flock"}
    assert plan.left_at_home == ()
    assert all("one strike ball" in " ".join(card.why) for card in plan.games)


def test_without_a_spare_ball_none_is_promised():
    plan = planned(only("Dunlin Flock", "Slate Weir"))
    assert SPARE_BALL not in [item.ball for item in plan.bag]
    assert SPARE_BALL not in [shot.ball for shot in plan.practice]
    assert plan.practice


def test_where_surfaces_may_not_be_changed_none_is():
    plan = planned(replace(EVENT, surface_changes=SurfaceChanges.NONE))
    grits = {ball.name: ball.surface.grit or "polished" for ball in EVENT.locker}
    assert all(item.surface_grit == grits[item.ball] for item in plan.bag)
    assert all(card.surface_grit == grits[card.ball] for card in plan.games)


def test_a_limit_of_one_brings_one_strike_ball_and_no_spare_ball():
    plan = planned(replace(EVENT, ball_limit=1))
    assert [item.ball for item in plan.bag] == [plan.games[0].ball]
    assert {card.ball for card in plan.games} == {plan.games[0].ball}
    assert all(shot.ball == plan.games[0].ball for shot in plan.practice)


@pytest.mark.parametrize(
    "trait", [LaneTrait(14, friction=1.2), LaneTrait(14, tilt_m=0.15 * INCH_M)]
)
def test_a_lane_that_is_known_to_differ_is_played_otherwise_than_its_neighbour(trait):
    usual = planned(replace(EVENT, house=replace(EVENT.house, traits=()))).games[0]
    known = planned(replace(EVENT, house=replace(EVENT.house, traits=(trait,)))).games[0]
    assert usual.lanes[0].line == usual.lanes[1].line
    left, right = ((lane.line, lane.entry) for lane in known.lanes)
    assert left != right


def test_two_patterns_are_played_each_on_its_lanes():
    short = replace(
        EVENT.left_pattern,
        name="Short Shingle 37",
        length_m=37 * FOOT_M,
        passes=tuple(
            replace(a_pass, end_m=min(a_pass.end_m, 37 * FOOT_M))
            for a_pass in EVENT.left_pattern.passes
        ),
    )
    plan = planned(replace(EVENT, right_pattern=short))
    left, right = plan.games[0].lanes
    assert left.film_units_at["40"] != right.film_units_at["40"]
    assert max(right.film_units_at["40"]) < 0.1, "only what practice carried down"
    # The ball is out of the oil, and turns, sooner.
    assert right.line.breakpoint_ft <= left.line.breakpoint_ft
    assert right.line != left.line


def test_progress_is_told_to_its_end():
    told: dict[str, list[tuple[int, int]]] = {}

    def hear(label: str, done: int, total: int) -> None:
        told.setdefault(label, []).append((done, total))

    plan_event(EVENT, load_table(), SEED, hear)
    assert len(told) >= 3
    for steps in told.values():
        assert [done for done, _ in steps] == list(range(1, len(steps) + 1))
        assert steps[-1][0] == steps[-1][1]
        assert len({total for _, total in steps}) == 1


def test_a_reach_without_a_line_on_the_lane_is_refused():
    wild = replace(EVENT.bowler.reach, laydown_boards=(1.0, 2.0), launch_angle_rad=(0.12, 0.17))
    with pytest.raises(InvalidValueError, match="launch_angle"):
        planned(replace(EVENT, bowler=replace(EVENT.bowler, reach=wild)))


def test_a_worn_surface_may_be_made_fresh_and_the_bag_says_so():
    plan = planned()
    grits = {ball.name: ball.surface for ball in EVENT.locker}
    for item in plan.bag:
        if item.fresh_surface:
            assert f"fresh surface on it: {item.surface_grit}, on a spinner" in item.purpose
            assert item.surface_by == "spinner"
        else:
            assert (grits[item.ball].grit or "polished") == item.surface_grit
