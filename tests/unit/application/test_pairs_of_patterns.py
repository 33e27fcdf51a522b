"""Pairs whose lanes carry two patterns, neither of them the same on both sides, for both hands."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from event_folder import change, copy_of_demo
from nextpair.application.film import film_card
from nextpair.application.one_path import roll_one
from nextpair.domain.bowler import Hand
from nextpair.domain.event import Event
from nextpair.domain.lane import BOARDS, mirrored_board
from nextpair.domain.units import OIL_UNIT_UM
from nextpair.files import load_event
from nextpair.physics.dressing import film_of
from small_event import mirror_image

BALL = "Slate Weir"
RIGHT_LANE_UNITS = tuple(14.0 - 0.3 * board for board in range(1, BOARDS + 1))
"""A film measured to slope over all boards: 13.7 units on board 1, 2.3 on board 39."""


@pytest.fixture(scope="module")
def event(tmp_path_factory) -> Event:
    """Left lanes with twice the oil on their right half; right lanes with a measured slope."""
    folder = copy_of_demo(tmp_path_factory.mktemp("pair"))
    two = 'left_pattern = "left.toml"\nright_pattern = "right.toml"'
    change(folder, "event.toml", 'pattern = "pattern.toml"', two)
    laid = 'direction = "forward"\noil_ul = 50\nstart_ft = 0.5\nend_ft = 38\ntaper_end_ft = 6\n'
    passes = "".join(
        f"[[pass]]\n{laid}from_board = {first}\nto_board = {last}\nloads = {loads}\n"
        for first, last, loads in ((2, 38, 5), (2, 20, 5), (11, 29, 6))
    )
    left = f'name = "Left"\nlength_ft = 42\nviscosity_cp = 35\nbuff_ft = 1.5\n{passes}'
    right = 'name = "Right"\nlength_ft = 39\nviscosity_cp = 35\n[film]\ncsv = "right.csv"\n'
    header = "distance_ft," + ",".join(str(board) for board in range(1, BOARDS + 1))
    row = ",".join(f"{units:.1f}" for units in RIGHT_LANE_UNITS)
    (folder / "left.toml").write_text(left, "utf-8")
    (folder / "right.toml").write_text(right, "utf-8")
    (folder / "right.csv").write_text(f"{header}\n1,{row}\n39,{row}\n", "utf-8")
    return load_event(folder / "event.toml")


def test_each_lane_carries_its_own_film_board_by_board(event):
    left, right = (roll_one(event, BALL, 22.0, 2.9, lane=lane) for lane in (13, 14))
    assert left.film_units == film_card(event.left_pattern).film_units
    np.testing.assert_allclose(right.film_units[20], RIGHT_LANE_UNITS, rtol=1e-12)
    assert left.path_boards != right.path_boards


def test_a_measured_slope_survives_to_both_sides_ratios(event):
    # Closed form: means of the slope over boards 1 to 10, 11 to 29 and 30 to 39.
    card = film_card(event.right_pattern)
    outside_right, inside, outside_left = 14 - 0.3 * 5.5, 14 - 0.3 * 20, 14 - 0.3 * 34.5
    assert card.right_side_ratio == pytest.approx(inside / outside_right, rel=1e-12)
    assert card.left_side_ratio == pytest.approx(inside / outside_left, rel=1e-12)
    assert card.pattern.ratio == pytest.approx(1.0, rel=1e-12)
    film_um = film_of(event.right_pattern)
    np.testing.assert_allclose(film_um[50] / OIL_UNIT_UM, RIGHT_LANE_UNITS, rtol=1e-12)


@pytest.mark.parametrize("lane", [13, 14])
def test_a_left_hander_in_a_mirror_bowls_the_mirror_image(event, lane):
    right = roll_one(event, BALL, 22.0, 2.9, lane=lane)
    left = roll_one(mirror_image(event), BALL, mirrored_board(22.0), 2.9, lane=lane)
    assert left.hand == Hand.LEFT
    assert left.path_boards == pytest.approx([mirrored_board(b) for b in right.path_boards])
    np.testing.assert_allclose(left.film_units, [row[::-1] for row in right.film_units])
    assert left.strike_probability == pytest.approx(right.strike_probability, abs=1e-6)


@pytest.mark.parametrize("lane", [13, 14])
def test_the_sides_of_a_lopsided_lane_play_apart(event, lane):
    # Physics: the right side is the wet one on both lanes, so a right-hander's ball hooks less
    # there than a left-hander's with the same release on the dry side.
    reach = mirror_image(event).bowler.reach
    left_hander = replace(event.bowler, hand=Hand.LEFT, reach=reach)
    other = replace(event, bowler=left_hander)
    right = roll_one(event, BALL, 16.0, 1.5, lane=lane)
    left = roll_one(other, BALL, mirrored_board(16.0), 1.5, lane=lane)
    hooked = [max(path) - min(path) for path in (right.path_boards, left.path_boards)]
    assert hooked[0] < hooked[1]
