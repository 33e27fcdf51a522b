"""Patterns written as files, against lengths, volumes, ratios and loads that were published.

All expected numbers, with their sources, are in data/published_patterns.toml. A pattern of a
published volume and ratio is written as the simplest passes that have them: one film on the inside
boards, and one on the outside boards of each side.
"""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.application.film import FilmCard, film_card
from nextpair.domain import typical
from nextpair.domain.lane import BOARDS
from nextpair.domain.units import CENTIPOISE_PAS, FOOT_M, OIL_UNIT_UM
from nextpair.files import load_pattern
from reference.record import load_authority

AUTHORITY = "published_patterns"
FACTS = load_authority(AUTHORITY)
CHAMPIONSHIP, RATIOS = FACTS["championship"], FACTS["championship_ratio"]
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


def championship_card(card_of, event: str) -> FilmCard:
    """A championship pattern of its published length, volume and, where told, ratios."""
    row = CHAMPIONSHIP["event"].index(event)
    sides = [1.0, 1.0]
    if event in RATIOS["event"]:
        place = RATIOS["event"].index(event)
        sides = [RATIOS[side]["value"][place] for side in ("left_ratio", "right_ratio")]
    length_ft, volume_ml = CHAMPIONSHIP["length_ft"][row], CHAMPIONSHIP["volume_ml"]["value"][row]
    return card_of(pattern_text(length_ft, volume_ml, *sides))


def test_championship_patterns_have_their_published_volume_and_film(card_of, record):
    cards = [championship_card(card_of, event) for event in CHAMPIONSHIP["event"]]
    assert [card.pattern.length_ft for card in cards] == pytest.approx(CHAMPIONSHIP["length_ft"])
    units = [np.mean(card.film_units[: round(card.pattern.length_ft)]) for card in cards]
    record.published(
        AUTHORITY,
        "championship",
        volume_ml=[card.pattern.volume_ml for card in cards],
        film_um=np.multiply(units, OIL_UNIT_UM),
        units=units,
    )


def test_championship_patterns_have_their_published_ratios_on_both_sides(card_of, record):
    cards = [championship_card(card_of, event) for event in RATIOS["event"]]
    record.published(
        AUTHORITY,
        "championship_ratio",
        left_ratio=[card.left_side_ratio for card in cards],
        right_ratio=[card.right_side_ratio for card in cards],
    )
    for card in cards:
        sides = sorted((card.left_side_ratio, card.right_side_ratio))
        assert sides[0] <= card.pattern.ratio * (1 + 1e-12)
        assert card.pattern.ratio <= sides[1] * (1 + 1e-12)
        assert card.pattern.sport_class == "sport"


def test_the_table_of_championship_patterns_is_whole():
    volumes_ml, limits = CHAMPIONSHIP["volume_ml"]["value"], FACTS["championship_range"]
    assert (min(volumes_ml), max(volumes_ml)) == (limits["smallest_ml"], limits["largest_ml"])


def test_loads_between_boards_of_both_sides(card_of, record):
    fact = FACTS["loads"]
    cards = []
    for left, right, loads in zip(fact["left"], fact["right"], fact["loads"], strict=True):
        oil = pass_table((right, BOARDS + 1 - left), loads, fact["oil_ul"], 20)
        cards.append(card_of(f'name = "loads"\nlength_ft = 40\n{oil}'))
    record.published(
        AUTHORITY,
        "loads",
        boards=[sum(units > 0.0 for units in card.film_units_at["10"]) for card in cards],
        volume_ml=[card.pattern.volume_ml for card in cards],
    )


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
