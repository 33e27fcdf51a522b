"""What shots, one after the other, do to a film: oil taken off and carried down.

Film and paths share one frame, either: wear is the same in a mirror. So shots of both hands may
be mixed in the order in which they are thrown, with a left-hander's x turned to the lane's frame.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numba import njit
from numpy.typing import NDArray

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.errors import require
from nextpair.domain.lane import BOARD_M, BOARDS, CELL_M, CELLS, LANE_WIDTH_M
from nextpair.domain.units import MICROMETRE_M
from nextpair.kernel.layout import NODES
from nextpair.physics.contact import wetted_width_m
from nextpair.physics.wear import USUAL_WEAR, WearLaw, ring_overlap, split_films_um

FloatArray = NDArray[np.float64]

LARGEST_SURFACE_RATIO = 4.0
"""Past this a ball would turn more than once in a cell; real ones stay below 1.5."""
UL_PER_UM_M2 = 1e3
_EDGE_M = 0.5 * LANE_WIDTH_M


@dataclass(frozen=True, slots=True)
class Wear:
    """A film after n shots, and what they took.

    film_um : (120, 39) the film that is left [um].
    taken_ul : (n,) oil that each ball had on its cover at the end [uL]: the rings that it left
        behind as it flared and the last one. The bowler wipes it off between shots.
    """

    film_um: FloatArray
    taken_ul: FloatArray


def wear(
    film_um: FloatArray,
    x_m: FloatArray,
    surface_ratio: FloatArray,
    flare_m_per_rev: FloatArray,
    radius_m: float = BALL_RADIUS_M,
    law: WearLaw = USUAL_WEAR,
) -> Wear:
    """Let n shots act on a film in their order.

    Parameters
    ----------
    film_um : (120, 39) film [um], column = board - 1; it is not changed.
    x_m : (n, 121) positions at the kernel's nodes [m], x = (20 - board) x BOARD_M.
    surface_ratio : (n, 121) speed of the ball's surface over the ball's speed at the nodes [1].
    flare_m_per_rev : (n,) distance from one oil ring on the ball to the next [m].
    radius_m : radius of the balls [m].
    law : the numbers of wear.

    A shot wears nothing from the node on where it has left the lane or is not known (NaN, or a
    surface ratio outside 0 to 4). The track is narrower than a board, so a board's mean film
    changes by the share of it that the track covers: that is exact for the mean over shots that
    scatter by a board or so, and too little for a track repeated to the millimetre.

    Raises InvalidValueError for arrays of other shapes.
    """
    shots = len(flare_m_per_rev)
    require(film_um.shape == (CELLS, BOARDS), "film_um", film_um.shape, f"({CELLS}, {BOARDS})")
    for name, nodes in (("x_m", x_m), ("surface_ratio", surface_ratio)):
        require(nodes.shape == (shots, NODES), name, nodes.shape, f"({shots}, {NODES})")
    worn_um = np.array(film_um, np.float64, order="C")
    taken_ul = np.empty(shots)
    _wear_shots(
        worn_um,
        np.ascontiguousarray(x_m, np.float64),
        np.ascontiguousarray(surface_ratio, np.float64),
        np.ascontiguousarray(flare_m_per_rev, np.float64),
        (radius_m, law.patch_radius_m, law.removal_share, law.retained_um),
        taken_ul,
    )
    return Wear(worn_um, taken_ul)


@njit(cache=True, error_model="numpy")
def _wear_shots(
    film_um: FloatArray,
    x_m: FloatArray,
    surface_ratio: FloatArray,
    flare_m_per_rev: FloatArray,
    numbers: tuple[float, float, float, float],
    taken_ul: FloatArray,
) -> None:
    ring = np.empty((CELLS, 2))
    for shot in range(len(flare_m_per_rev)):
        taken = _wear_shot(
            film_um, x_m[shot], surface_ratio[shot], flare_m_per_rev[shot], numbers, ring
        )
        taken_ul[shot] = taken * UL_PER_UM_M2


@njit(cache=True, error_model="numpy")
def _wear_shot(
    film_um: FloatArray,
    x_m: FloatArray,
    surface_ratio: FloatArray,
    flare_m: float,
    numbers: tuple[float, float, float, float],
    ring: FloatArray,
) -> float:
    """Oil [um m2] that one shot takes; `ring` is scratch.

    The ball's ring is remembered by the cell where it met the lane: row c of `ring` holds how far
    the surface had turned at the end of cell c [m] and the oil on a metre of it [um m]. What lies
    one turn back comes round again, so each stretch of the ring is met exactly once more.
    """
    radius_m, patch_m, removal_share, retained_um = numbers
    turn_m = 2.0 * math.pi * radius_m
    turned_m = met_m = taken = 0.0
    laid = oldest = 0
    for cell in range(CELLS):
        x, ratio = x_m[cell + 1], surface_ratio[cell + 1]
        if not (abs(x) <= _EDGE_M and 0.0 <= ratio <= LARGEST_SURFACE_RATIO):
            break
        surface_m = ratio * CELL_M
        turned_m += surface_m
        oil, met_m, oldest = _ring_oil(ring, oldest, laid, met_m, turned_m - turn_m)
        low, high, high_share, width_m = _track(film_um[cell], x, patch_m, radius_m)
        carried = oil * ring_overlap(flare_m, width_m)
        taken += oil - carried
        ball_um = carried / (width_m * surface_m) if surface_m > 0.0 else 0.0
        ring_um = 0.0
        for board, share in ((low, 1.0 - high_share), (high, high_share)):
            lane_um = film_um[cell, board]
            left_um, on_ball_um = split_films_um(
                lane_um, ball_um, ratio, removal_share, retained_um
            )
            film_um[cell, board] += (left_um - lane_um) * share * width_m / BOARD_M
            ring_um += share * on_ball_um
        ring[laid, 0] = turned_m
        ring[laid, 1] = ring_um * width_m
        laid += 1
    return taken + _ring_oil(ring, oldest, laid, met_m, turned_m)[0]


@njit(cache=True, error_model="numpy")
def _ring_oil(
    ring: FloatArray, oldest: int, laid: int, met_m: float, reach_m: float
) -> tuple[float, float, int]:
    """Oil [um m2] on the ring from `met_m` to `reach_m`, and where to go on from there."""
    oil = 0.0
    while oldest < laid and met_m < reach_m:
        until_m = min(reach_m, ring[oldest, 0])
        oil += (until_m - met_m) * ring[oldest, 1]
        met_m = until_m
        if met_m >= ring[oldest, 0]:
            oldest += 1
    return oil, met_m, oldest


@njit(cache=True, error_model="numpy")
def _track(
    row_um: FloatArray, x: float, patch_m: float, radius_m: float
) -> tuple[int, int, float, float]:
    """The one or two columns that a track covers, its share on the upper one, its width [m]."""
    place = 0.5 * BOARDS - x / BOARD_M
    column = min(int(place), BOARDS - 1)
    width_m = wetted_width_m(patch_m, radius_m, row_um[column] * MICROMETRE_M)
    reach = 0.5 * width_m / BOARD_M
    low = max(int(place - reach), 0)
    high = min(int(place + reach), BOARDS - 1)
    high_share = (place + reach - high) / (2.0 * reach) if high > low else 0.0
    return low, high, high_share, width_m
