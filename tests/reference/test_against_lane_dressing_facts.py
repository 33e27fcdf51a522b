"""Films and their wear against what is published about lane dressing.

All expected numbers, with their sources, are in data/lane_dressing.toml.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import numpy as np
import pytest

from nextpair.domain.ball import BALL_RADIUS_M, Ball, Cover, Layout, Surface
from nextpair.domain.bowler import Hand
from nextpair.domain.lane import (
    BOARD_M,
    BOARDS,
    CELL_M,
    CELLS,
    LANE_WIDTH_M,
    board_to_x_m,
    mirrored_board,
)
from nextpair.domain.pattern import Direction, Pass, Pattern
from nextpair.domain.units import DEGREE_RAD, FOOT_M, INCH_M, MICROINCH_UM, OIL_UNIT_UM, POUND_KG
from nextpair.kernel.layout import NODE_M, NODES
from nextpair.kernel.wear import wear
from nextpair.physics.contact import (
    contact_modulus_pa,
    contact_radius_m,
    peak_pressure_pa,
    wetted_width_m,
)
from nextpair.physics.dressing import film_of
from nextpair.physics.film import UM_PER_UL, rule_of_31_exit_board, sport_class, volume_ml
from nextpair.physics.wear import (
    WearLaw,
    ball_flare_m_per_rev,
    flare_per_revolution_m,
    split_films_um,
)

FACTS = tomllib.loads((Path(__file__).parent / "data/lane_dressing.toml").read_text("utf-8"))
REACTIVE_FLARE_M = 0.010
"""Rings of a strong ball, wider apart than the track is wide."""
WEAK_FLARE_M = 0.0012
"""Rings of a spare ball or an old urethane ball, which overlap."""


def gutter_to_gutter(length_ft: float, volume_ml: float) -> Pattern:
    """A pattern of that length and volume with the same film everywhere."""
    loads = 10
    board_ul = volume_ml * 1e3 / (BOARDS * loads)
    oil = Pass(Direction.FORWARD, 1, BOARDS, loads, board_ul, 0.0, length_ft * FOOT_M)
    return Pattern("even", length_ft * FOOT_M, passes=(oil,))


def mean_film_um(pattern: Pattern) -> float:
    oiled_m2 = pattern.length_m * LANE_WIDTH_M
    return float(film_of(pattern).sum()) * CELL_M * BOARD_M / oiled_m2


def surface_ratio_of_a_league_shot() -> np.ndarray:
    """0.58 at the release, 0.69 where the oil ends, 1 in roll: release B of the model sheet."""
    return np.interp(NODE_M, [0.0, 12.19, 15.42], [0.576, 0.689, 1.0])


def test_a_unit_of_oil_is_the_film_of_its_definition():
    unit = FACTS["unit_of_oil"]
    assert pytest.approx(unit["film_um"], rel=unit["relative_tolerance"]) == OIL_UNIT_UM
    assert (
        pytest.approx(unit["film_microinch"], abs=unit["film_microinch_tolerance"])
        == OIL_UNIT_UM / MICROINCH_UM
    )
    board_foot_ul = OIL_UNIT_UM / UM_PER_UL * (FOOT_M / CELL_M)
    assert board_foot_ul == pytest.approx(unit["board_foot_ul"], rel=unit["relative_tolerance"])


@pytest.mark.parametrize("fact", FACTS["mean_film"], ids=lambda fact: f"{fact['volume_ml']} mL")
def test_volume_over_area_is_the_mean_film(fact):
    mean_um = mean_film_um(gutter_to_gutter(fact["length_ft"], fact["volume_ml"]))
    assert mean_um == pytest.approx(fact["film_um"], rel=fact["relative_tolerance"])
    assert mean_um / OIL_UNIT_UM == pytest.approx(fact["units"], rel=fact["relative_tolerance"])


@pytest.mark.parametrize("row", FACTS["open_championship"]["patterns"], ids=str)
def test_championship_patterns_have_their_published_mean_units(row):
    _, length_ft, published_ml, units = row
    pattern = gutter_to_gutter(length_ft, published_ml)
    tolerance = FACTS["open_championship"]["tolerance_units"]
    assert volume_ml(film_of(pattern)) == pytest.approx(published_ml, rel=1e-12)
    assert mean_film_um(pattern) / OIL_UNIT_UM == pytest.approx(units, abs=tolerance)


def test_load_arithmetic_gives_the_volume():
    fact = FACTS["load_arithmetic"]
    oil = Pass(
        Direction.FORWARD,
        fact["from_board"],
        fact["to_board"],
        fact["loads"],
        fact["oil_ul"],
        0.5 * FOOT_M,
        20.0 * FOOT_M,
    )
    assert oil.boards == fact["boards"]
    pattern = Pattern("seven loads", 40.0 * FOOT_M, passes=(oil,))
    assert volume_ml(film_of(pattern)) == pytest.approx(fact["volume_ml"], rel=1e-12)


@pytest.mark.parametrize("name", ["sport", "challenge", "house"])
def test_ratios_fall_into_their_published_class(name):
    assert {sport_class(ratio).value for ratio in FACTS["classes"][name]} == {name}


@pytest.mark.parametrize(("length_ft", "board"), FACTS["rule_of_31"]["exit_board_by_length_ft"])
def test_the_rule_of_31_counts_from_the_bowlers_own_side(length_ft, board):
    length_m = length_ft * FOOT_M
    assert rule_of_31_exit_board(length_m, Hand.RIGHT) == pytest.approx(board, abs=1e-9)
    left = rule_of_31_exit_board(length_m, Hand.LEFT)
    assert left == pytest.approx(mirrored_board(board), abs=1e-9)


@pytest.mark.parametrize(("ratio", "loss"), FACTS["film_split"]["loss_by_surface_ratio"])
def test_a_dry_ball_takes_the_share_of_a_film_split(ratio, loss):
    left_um, on_ball_um = split_films_um(1.0, 0.0, ratio, 1.0, 0.0)
    assert 1.0 - left_um == pytest.approx(loss, abs=FACTS["film_split"]["tolerance"])
    assert on_ball_um / left_um == pytest.approx(ratio**0.65, rel=1e-12)


def test_ball_and_lane_touch_on_a_patch_of_known_size():
    fact = FACTS["contact"]
    modulus_pa = contact_modulus_pa(*fact["cover"], *fact["lane"])
    radius_m = contact_radius_m(fact["load_n"], fact["ball_radius_m"], modulus_pa)
    rel = fact["relative_tolerance"]
    assert radius_m * 1e3 == pytest.approx(fact["radius_mm"], rel=rel)
    assert peak_pressure_pa(fact["load_n"], radius_m) * 1e-6 == pytest.approx(
        fact["peak_pressure_mpa"], rel=rel
    )
    patch_m = fact["wetted_patch_radius_mm"] * 1e-3
    for film_um, width_mm in fact["width_mm_by_film_um"]:
        width_m = wetted_width_m(patch_m, fact["ball_radius_m"], film_um * 1e-6)
        assert width_m * 1e3 == pytest.approx(width_mm, rel=rel)


def test_flare_is_greatest_near_an_eighth_of_the_ball():
    fact = FACTS["greatest_flare"]
    pins_in = np.arange(0.5, 6.75, 0.01)
    flares_m = [
        ball_flare_m_per_rev(
            Ball(
                "even core",
                15.0 * POUND_KG,
                2.50 * INCH_M,
                0.045 * INCH_M,
                0.0,
                Cover.SOLID,
                Surface(2000),
                Layout(pin_in * INCH_M, 50.0 * DEGREE_RAD, 40.0 * DEGREE_RAD),
            )
        )
        for pin_in in pins_in
    ]
    assert pins_in[np.argmax(flares_m)] == pytest.approx(
        fact["pin_to_pap_in"], abs=fact["tolerance_in"]
    )


def test_flare_follows_the_published_path_of_the_axis():
    fact = FACTS["axis_path"]
    pin_rad = fact["pin_angle_deg"] * DEGREE_RAD
    radii_m = tuple(rg_in * INCH_M for rg_in in fact["radii_of_gyration_in"])
    flare_m = flare_per_revolution_m(radii_m, pin_rad, 60.0 * DEGREE_RAD, BALL_RADIUS_M)
    circle_m = BALL_RADIUS_M * np.sin(pin_rad)
    turned_deg = fact["revolutions"] * flare_m / circle_m / DEGREE_RAD
    assert turned_deg == pytest.approx(fact["round_the_pin_deg"], rel=fact["relative_tolerance"])


@pytest.fixture
def demonstration_film_um() -> np.ndarray:
    """4 um to 10 m, tapering to 0.5 um at 12.2 m, dry beyond, the same on every board."""
    centre_m = (np.arange(CELLS) + 0.5) * CELL_M
    along_um = np.interp(centre_m, [0.0, 10.0, 12.2, 12.2 + 1e-9], [4.0, 4.0, 0.5, 0.0])
    return np.repeat(along_um[:, None], BOARDS, axis=1)


def film_in_the_track(fresh_um, worn_um, cell, law):
    """The local film under a track whose change is spread over its board's mean [um]."""
    width_m = wetted_width_m(law.patch_radius_m, BALL_RADIUS_M, fresh_um[cell, 19] * 1e-6)
    return fresh_um[cell, 19] + (worn_um[cell, 19] - fresh_um[cell, 19]) * BOARD_M / width_m


@pytest.mark.parametrize("flare_m", [0.02, 0.0], ids=["flaring", "not flaring"])
def test_a_first_shot_agrees_with_a_finer_independent_program(demonstration_film_um, flare_m):
    fact = FACTS["first_shot"]
    rel = fact["relative_tolerance"]
    law = WearLaw(removal_share=1.0, retained_um=0.0)
    fresh_um = demonstration_film_um
    ratio = surface_ratio_of_a_league_shot()[None]
    worn = wear(fresh_um, np.zeros((1, NODES)), ratio, np.array([flare_m]), law=law)
    at_9_m_um = film_in_the_track(fresh_um, worn.film_um, int(9.0 / CELL_M), law)
    past = np.flatnonzero(fresh_um[:, 19] == 0.0)
    past_ul = worn.film_um[past].sum() / UM_PER_UL
    if flare_m:
        assert worn.taken_ul[0] == pytest.approx(fact["removed_ul"], rel=rel)
        assert at_9_m_um == pytest.approx(fact["film_at_9_m_um"], rel=0.02)
        assert past_ul == 0.0
    else:
        assert worn.taken_ul[0] < 0.01 * fact["removed_ul"]
        assert at_9_m_um == pytest.approx(fact["carried_film_at_9_m_um"], rel=0.02)
        assert past_ul == pytest.approx(fact["carried_past_the_end_ul"], rel=rel)
        peak_um = max(film_in_the_track(fresh_um, worn.film_um, c, law) for c in past)
        assert peak_um == pytest.approx(fact["carried_peak_um"], rel=rel)


@pytest.fixture
def traffic_on_one_line():
    """Positions of shots that scatter about board 12."""
    loss = FACTS["oil_loss"]
    boards = np.random.default_rng(8).normal(12.0, loss["scatter_boards"], loss["shots"])
    return np.repeat(board_to_x_m(boards)[:, None], NODES, axis=1)


def worn_by(traffic_x_m, flare_m):
    """A 41 ft pattern of 25 mL before and after that traffic."""
    shots = len(traffic_x_m)
    fresh_um = film_of(gutter_to_gutter(41.0, 25.0))
    ratio = np.repeat(surface_ratio_of_a_league_shot()[None], shots, axis=0)
    return fresh_um, wear(fresh_um, traffic_x_m, ratio, np.full(shots, flare_m)).film_um


def test_practice_and_one_game_on_one_line_take_the_published_share(traffic_on_one_line):
    loss = FACTS["oil_loss"]
    fresh_um, worn_um = worn_by(traffic_on_one_line, REACTIVE_FLARE_M)
    oiled = int(41.0 * FOOT_M / CELL_M)
    lost = 1.0 - worn_um[:oiled] / fresh_um[:oiled]
    assert lost.max(axis=1).min() > loss["more_than"], "over the whole pattern length"
    lowest, highest = loss["neighbourhood"]
    beside = lost[:, 10:13].mean(axis=1)
    assert lowest < beside.min()
    assert beside.max() < highest


def test_weak_flare_carries_oil_past_the_end_and_strong_flare_does_not(traffic_on_one_line):
    fact = FACTS["carrydown"]
    fresh_um, reactive_um = worn_by(traffic_on_one_line, REACTIVE_FLARE_M)
    _, weak_um = worn_by(traffic_on_one_line, WEAK_FLARE_M)
    past = slice(int(41.0 * FOOT_M / CELL_M), CELLS)
    assert fresh_um[past].max() == 0.0
    assert reactive_um[past].max() == 0.0
    carried_units = weak_um[past].max(axis=1) / OIL_UNIT_UM
    assert 0.5 < carried_units.max() < fact["largest_units"]
    assert carried_units[int(fact["longest_m"] / CELL_M) :].max() < 0.5
    assert volume_ml(reactive_um) < volume_ml(weak_um) < volume_ml(fresh_um)
