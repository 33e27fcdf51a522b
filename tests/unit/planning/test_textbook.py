"""Moves by what is seen, and the line of the rule of 31."""

from __future__ import annotations

import math

import numpy as np
import pytest

from nextpair.domain.bowler import Hand, Reach
from nextpair.domain.units import DEGREE_RAD
from nextpair.planning.lines import LineValues, line_grid
from nextpair.planning.textbook import POCKET_BOARDS, Watch, rule_line, two_for_one
from nextpair.planning.trial import Line

GRID = line_grid(Reach((5.0, 35.0), (-1.0 * DEGREE_RAD, 6.0 * DEGREE_RAD), (0.0, 0.0)), Hand.RIGHT)
POCKET = POCKET_BOARDS


def test_two_boards_with_the_feet_are_one_at_the_arrows():
    """Closed form: the arrows are 15 ft from the foul line, where the ball is laid down."""
    line = Line(0, 20.0, 2.0 * DEGREE_RAD)
    moved = two_for_one(line, 1.0, GRID)
    feet = moved.own_laydown - line.own_laydown
    outward_in = 15 * 12 * (math.tan(moved.angle_rad) - math.tan(line.angle_rad))
    assert feet == 2.0
    assert feet - outward_in / (41.5 / 39) == pytest.approx(1.0, abs=0.02)


def test_a_move_stays_within_reach():
    far = two_for_one(Line(0, 34.0, 5.9 * DEGREE_RAD), 3.0, GRID)
    assert far.own_laydown == 35.0
    assert far.angle_rad == pytest.approx(6.0 * DEGREE_RAD)


def test_a_clear_miss_moves_at_once_and_in_its_direction():
    """Common practice: move with the feet toward where the ball missed."""
    assert Watch().moves(POCKET - 5.0, good=True) == 1.0  # high: inside
    assert Watch().moves(POCKET + 5.0, good=True) == -1.0  # light: outside


def test_small_misses_move_only_when_two_good_shots_agree():
    watch = Watch()
    assert watch.moves(POCKET + 2.2, good=True) == 0.0
    assert watch.moves(POCKET + 2.4, good=False) == 0.0
    assert watch.moves(POCKET + 2.2, good=True) == -0.5
    assert watch.moves(POCKET + 2.2, good=True) == 0.0
    assert watch.moves(POCKET - 2.2, good=True) == 0.0


def test_pocket_hits_ask_for_nothing():
    watch = Watch()
    assert [watch.moves(POCKET + miss, good=True) for miss in (0.5, -0.5, 1.9, 1.2)] == [0.0] * 4


def test_the_rules_line_leaves_the_oil_at_its_board():
    rows, columns = len(GRID.own_laydown), len(GRID.angle_rad)
    exits = np.broadcast_to(GRID.own_laydown[:, None], (rows, columns)) - 10.0
    values = LineValues(GRID, np.ones((1, 1, rows, columns), np.float32), exits[None].copy())
    line = rule_line(values, 0, 43.0 * 0.3048)
    assert line.own_laydown - 10.0 == pytest.approx(12.0, abs=1.0)
