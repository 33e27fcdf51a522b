"""A pattern in numbers: volume against load arithmetic, boards and distances in their places."""

from __future__ import annotations

import pytest

from nextpair.application.film import film_card
from nextpair.domain.lane import BOARD_M, BOARDS
from nextpair.domain.pattern import Direction, Pass, Pattern
from nextpair.domain.units import FOOT_M, OIL_UNIT_UM
from unit.reports.sheet_factory import a_pattern


def one_pass(from_board: int = 1, to_board: int = 39, length_ft: float = 40.0) -> Pattern:
    laid = Pass(Direction.FORWARD, from_board, to_board, 4, 50.0, 0.0, length_ft * FOOT_M)
    return Pattern("One pass", length_ft * FOOT_M, passes=(laid,))


def test_volume_is_boards_times_loads_times_oil():
    # Closed form, the trade's load arithmetic: 39 boards x 4 loads x 50 microlitres.
    assert film_card(one_pass()).pattern.volume_ml == pytest.approx(39 * 4 * 50 / 1000)


def test_an_even_film_has_the_thickness_of_its_volume_over_its_area():
    # Closed form: 200 microlitres on one board of 40 ft.
    units = 200e-9 / (40 * FOOT_M * BOARD_M) * 1e6 / OIL_UNIT_UM
    card = film_card(one_pass())
    assert card.pattern.ratio == pytest.approx(1.0)
    assert card.pattern.sport_class == "sport"
    for feet in ("10", "25"):
        assert card.film_units_at[feet] == pytest.approx((units,) * BOARDS)
    assert card.film_units[39] == pytest.approx((units,) * BOARDS)
    assert card.film_units[40] == (0.0,) * BOARDS


def test_board_1_comes_first():
    row = film_card(one_pass(from_board=3, to_board=8)).film_units_at["10"]
    assert [board for board, units in enumerate(row, start=1) if units > 0] == [3, 4, 5, 6, 7, 8]


def test_the_rule_of_31_stands_for_both_hands():
    # Common practice: length in feet less 31; a left-hander counts the same from the left.
    card = film_card(a_pattern())
    assert card.rule_of_31_exit_board_right_hander == pytest.approx(12)
    assert card.rule_of_31_exit_board_left_hander == pytest.approx(28)
