"""The main job: one event and seed, one sheet; and the sheet as its JSON promises."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from nextpair.application.cautions import ALWAYS, HEAVY_BAGS, SANDING, STRINGS, score_caution
from nextpair.application.model_version import model_version
from nextpair.application.sheets import plan, typical_weight_kg
from nextpair.carry.strings import STRIKES_LOST_SHARE
from nextpair.domain.belief import Draws, PutOn, Read
from nextpair.domain.bowler import Hand
from nextpair.domain.event import SurfaceChanges
from nextpair.domain.house import Pinfall
from nextpair.domain.units import FOOT_M, POUND_KG
from nextpair.reports.sheet_json import render_sheet_json
from small_event import SEED, small_event, small_sheet
from unit.reports.read_factory import a_read

EVENT = small_event()
NUMBER = (int, float)
LINE = {
    "laydown_board": NUMBER,
    "slide_board": NUMBER,
    "target_board": NUMBER,
    "launch_angle_deg": NUMBER,
    "breakpoint_board": NUMBER,
    "breakpoint_ft": NUMBER,
    "exit_board": NUMBER,
    "speed_mph": NUMBER,
}
GRIT = (int, str)
SHEET = {
    "event": str,
    "model_version": str,
    "seed": int,
    "rule_of_31_exit_board": NUMBER,
    "pattern": {"length_ft": NUMBER, "volume_ml": NUMBER, "ratio": NUMBER},
    "bag": [{"ball": str, "surface_grit": GRIT, "cost_if_left_pins_per_game": NUMBER}],
    "practice": [{"minute": NUMBER, "lane": int, "ball": str, "line": LINE, "why": str}],
    "games": [
        {
            "game": int,
            "pair": str,
            "shots_before_on_my_side": int,
            "shots_before_other_side": int,
            "lanes": [
                {
                    "lane": int,
                    "film_units_at": {"10": [NUMBER], "25": [NUMBER], "40": [NUMBER]},
                }
            ],
            "ball": str,
            "surface_grit": GRIT,
            "line": LINE,
            "entry": {"offset_board": NUMBER, "entry_angle_deg": NUMBER, "speed_mph": NUMBER},
            "room": {"boards": NUMBER, "mph": NUMBER},
            "strike_probability": NUMBER,
            "spare_probability": NUMBER,
            "expected_score": NUMBER,
            "score_interval_80": [int],
            "fallback": {"ball": str, "line": LINE, "when": str},
            "why": [str],
        }
    ],
    "guessed": [str],
    "cautions": [str],
}
"""What the contract's example of a sheet holds: names and kinds."""
MOVE = {"feet_boards": NUMBER, "target_boards": NUMBER, "ball_change": bool}


def misfits(value: Any, shape: Any, place: str = "sheet") -> list[str]:
    """Where a JSON value lacks what a shape asks for."""
    if isinstance(shape, dict):
        if not isinstance(value, dict):
            return [f"{place}: {value!r} is no object"]
        found = [f"{place}.{name} is missing" for name in shape if name not in value]
        for name in shape.keys() & value.keys():
            found += misfits(value[name], shape[name], f"{place}.{name}")
        return found
    if isinstance(shape, list):
        if not isinstance(value, list) or not value:
            return [f"{place}: {value!r} is no list with entries"]
        return [line for item in value for line in misfits(item, shape[0], place)]
    fits = isinstance(value, shape) and (shape is bool or not isinstance(value, bool))
    return [] if fits else [f"{place}: {value!r} is no {shape}"]


@cache
def document(hand: Hand = Hand.RIGHT) -> dict[str, Any]:
    return json.loads(render_sheet_json(small_sheet(hand)))


def test_the_check_of_shapes_sees_what_is_missing_and_what_is_of_another_kind():
    assert misfits({"ball": 3}, {"ball": str, "why": [str]}) != []
    assert misfits({"seed": True}, {"seed": int}) != []
    assert misfits([], [str]) != []


@pytest.mark.parametrize("hand", list(Hand))
def test_a_sheets_json_holds_what_the_contract_promises(hand):
    assert misfits(document(hand), SHEET) == []
    games = document(hand)["games"]
    assert games[0]["move_from_previous_game"] is None
    assert misfits(games[1]["move_from_previous_game"], MOVE) == []


def test_films_in_json_have_all_boards_and_intervals_two_ends():
    for game in document()["games"]:
        assert len(game["score_interval_80"]) == 2
        assert len(game["lanes"]) == 2
        for lane in game["lanes"]:
            assert {len(row) for row in lane["film_units_at"].values()} == {39}


@pytest.mark.parametrize("hand", list(Hand))
def test_the_score_lies_inside_its_interval(hand):
    for game in document(hand)["games"]:
        low, high = game["score_interval_80"]
        assert low <= game["expected_score"] <= high


def test_the_same_event_and_seed_give_the_same_sheet():
    assert plan(EVENT, SEED) == small_sheet()


def test_another_seed_gives_another_sheet_that_scores_alike():
    other = small_sheet(seed=SEED + 1)
    assert other.seed == SEED + 1
    assert other != small_sheet()
    for ours, theirs in zip(small_sheet().games, other.games, strict=True):
        assert ours.expected_score != theirs.expected_score
        assert theirs.expected_score == pytest.approx(ours.expected_score, abs=5.0)


def test_the_sheet_says_what_it_was_made_from():
    sheet = small_sheet()
    assert (sheet.event, sheet.house, sheet.bowler) == (
        EVENT.name,
        EVENT.house.name,
        EVENT.bowler.name,
    )
    assert sheet.date == EVENT.date.isoformat()
    assert sheet.hand == "right"
    assert small_sheet(Hand.LEFT).hand == "left"
    assert sheet.model_version == model_version()
    assert sheet.seed == SEED
    assert sheet.guessed == EVENT.guessed
    assert sheet.guessed


def test_sanding_is_cautioned_about_where_a_surface_is_changed():
    # A fresh surface at the grit the ball already has is work too.
    changed = any(item.fresh_surface for item in small_sheet().bag)
    assert (SANDING in small_sheet().cautions) is changed
    unchanged = plan(replace(EVENT, surface_changes=SurfaceChanges.NONE), SEED)
    assert SANDING not in unchanged.cautions
    for sheet in (small_sheet(), unchanged):
        assert set(ALWAYS) <= set(sheet.cautions)
        assert (HEAVY_BAGS in sheet.cautions) is (len(sheet.bag) >= 3)


def test_the_middle_weight_of_the_locker_counts():
    weights = [ball.mass_kg for ball in EVENT.locker]
    assert typical_weight_kg(EVENT.locker) == sorted(weights)[len(weights) // 2]
    light = tuple(replace(ball, mass_kg=12 * POUND_KG) for ball in EVENT.locker)
    assert typical_weight_kg(light) == 12 * POUND_KG


def test_a_lighter_ball_scores_otherwise():
    light = replace(
        EVENT, locker=tuple(replace(ball, mass_kg=10 * POUND_KG) for ball in EVENT.locker)
    )
    scores = [game.expected_score for game in plan(light, SEED).games]
    assert scores != [game.expected_score for game in small_sheet().games]


def test_the_pattern_is_measured_and_of_two_each_by_itself():
    pattern = EVENT.left_pattern
    card = small_sheet().pattern
    assert card.length_ft == pytest.approx(pattern.length_m / FOOT_M)
    laid_ml = sum(a_pass.volume_ul for a_pass in pattern.passes) / 1000
    assert card.volume_ml == pytest.approx(laid_ml)
    assert small_sheet().right_pattern is None
    half = replace(pattern, name="Half Tide", passes=pattern.passes[:3])
    both = plan(replace(EVENT, right_pattern=half), SEED)
    assert both.right_pattern is not None
    assert both.pattern == card
    assert both.right_pattern.name == "Half Tide"
    half_ml = sum(a_pass.volume_ul for a_pass in half.passes) / 1000
    assert both.right_pattern.volume_ml == pytest.approx(half_ml)


def test_pins_on_strings_strike_less_score_lower_and_are_warned_of():
    strung = replace(EVENT, house=replace(EVENT.house, pinfall=Pinfall.STRING))
    sheet, free = plan(strung, SEED), small_sheet()
    assert STRINGS in sheet.cautions
    assert STRINGS not in free.cautions
    for game, freely in zip(sheet.games, free.games, strict=True):
        # The lines of both are hardly worth less than each other: the loss is the published one.
        lost = 1.0 - game.strike_probability / freely.strike_probability
        assert lost == pytest.approx(STRIKES_LOST_SHARE, abs=0.02)
        # [facts] section 2: averages lower by as much as 10 pins.
        assert 2.0 < freely.expected_score - game.expected_score < 10.0


@pytest.mark.parametrize("hand", list(Hand))
def test_every_line_of_a_sheet_meets_the_pocket(hand):
    # Common practice: the pocket, boards 17 to 18 of the hand's side, never across the head pin.
    for game in small_sheet(hand).games:
        for lane in game.lanes:
            assert 1.0 < lane.entry.offset_board < 4.5


def test_a_score_well_below_the_average_is_explained_and_another_is_not():
    assert small_sheet().cautions[0] == score_caution(
        EVENT.bowler.average, sum(g.expected_score for g in small_sheet().games) / EVENT.games
    )
    assert score_caution(205, 196) is None
    said = score_caution(205, 175)
    assert said is not None
    assert "175" in said
    assert "205" in said


def a_read_of(last_game: int, next_game: int) -> Read:
    """A read of the small event, by which lanes are drier than planned."""
    drier = tuple((0.10 + 0.01 * row, 0.0) for row in range(20))
    return replace(
        a_read(),
        last_game=last_game,
        next_game=next_game,
        surfaces=(PutOn("Slate Weir", 500),),
        draws=Draws(("dry_log", "film_log"), drier),
    )


def test_a_sheet_by_a_read_is_of_the_games_to_come():
    sheet = plan(EVENT, SEED, read=a_read_of(last_game=1, next_game=2))
    assert [game.game for game in sheet.games] == [2]
    assert (sheet.practice, sheet.practice_options, sheet.left_at_home) == ((), (), ())
    assert not any(item.fresh_surface for item in sheet.bag)
    assert sheet.cautions[0].startswith("This sheet goes by what 4 logged shots said, up to frame")
    whole = small_sheet()
    assert sheet.games[0].pair == whole.games[1].pair
    assert sheet.games[0].expected_score != whole.games[1].expected_score
