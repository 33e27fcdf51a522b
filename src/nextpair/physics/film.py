"""A film in the trade's own numbers: volume, units of oil, ratio, class, rule of 31.

A film is a float64 array (CELLS, BOARDS) of micrometres: row = half-foot cell from the foul line,
column = board - 1, counted from the right edge.
"""

from __future__ import annotations

import math
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.bowler import Hand
from nextpair.domain.lane import BOARD_M, BOARDS, CELL_M, CELLS, mirrored_board
from nextpair.domain.units import FOOT_M, OIL_UNIT_UM

Film = NDArray[np.float64]

CELL_AREA_M2 = CELL_M * BOARD_M
UM_PER_UL = 1e-9 / CELL_AREA_M2 * 1e6
"""Micrometres of film that a microlitre makes on one cell of one board."""

OUTSIDE_BOARDS = 10
"""Boards on each side, from the gutter to the second arrow, that count as outside boards."""
LARGEST_SPORT_RATIO = 4.0
LARGEST_CHALLENGE_RATIO = 7.0
RULE_OF_31_FT = 31.0

ROUNDING_CELLS = 1e-9
"""Slack for a length that is a whole number of cells before the change of unit."""


class SportClass(StrEnum):
    """How flat a pattern is, by its ratio."""

    SPORT = "sport"
    CHALLENGE = "challenge"
    HOUSE = "house"


def volume_ml(film_um: Film) -> float:
    """Oil on the whole lane [mL] of a film [um]. Source: closed form, thickness x area."""
    return float(film_um.sum()) / UM_PER_UL * 1e-3


def film_units(film_um: Film) -> Film:
    """The same film in units of oil. Source: [facts] section 4, 0.0167 mL on a square foot."""
    return film_um / OIL_UNIT_UM


def pattern_ratio(film_um: Film, length_m: float) -> float:
    """Inside over outside: how much more oil the middle carries, over the oiled length.

    The mean film on boards 11 to 29 over the mean on boards 1 to 10 and 30 to 39 (from each
    gutter to the second arrow), both from the foul line to the last cell that `length_m` touches.
    Infinite where the outside boards are dry.

    Source: [facts] section 4: inside boards between the second arrows, outside to about board 10.
    """
    right, inside, left = _thirds_um(film_um, length_m)
    return _over(inside, 0.5 * (right + left))


def side_ratio(film_um: Film, length_m: float, hand: Hand) -> float:
    """Inside over the outside boards of a hand's own side, as `pattern_ratio` takes both.

    Source: [facts] section 4: championship patterns are told with a ratio for each side.
    """
    right, inside, left = _thirds_um(film_um, length_m)
    return _over(inside, right if hand is Hand.RIGHT else left)


def sport_class(ratio: float) -> SportClass:
    """The class of a pattern by its ratio: sport to 4, challenge to 7, house above.

    Source: [facts] section 4: sport typically 4:1, challenge 4:1 to 7:1, house above.
    """
    if ratio <= LARGEST_SPORT_RATIO:
        return SportClass.SPORT
    return SportClass.CHALLENGE if ratio <= LARGEST_CHALLENGE_RATIO else SportClass.HOUSE


def rule_of_31_exit_board(length_m: float, hand: Hand) -> float:
    """Board, counted from the right edge, where the rule of 31 has the ball leave the oil.

    Length in feet less 31, from the hand's own side; a pattern too short for the rule is played
    from the first board.

    Source: [facts] section 8, common practice.
    """
    own_side_board = max(length_m / FOOT_M - RULE_OF_31_FT, 1.0)
    return own_side_board if hand is Hand.RIGHT else mirrored_board(own_side_board)


def film_line_units(film_um: Film, distance_m: float) -> tuple[float, ...]:
    """Film on each of the 39 boards, right to left, at a distance from the foul line [units].

    Straight between cell centres; before the first and past the last centre, that cell's film.

    Source: closed form, linear interpolation.
    """
    place = min(max(distance_m / CELL_M - 0.5, 0.0), CELLS - 1.0)
    cell = min(int(place), CELLS - 2)
    share = place - cell
    line_um = (1.0 - share) * film_um[cell] + share * film_um[cell + 1]
    return tuple(float(units) for units in line_um / OIL_UNIT_UM)


def film_by_foot_units(film_um: Film) -> tuple[tuple[float, ...], ...]:
    """A film averaged over each whole foot: 60 rows of 39 boards, right to left [units].

    Source: closed form, mean of two cells.
    """
    by_foot = film_units(film_um).reshape(CELLS // 2, 2, BOARDS).mean(axis=1)
    return tuple(tuple(float(units) for units in row) for row in by_foot)


def _thirds_um(film_um: Film, length_m: float) -> tuple[float, float, float]:
    """Film on the right outside, the inside and the left outside boards, summed along the lane."""
    by_board_um = film_um[: math.ceil(length_m / CELL_M - ROUNDING_CELLS)].sum(axis=0)
    right, inside, left = np.split(by_board_um, [OUTSIDE_BOARDS, BOARDS - OUTSIDE_BOARDS])
    return float(right.mean()), float(inside.mean()), float(left.mean())


def _over(inside: float, outside: float) -> float:
    return inside / outside if outside > 0 else math.inf
