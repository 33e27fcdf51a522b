"""Films against what is published about lane dressing.

All expected numbers, with their sources, are in data/lane_dressing.toml.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from nextpair.domain.bowler import Hand
from nextpair.domain.lane import BOARD_M, BOARDS, CELL_M, LANE_WIDTH_M, mirrored_board
from nextpair.domain.pattern import Direction, Pass, Pattern
from nextpair.domain.units import FOOT_M, MICROINCH_UM, OIL_UNIT_UM
from nextpair.physics.dressing import film_of
from nextpair.physics.film import UM_PER_UL, rule_of_31_exit_board, sport_class

FACTS = tomllib.loads((Path(__file__).parent / "data/lane_dressing.toml").read_text("utf-8"))


def gutter_to_gutter(length_ft: float, volume_ml: float) -> Pattern:
    """A pattern of that length and volume with the same film everywhere."""
    loads = 10
    board_ul = volume_ml * 1e3 / (BOARDS * loads)
    oil = Pass(Direction.FORWARD, 1, BOARDS, loads, board_ul, 0.0, length_ft * FOOT_M)
    return Pattern("even", length_ft * FOOT_M, passes=(oil,))


def mean_film_um(pattern: Pattern) -> float:
    oiled_m2 = pattern.length_m * LANE_WIDTH_M
    return float(film_of(pattern).sum()) * CELL_M * BOARD_M / oiled_m2


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


@pytest.mark.parametrize("name", ["sport", "challenge", "house"])
def test_ratios_fall_into_their_published_class(name):
    assert {sport_class(ratio).value for ratio in FACTS["classes"][name]} == {name}


@pytest.mark.parametrize(("length_ft", "board"), FACTS["rule_of_31"]["exit_board_by_length_ft"])
def test_the_rule_of_31_counts_from_the_bowlers_own_side(length_ft, board):
    length_m = length_ft * FOOT_M
    assert rule_of_31_exit_board(length_m, Hand.RIGHT) == pytest.approx(board, abs=1e-9)
    left = rule_of_31_exit_board(length_m, Hand.LEFT)
    assert left == pytest.approx(mirrored_board(board), abs=1e-9)
