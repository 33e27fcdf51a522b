"""Patterns written as files, against lengths, volumes, ratios and loads that were published.

All expected numbers, with their sources, are in data/published_patterns.toml. A pattern of a
published volume and ratio is written as the simplest passes that have them: one film on the inside
boards, and one on the outside boards of each side.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import numpy as np
import pytest

from nextpair.application.film import FilmCard, film_card
from nextpair.domain import typical
from nextpair.domain.lane import BOARDS
from nextpair.domain.units import CENTIPOISE_PAS, FOOT_M, OIL_UNIT_UM
from nextpair.files import load_pattern

FACTS = tomllib.loads((Path(__file__).parent / "data/published_patterns.toml").read_text("utf-8"))
CHAMPIONSHIP = FACTS["championship"]
LOADS = 10
OUTSIDE, INSIDE = 10, 19
"""Boards of each side, and between the second arrows."""


@pytest.fixture
def card_of(tmp_path):
    def card_of(text: str) -> FilmCard:
        path = tmp_path / "pattern.toml"
        path.write_text(text, "utf-8")
        return film_card(load_pattern(path))

    return card_of


def pass_table(boards: tuple[int, int], loads: int, oil_ul: float, end_ft: float) -> str:
    first, last = boards
    return (
        f'[[pass]]\ndirection = "forward"\nfrom_board = {first}\nto_board = {last}\n'
        f"loads = {loads}\noil_ul = {oil_ul!r}\nstart_ft = 0\nend_ft = {end_ft}\n"
    )


def pattern_text(length_ft: float, volume_ml: float, left_ratio: float, right_ratio: float) -> str:
    """Passes with this volume and these ratios of inside to each outside."""
    shares = OUTSIDE / right_ratio + INSIDE + OUTSIDE / left_ratio
    inside_ul = volume_ml * 1e3 / shares / LOADS
    passes = [
        pass_table((1, OUTSIDE), LOADS, inside_ul / right_ratio, length_ft),
        pass_table((OUTSIDE + 1, OUTSIDE + INSIDE), LOADS, inside_ul, length_ft),
        pass_table((BOARDS - OUTSIDE + 1, BOARDS), LOADS, inside_ul / left_ratio, length_ft),
    ]
    return f'name = "as published"\nlength_ft = {length_ft}\n' + "".join(passes)


@pytest.mark.parametrize("fact", CHAMPIONSHIP["patterns"], ids=lambda fact: fact["event"])
def test_a_championship_pattern_has_its_published_film(card_of, fact):
    ratio = fact.get("ratio", 1.0)
    sides = fact.get("left_ratio", ratio), fact.get("right_ratio", ratio)
    card = card_of(pattern_text(fact["length_ft"], fact["volume_ml"], *sides))
    assert card.pattern.length_ft == pytest.approx(fact["length_ft"], rel=1e-12)
    assert card.pattern.volume_ml == pytest.approx(fact["volume_ml"], rel=1e-12)
    assert (card.left_side_ratio, card.right_side_ratio) == pytest.approx(sides, rel=1e-12)
    assert min(sides) <= card.pattern.ratio + 1e-12
    assert card.pattern.ratio <= max(sides) + 1e-12
    assert card.pattern.sport_class == "sport"
    mean_units = np.mean(card.film_units[: fact["length_ft"]])
    assert mean_units == pytest.approx(fact["units"], abs=CHAMPIONSHIP["tolerance_units"])
    mean_um = mean_units * OIL_UNIT_UM
    assert mean_um == pytest.approx(fact["film_um"], abs=CHAMPIONSHIP["tolerance_um"])


def test_the_table_of_championship_patterns_is_whole():
    volumes_ml = [fact["volume_ml"] for fact in CHAMPIONSHIP["patterns"]]
    assert min(volumes_ml) == CHAMPIONSHIP["smallest_ml"]
    assert max(volumes_ml) == CHAMPIONSHIP["largest_ml"]


@pytest.mark.parametrize("fact", FACTS["loads"]["examples"], ids=lambda fact: f"{fact['boards']}")
def test_loads_between_boards_of_both_sides(card_of, fact):
    assert 41 - fact["left"] - fact["right"] == fact["boards"]
    span = (fact["right"], BOARDS + 1 - fact["left"])
    text = 'name = "loads"\nlength_ft = 40\n' + pass_table(span, fact["loads"], fact["oil_ul"], 20)
    card = card_of(text)
    assert sum(units > 0.0 for units in card.film_units_at["10"]) == fact["boards"]
    assert card.pattern.volume_ml == pytest.approx(fact["volume_ml"], rel=1e-12)


def test_a_unit_everywhere_is_a_millilitre_on_sixty_square_feet():
    fact = FACTS["unit_area"]
    area_m2 = fact["square_feet"] * FOOT_M**2
    assert OIL_UNIT_UM * area_m2 == pytest.approx(
        fact["volume_ml"], rel=fact["relative_tolerance"]
    ), "1 um on 1 m2 is 1 mL"


def test_oil_to_one_distance_is_buffed_on_to_another(card_of):
    fact = FACTS["buffed_house"]
    oil_ft, length_ft = fact["oil_to_ft"], fact["length_ft"]
    head = f'name = "house"\nlength_ft = {length_ft}\nbuff_ft = 3\n'
    tables = pass_table((2, 38), 1, 40, oil_ft) + pass_table((11, 29), 6, 50, oil_ft)
    card = card_of(head + tables)
    assert card.pattern.volume_ml == pytest.approx((37 * 40 + 19 * 6 * 50) / 1e3, rel=1e-12)
    assert (card.forward_to_ft, card.pattern.length_ft) == pytest.approx((oil_ft, length_ft))
    middle = [row[19] for row in card.film_units]
    assert min(middle[:length_ft]) > 0.0
    assert max(middle[length_ft:]) == 0.0
    tail = middle[oil_ft - 1 : length_ft]
    assert sorted(tail, reverse=True) == tail, "thinner with every foot past the oil"
    assert card.pattern.sport_class == "house"


@pytest.mark.parametrize("key", ["shortest_ft", "longest_ft"])
def test_every_allowed_length_can_be_written(card_of, key):
    length_ft = FACTS["length_allowed"][key]
    card = card_of(pattern_text(length_ft, 22.0, 3.0, 3.0))
    assert card.pattern.length_ft == pytest.approx(length_ft)


@pytest.mark.parametrize("key", ["lowest_cp", "highest_cp"])
def test_every_allowed_viscosity_can_be_written(card_of, key):
    viscosity_cp = FACTS["viscosity"][key]
    text = f"viscosity_cp = {viscosity_cp}\n" + pattern_text(40, 22.0, 3.0, 3.0)
    assert card_of(text).viscosity_cp == pytest.approx(viscosity_cp)


def test_the_viscosity_that_is_guessed_is_that_of_common_oils():
    fact = FACTS["viscosity"]
    guessed_cp = typical.VISCOSITY_PAS / CENTIPOISE_PAS
    assert guessed_cp == pytest.approx(fact["mean_cp"], rel=fact["relative_tolerance"])


@pytest.mark.parametrize("key", ["flattest", "steepest"])
def test_tournament_ratios_of_an_older_policy_are_sport(card_of, key):
    ratio = FACTS["tournament_policy"][key]
    card = card_of(pattern_text(40, 24.0, ratio, ratio))
    assert card.pattern.ratio == pytest.approx(ratio, rel=1e-12)
    assert card.pattern.sport_class == "sport"
