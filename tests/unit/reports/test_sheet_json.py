"""JSON: the contract's structure, boards from the right edge, numbers a reader can use."""

from __future__ import annotations

import json
import math
import re
from dataclasses import replace

import pytest

from debriefs import a_debrief
from nextpair.domain.lane import BOARDS
from nextpair.domain.shot import Effect
from nextpair.reports.debrief_json import render_debrief_json
from nextpair.reports.sheet_json import (
    render_bag_json,
    render_carry_json,
    render_film_json,
    render_paths_json,
    render_read_json,
    render_sheet_json,
)
from source_tree import DOCS
from unit.reports.carry_factory import a_carry_map
from unit.reports.read_factory import a_read
from unit.reports.sheet_factory import a_film_card, a_path, a_sheet

LINE = {
    "laydown_board", "slide_board", "target_board", "launch_angle_deg",
    "breakpoint_board", "breakpoint_ft", "exit_board", "speed_mph",
}  # fmt: skip
SHEET = {
    "event", "model_version", "seed", "rule_of_31_exit_board", "pattern", "bag", "practice",
    "games", "guessed", "cautions",
}  # fmt: skip
GAME = {
    "game", "pair", "shots_before_on_my_side", "shots_before_other_side", "lanes", "ball",
    "surface_grit", "line", "entry", "room", "strike_probability", "spare_probability",
    "expected_score", "score_interval_80", "move_from_previous_game", "fallback", "why",
}  # fmt: skip
"""Keys that are fixed: they may get company, never go."""


def every_key(value: object) -> set[str]:
    if isinstance(value, dict):
        return set(value).union(*map(every_key, value.values()))
    if isinstance(value, list):
        return set().union(*map(every_key, value))
    return set()


@pytest.fixture(scope="module")
def sheet() -> dict:  # type: ignore[type-arg]
    return json.loads(render_sheet_json(a_sheet()))


def test_a_sheet_has_the_fixed_structure(sheet):
    assert set(sheet) >= SHEET
    assert set(sheet["pattern"]) >= {"length_ft", "volume_ml", "ratio"}
    assert set(sheet["bag"][0]) >= {"ball", "surface_grit", "cost_if_left_pins_per_game"}
    assert set(sheet["practice"][0]) >= {"minute", "lane", "ball", "line", "why"}
    assert [game["game"] for game in sheet["games"]] == [1, 2, 3, 4, 5, 6]
    for game in sheet["games"]:
        assert set(game) >= GAME
        assert set(game["line"]) >= LINE
        assert set(game["entry"]) == {"offset_board", "entry_angle_deg", "speed_mph"}
        assert set(game["room"]) >= {"boards", "mph"}
        assert set(game["fallback"]) >= {"ball", "line", "when"}
        for lane in game["lanes"]:
            assert set(lane) >= {"lane", "film_units_at"}
            assert set(lane["film_units_at"]) == {"10", "25", "40"}
            assert {len(row) for row in lane["film_units_at"].values()} == {BOARDS}


def test_the_first_game_has_no_move_and_later_ones_have(sheet):
    first, second = (game["move_from_previous_game"] for game in sheet["games"][:2])
    assert first is None
    told = {"feet_boards": 3.0, "target_boards": 2.0, "ball_change": False}
    assert {key: second[key] for key in told} == told


def test_surfaces_are_numbers_or_polished(sheet):
    assert {item["surface_grit"] for item in sheet["bag"]} == {2000, 3000, "polished"}


def test_boards_count_from_the_right_edge_for_both_hands(sheet):
    left = json.loads(render_sheet_json(a_sheet("left")))
    assert sheet["rule_of_31_exit_board"] == 12
    assert left["rule_of_31_exit_board"] == 28
    for right_game, left_game in zip(sheet["games"], left["games"], strict=True):
        for key in LINE:
            one, other = right_game["line"][key], left_game["line"][key]
            assert other == pytest.approx(40 - one if key.endswith("_board") else one, abs=0.011)


def test_pictures_stay_out_and_paths_stay_in(sheet):
    assert "film_units" not in every_key(sheet)
    assert len(sheet["games"][0]["lanes"][0]["path_boards"]) == 60
    assert len(render_sheet_json(a_sheet()).encode()) < 60_000


@pytest.mark.parametrize(
    "text",
    [
        render_sheet_json(a_sheet("left")),
        render_paths_json([a_path()]),
        render_film_json(a_film_card()),
    ],
    ids=["sheet", "path", "film"],
)
def test_numbers_are_rounded_to_what_they_are_good_for(text):
    decimals = [len(number) for number in re.findall(r"\d\.(\d+)", text)]
    assert max(decimals) <= 4
    assert text.count("\n") == 1, "one document on one line"


def test_a_ratio_without_oil_outside_is_null():
    dry = replace(a_sheet(), pattern=replace(a_sheet().pattern, ratio=math.inf))
    assert json.loads(render_sheet_json(dry))["pattern"]["ratio"] is None


def test_a_bag_is_the_bag_of_its_sheet(sheet):
    bag = json.loads(render_bag_json(a_sheet()))
    assert bag == {key: sheet[key] for key in bag}
    assert set(bag) >= {"event", "model_version", "seed", "bag", "left_at_home", "cautions"}


def test_a_path_tells_its_leaves_by_pins():
    path = json.loads(render_paths_json([a_path()]))
    assert path["leaves"][0] == {"pins": "10", "probability": 0.14}
    assert path["carry_in_range"] is True
    assert set(path["entry"]) == {"offset_board", "entry_angle_deg", "speed_mph"}
    gutter = json.loads(render_paths_json([a_path(reaches_pins=False)]))
    assert gutter["entry"] is None
    assert gutter["gutter_ft"] == 38


def test_one_ball_is_one_document_and_several_are_listed_beside_the_first():
    alone = json.loads(render_paths_json([a_path()]))
    assert alone["paths"] is None
    other = replace(a_path(), ball="Saltmarsh")
    both = json.loads(render_paths_json([a_path(), other]))
    assert [path["ball"] for path in both["paths"]] == ["Kestrel", "Saltmarsh"]
    assert {key: value for key, value in both.items() if key != "paths"} == both["paths"][0]
    assert set(alone) == set(both)


def test_a_path_says_what_moves_it_and_where_it_is():
    path = json.loads(render_paths_json([a_path()]))
    assert path["what_moves_it"][0] == {
        "parameter": "speed_mph", "change": -1.0, "boards": -4.1, "degrees": 0.3
    }  # fmt: skip
    assert path["stations"][1]["distance_ft"] == 45.0
    assert path["stations"][1]["phase"] == "hook"
    nothing = replace(a_path(), what_moves_it=(Effect("rg_in", 0.05, -0.001, -0.0),))
    assert "-0.0" not in render_paths_json([nothing])


def test_a_film_comes_with_its_whole_map():
    film = json.loads(render_film_json(a_film_card()))
    assert len(film["film_units"]) == 60
    assert {len(row) for row in film["film_units"]} == {BOARDS}
    assert film["rule_of_31_exit_board_right_hander"] == 12
    assert film["rule_of_31_exit_board_left_hander"] == 28


def test_names_keep_their_letters():
    named = replace(a_sheet(), bowler="Zoë Ångström")
    assert "Zoë Ångström" in render_sheet_json(named)


@pytest.mark.parametrize(
    "text",
    [
        render_sheet_json(a_sheet()),
        render_bag_json(a_sheet()),
        render_paths_json([a_path()]),
        render_film_json(a_film_card()),
        render_carry_json(a_carry_map(impact=(2.5, 4.0))),
        render_read_json(a_read()),
        render_debrief_json(a_debrief()),
    ],
    ids=["sheet", "bag", "path", "film", "carry", "read", "debrief"],
)
def test_every_field_is_in_the_guide(text):
    guide = set(re.findall(r"`\"?(\w+)\"?`", (DOCS / "guide" / "json.md").read_text("utf-8")))
    assert every_key(json.loads(text)) - guide == set()


CARRY = {
    "hand", "model_version", "ball_lb", "speed_mph", "simulated", "published_zone",
    "offset_boards", "entry_angles_deg", "strike_probability", "strike_error", "head_pin_boards",
    "told_angles_deg", "strike_probability_by_board", "window_boards", "best", "ladder", "impact",
    "cautions", "pinfall",
}  # fmt: skip
IMPACT = {
    "entry_angle_deg", "offset_board", "head_pin_board", "contact_board", "inside_range",
    "strike_probability", "strike_error", "mean_pins", "leaves",
}  # fmt: skip


def test_carry_is_told_with_its_map_its_ladder_and_the_impact_asked_for():
    carry = a_carry_map(impact=(2.5, 4.0))
    told = json.loads(render_carry_json(carry))
    assert set(told) == CARRY
    assert [len(row) for row in told["strike_probability"]] == [len(told["offset_boards"])] * len(
        told["entry_angles_deg"]
    )
    assert told["strike_probability"][8][26] == round(carry.strike_probability[8][26], 4)
    assert told["strike_error"][8][26] == 0.0123
    assert len(told["strike_probability_by_board"]) == len(told["head_pin_boards"])
    for rung in told["ladder"]:
        assert set(rung) == {"name", "head_pin_board", "impacts"}
        assert [set(impact) for impact in rung["impacts"]] == [IMPACT] * 3
    assert told["impact"]["leaves"][0]["pins"] == "4-9"
    assert set(told["impact"]["leaves"][0]) == {"pins", "probability"}
    assert json.loads(render_carry_json(a_carry_map()))["impact"] is None


def test_carry_says_how_the_pins_are_set():
    for how in ("free", "string"):
        assert json.loads(render_carry_json(a_carry_map(pinfall=how)))["pinfall"] == how


def test_carry_of_a_left_hander_counts_boards_from_the_right_edge_and_mirrors_leaves():
    right, left = (
        json.loads(render_carry_json(a_carry_map(hand, impact=(2.5, 4.0))))
        for hand in ("right", "left")
    )
    assert left["strike_probability"] == right["strike_probability"]
    assert left["impact"]["contact_board"] == 2 * 20 - right["impact"]["contact_board"] == 22.5
    assert left["published_zone"]["head_pin_board"] == [22.0, 23.0]
    assert [leave["pins"] for leave in left["impact"]["leaves"]] == ["6-8", "10"]
