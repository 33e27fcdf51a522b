"""A debrief of events that were bowled in worlds whose truth is known."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nextpair.application.debrief import UNTOLD, debrief
from nextpair.application.game_accounts import account_words
from nextpair.application.reading import Groundwork
from nextpair.application.sheets import plan, typical_weight_kg
from nextpair.application.simulated_event import Planted, simulate_event
from nextpair.carry.table import load_table
from nextpair.domain.errors import InvalidValueError
from nextpair.planning.contenders import prepare
from small_event import small_event

SEED, WORLD = 7, 3
NO_BOARDS = dict.fromkeys(
    ("laydown_board", "target_board", "breakpoint_board", "entry_board", "speed_mph",
     "meant_laydown_board", "meant_target_board")
)  # fmt: skip


@pytest.fixture(scope="module")
def prepared():
    event = small_event()
    return prepare(event, load_table(typical_weight_kg(event.locker), event.house.pinfall), SEED)


@pytest.fixture(scope="module")
def ground(prepared):
    return Groundwork(prepared.table, prepared.spare_chance, prepared.pins, prepared.films)


@pytest.fixture(scope="module")
def sheet(prepared):
    return plan(prepared.event, SEED)


@pytest.fixture(scope="module")
def told(prepared, ground, sheet):
    bowled = simulate_event(
        prepared, WORLD, SEED, Planted(late_shots=5, spares_log_odds=-50, slower_mph=1.5)
    )
    return debrief(prepared.event, bowled.shots, sheet, SEED, ground=ground), bowled


def test_the_parts_of_a_game_add_up_to_score_less_plan_exactly(told):
    found, _ = told
    assert [game.game for game in found.games] == [1, 2]
    for game in found.games:
        parts = (
            game.lane_pins, game.release_pins, game.choice_pins, game.strays_pins,
            game.carry_pins, game.strays_and_carry_pins, game.spares_pins,
        )  # fmt: skip
        total = sum(part for part in parts if part is not None)
        assert total == pytest.approx(game.score - game.planned_score, abs=1e-9)
        assert game.regret_pins >= 0


def test_no_spare_made_and_a_slower_day_are_named(told):
    found, _ = told
    keys = [finding.key for finding in found.findings]
    assert any(key.startswith("spares: ") for key in keys)
    assert any(key.startswith("release: speed") for key in keys)
    assert len(keys) <= 5
    every = next(row for row in found.spares if row.kind == "all")
    assert (every.made, every.so_few_probability < 1e-3) == (0, True)
    speed = next(one for one in found.release if one.name == "speed of the day")
    assert speed.found.mean < speed.planned.mean - 0.8
    assert found.practice.lanes == (13, 14)
    assert 0 < found.practice.told_share <= 1
    assert [lane.pair for lane in found.lanes] == ["", "13-14", "17-18"]
    assert all(one.is_news for lane in found.lanes[1:] for one in lane.findings)


def test_the_same_log_gives_the_same_debrief(told, prepared, ground, sheet):
    found, bowled = told
    again = debrief(prepared.event, bowled.shots, sheet, SEED, ground=ground)
    assert again == found


def test_lines_that_nobody_told_are_held_to_the_plan(told, prepared, ground, sheet):
    """Nothing is said of choices then: what is left is that racks of a mixed doubt are told apart,
    less than a fifth of a pin."""
    _, bowled = told
    untold = [replace(noted, shot=replace(noted.shot, **NO_BOARDS)) for noted in bowled.shots]
    found = debrief(prepared.event, untold, sheet, SEED, ground=ground)
    for game in found.games:
        assert game.choice_pins == pytest.approx(0.0, abs=0.2)
        assert (game.strays_pins, game.carry_pins) == (None, None)
    assert not found.late_moves
    assert UNTOLD in found.notes
    assert (found.shots, found.practice.telling_shots, found.practice.told_share) == (0, 0, 0.0)


def test_a_shot_on_a_lane_of_another_game_is_refused(told, prepared, ground, sheet):
    _, bowled = told
    astray = [
        replace(noted, shot=replace(noted.shot, lane=17)) if noted.shot.game == 1 else noted
        for noted in bowled.shots
    ]
    with pytest.raises(InvalidValueError, match="lane of game 1: found 17"):
        debrief(prepared.event, astray, sheet, SEED, ground=ground)


def test_a_sheet_of_another_locker_is_refused(told, prepared, ground, sheet):
    _, bowled = told
    cards = [replace(card, ball="Nobody's") for card in sheet.games]
    with pytest.raises(InvalidValueError, match="sheet"):
        debrief(
            prepared.event, bowled.shots, replace(sheet, games=tuple(cards)), SEED, ground=ground
        )


def test_a_game_is_told_in_words():
    assert account_words(-12.4, 0.0).startswith("12 pins fewer than planned; no other")
    assert "7 pins more" in account_words(3.0, 7.2)
