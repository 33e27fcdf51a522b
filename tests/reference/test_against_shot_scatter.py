"""The scatter that is guessed from an average, against the spread that was measured."""

from __future__ import annotations

import math

import numpy as np

from nextpair.domain.bowler import Style
from nextpair.domain.lane import BOARD_M
from nextpair.domain.typical import release_of, scatter_of
from reference.record import load_entry

AUTHORITY = "shot_scatter"
BEST_AVERAGE = 245
PAPER_M = 4.6
"""The paper lay at the arrows; its distance from the foul line is not told to the inch."""


def spread_at_arrows_boards(average: float) -> float:
    """Lay-down and launch angle together, by the geometry of a straight line."""
    scatter = scatter_of(average, release_of(Style.ONE_HANDED))
    angle_boards = PAPER_M * math.tan(scatter.launch_angle_rad) / BOARD_M
    return math.hypot(scatter.laydown_boards, angle_boards)


def test_spread_at_the_arrows_follows_the_average(record):
    averages = load_entry(AUTHORITY, "arrows_by_average")["average"]
    spread = [spread_at_arrows_boards(average) for average in averages]
    record.published(AUTHORITY, "arrows_by_average", sd_boards=np.array(spread))


def test_spread_at_the_arrows_of_the_best(record):
    spread = spread_at_arrows_boards(BEST_AVERAGE)
    record.published(AUTHORITY, "arrows_of_the_best", sd_boards=spread)
