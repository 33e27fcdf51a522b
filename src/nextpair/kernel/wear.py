"""What shots, one after the other, do to a film: oil taken off and carried down.

Film and paths share one frame, either: wear is the same in a mirror. So shots of both hands may
be mixed in the order in which they are thrown, with a left-hander's x turned to the lane's frame.

A track is 4 to 5 mm of a board's 27 mm, so the film is worn on strips of half a millimetre and
given back as the mean of each board too. A track covers whole strips, its edges rounded to the
nearest: in the mean over places that is its width, and a track that is repeated to the millimetre
empties itself and not its neighbours. The place at a cell's centre stands for the cell: against
ninths of a cell, what a board loses in a cell is within 1 % where shots scatter; where they repeat
it is within 5 %, and 1.3 % over a foot.
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
from nextpair.kernel.layout import NODE_M, NODES, Trace
from nextpair.physics.contact import wetted_width_m
from nextpair.physics.wear import (
    USUAL_ABSORPTION_S,
    USUAL_REST_S,
    USUAL_WEAR,
    WearLaw,
    absorbed_share,
    ring_overlap,
    split_films_um,
)

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

STRIPS_PER_BOARD = 54
STRIPS = BOARDS * STRIPS_PER_BOARD
"""Strips of half a millimetre across the lane; an even number, so that the lane can be mirrored.

Measured on 60 shots against strips of a tenth of a millimetre: the oil that each board loses is
within 1 % where shots scatter and within 2.5 % where they repeat; with 20 strips a board it is
within 2 % and 20 %, with one, 5 % and 450 %.
"""
LARGEST_SURFACE_RATIO = 4.0
"""Past this a ball would turn more than once in a cell; real ones stay below 1.5."""
UL_PER_UM_M2 = 1e3
_STRIP_M = BOARD_M / STRIPS_PER_BOARD
_EDGE_M = 0.5 * LANE_WIDTH_M


@dataclass(frozen=True, slots=True)
class Balls:
    """Which of b balls threw each of n shots, and how oil leaves a ball between its shots.

    What is on a ball after the towel comes round at its next shot, where its cover has not yet
    been on the lane; it is met as it was left, as a ball's rings lie where they lay before.

    index : (n,) 0 to b - 1.
    absorption_s : (b,) time in which a cover soaks in all but 1/e of its oil, see physics.wear.
    rest_s : (n,) or one for all: time from a shot to the towel [s].
    """

    index: IntArray
    absorption_s: FloatArray
    rest_s: FloatArray | float = USUAL_REST_S

    @classmethod
    def one_a_shot(cls, shots: int) -> Balls:
        """A usual ball of its own for every shot."""
        return cls(np.arange(shots), np.full(shots, USUAL_ABSORPTION_S))

    def soaked_shares(self, shots: int) -> FloatArray:
        """(n,) share of the oil on a ball that soaks in after each shot.

        Raises InvalidValueError if shots, balls and times do not fit together.
        """
        index, balls = np.asarray(self.index), len(self.absorption_s)
        require(index.shape == (shots,), "balls.index", index.shape, f"({shots},)")
        inside = not shots or (index.min() >= 0 and index.max() < balls)
        require(bool(inside), "balls.index", index, f"from 0 to {balls - 1}")
        rest_s = np.asarray(self.rest_s, float)
        require(rest_s.shape in ((), (shots,)), "balls.rest_s", rest_s.shape, f"({shots},)")
        return absorbed_share(rest_s, np.asarray(self.absorption_s, float)[index])


@dataclass(frozen=True, slots=True)
class Wear:
    """A film after n shots with b balls, and where the oil is that they took.

    film_um : (120, 39) the film that is left, the mean of each board [um].
    strips_um : (120, STRIPS) the same across half millimetres; give it to `wear` to go on.
    cover_ul : (n,) oil on the ball's cover as its shot ends [uL]: the rings that it left behind
        as it flared, the last one, and what the towel had left there before.
    absorbed_ul : (n,) of it, what soaks into the cover before the towel comes.
    wiped_ul : (n,) of it, what the towel takes.
    left_ul : (b,) what is on each ball after its last shot and towel.

    Nothing is lost: lane + absorbed + wiped + left = the lane's oil at the start.
    """

    film_um: FloatArray
    strips_um: FloatArray
    cover_ul: FloatArray
    absorbed_ul: FloatArray
    wiped_ul: FloatArray
    left_ul: FloatArray


def surface_ratios(trace: NDArray[np.floating]) -> FloatArray:
    """Speed of each ball's surface over the ball's speed, (n, 121) at the nodes, of recorded paths
    (8, 121, n).

    Source: [model-sheet] section 4.1, r = |ball surface speed| / V.
    """
    speed_mps = np.hypot(trace[Trace.V_X], trace[Trace.V_Y])
    return np.asarray((trace[Trace.SURFACE_SPEED] / speed_mps).T, float)


def wear(
    film_um: FloatArray,
    x_m: FloatArray,
    surface_ratio: FloatArray,
    flare_m_per_rev: FloatArray,
    *,
    landing_m: FloatArray | None = None,
    balls: Balls | None = None,
    law: WearLaw = USUAL_WEAR,
) -> Wear:
    """Let n shots act on a film in their order.

    Parameters
    ----------
    film_um : (120, 39) film [um], column = board - 1, or (120, STRIPS); it is not changed.
    x_m : (n, 121) positions at the kernel's nodes [m], x = (20 - board) x BOARD_M.
    surface_ratio : (n, 121) speed of the ball's surface over the ball's speed at the nodes [1].
    flare_m_per_rev : (n,) distance from one oil ring on the ball to the next [m], or (n, 121)
        at the nodes, see kernel.flare.
    landing_m : (n,) distances from the foul line at which the balls come down, 0 if left out.
    balls : which ball threw each shot; left out, every shot has a usual ball of its own.
    law : the numbers of wear.

    A shot wears nothing before it has come down, and from the node on where it has left the lane
    or is not known (NaN, or a surface ratio outside 0 to 4).

    Raises InvalidValueError for arrays of other shapes.
    """
    shots = len(x_m)
    for name, nodes in (("x_m", x_m), ("surface_ratio", surface_ratio)):
        require(nodes.shape == (shots, NODES), name, nodes.shape, f"({shots}, {NODES})")
    flare_m = _at_nodes(flare_m_per_rev, shots)
    first_cell = _first_cells(landing_m, shots)
    balls = balls or Balls.one_a_shot(shots)
    soaked = balls.soaked_shares(shots)
    strips_um = _strips_um(film_um)
    accounts = np.zeros((3, shots))
    stock = np.zeros((2, len(balls.absorption_s)))
    _wear_shots(
        strips_um,
        np.ascontiguousarray(x_m, np.float64),
        np.ascontiguousarray(surface_ratio, np.float64),
        flare_m,
        first_cell,
        np.ascontiguousarray(balls.index, np.int64),
        soaked,
        (law.patch_radius_m, law.removal_share, law.retained_um),
        law.wiped_share,
        accounts,
        stock,
    )
    cover_ul, absorbed_ul, wiped_ul = accounts * UL_PER_UM_M2
    return Wear(
        _board_means_um(strips_um),
        strips_um,
        cover_ul,
        absorbed_ul,
        wiped_ul,
        stock[0] * UL_PER_UM_M2,
    )


def _first_cells(landing_m: FloatArray | None, shots: int) -> IntArray:
    """(n,) the first cell whose centre each ball rolls over."""
    if landing_m is None:
        return np.zeros(shots, np.int64)
    require(landing_m.shape == (shots,), "landing_m", landing_m.shape, f"({shots},)")
    return np.searchsorted(NODE_M[1:], landing_m).astype(np.int64)


def _at_nodes(flare_m_per_rev: FloatArray, shots: int) -> FloatArray:
    """Distances from ring to ring (n, 121) of one value a shot, or of values at the nodes."""
    shapes = ((shots,), (shots, NODES))
    require(
        flare_m_per_rev.shape in shapes,
        "flare_m_per_rev",
        flare_m_per_rev.shape,
        f"one of {shapes}",
    )
    columns = flare_m_per_rev if flare_m_per_rev.ndim > 1 else flare_m_per_rev[:, None]
    return np.ascontiguousarray(np.broadcast_to(columns, (shots, NODES)), np.float64)


def _strips_um(film_um: FloatArray) -> FloatArray:
    """A new film (120, STRIPS): every strip of a board has its film, or strips as they are."""
    shapes = ((CELLS, BOARDS), (CELLS, STRIPS))
    require(film_um.shape in shapes, "film_um", film_um.shape, f"one of {shapes}")
    each = STRIPS // film_um.shape[1]
    return np.repeat(np.asarray(film_um, np.float64), each, axis=1)


@njit(cache=True, error_model="numpy")
def _board_means_um(strips_um: FloatArray) -> FloatArray:
    """Film (120, 39); a board whose strips are alike has their film to the last digit."""
    boards_um = np.empty((CELLS, BOARDS))
    for cell in range(CELLS):
        for board in range(BOARDS):
            start = board * STRIPS_PER_BOARD
            first_um, more_um = strips_um[cell, start], 0.0
            for strip in range(start, start + STRIPS_PER_BOARD):
                more_um += strips_um[cell, strip] - first_um
            boards_um[cell, board] = first_um + more_um / STRIPS_PER_BOARD
    return boards_um


@njit(cache=True, error_model="numpy")
def _wear_shots(
    strips_um: FloatArray,
    x_m: FloatArray,
    surface_ratio: FloatArray,
    flare_m: FloatArray,
    first_cell: IntArray,
    ball: IntArray,
    soaked: FloatArray,
    numbers: tuple[float, float, float],
    wiped_share: float,
    accounts: FloatArray,
    stock: FloatArray,
) -> None:
    """All shots in turn.

    stock (2, b): oil on each ball [um m2] and the cover that it is spread over [m2]; accounts
    (3, n): oil on the cover at the end of each shot, absorbed and wiped after it [um m2].
    """
    ring = np.empty((CELLS, 2))
    for shot in range(len(ball)):
        own = ball[shot]
        oil, cover_m2 = _wear_shot(
            strips_um,
            x_m[shot],
            surface_ratio[shot],
            flare_m[shot],
            first_cell[shot],
            (stock[0, own], stock[1, own]),
            numbers,
            ring,
        )
        absorbed = soaked[shot] * oil
        wiped = wiped_share * (oil - absorbed)
        accounts[0, shot] = oil
        accounts[1, shot] = absorbed
        accounts[2, shot] = wiped
        stock[0, own] = oil - absorbed - wiped
        stock[1, own] = cover_m2


@njit(cache=True, error_model="numpy")
def _wear_shot(
    strips_um: FloatArray,
    x_m: FloatArray,
    surface_ratio: FloatArray,
    flare_m: FloatArray,
    first_cell: int,
    stock: tuple[float, float],
    numbers: tuple[float, float, float],
    ring: FloatArray,
) -> tuple[float, float]:
    """Oil [um m2] on the ball after one shot, and the cover [m2] that it lies on.

    The ball's ring is remembered by the cell where it met the lane: row c of `ring` holds how far
    the surface had turned at the end of cell c [m] and the oil on a metre of it [um m]. What lies
    one turn back comes round again, so each stretch of the ring is met exactly once more.
    """
    patch_m, removal_share, retained_um = numbers
    old, old_m2 = stock
    old_um = old / old_m2 if old_m2 > 0.0 else 0.0
    turn_m = 2.0 * math.pi * BALL_RADIUS_M
    turned_m = met_m = behind = cover_m2 = 0.0
    laid = oldest = 0
    for cell in range(first_cell, CELLS):
        x, ratio = x_m[cell + 1], surface_ratio[cell + 1]
        known = abs(x) <= _EDGE_M and flare_m[cell + 1] >= 0.0
        if not (known and 0.0 <= ratio <= LARGEST_SURFACE_RATIO):
            break
        surface_m = ratio * CELL_M
        turned_m += surface_m
        oil, met_m, oldest, round_m = _ring_oil(ring, oldest, laid, met_m, turned_m - turn_m)
        low, high, width_m = _track(strips_um[cell], x, patch_m)
        overlap = ring_overlap(flare_m[cell + 1], width_m)
        behind += oil * (1.0 - overlap)
        track_m = (high - low) * _STRIP_M
        fresh_m2 = track_m * (surface_m - round_m * overlap)
        found = min(old_um * fresh_m2, old)
        old -= found
        cover_m2 += fresh_m2
        carried = oil * overlap + found
        ball_um = carried / (track_m * surface_m) if surface_m > 0.0 else 0.0
        ring_um = 0.0
        for strip in range(low, high):
            strips_um[cell, strip], on_ball_um = split_films_um(
                strips_um[cell, strip], ball_um, ratio, removal_share, retained_um
            )
            ring_um += on_ball_um
        ring[laid, 0] = turned_m
        ring[laid, 1] = ring_um * _STRIP_M
        laid += 1
    behind += _ring_oil(ring, oldest, laid, met_m, turned_m)[0]
    return old + behind, cover_m2 if cover_m2 > 0.0 else old_m2


@njit(cache=True, error_model="numpy")
def _ring_oil(
    ring: FloatArray, oldest: int, laid: int, met_m: float, reach_m: float
) -> tuple[float, float, int, float]:
    """Oil [um m2] on the ring from `met_m` to `reach_m`; where to go on from; its length [m]."""
    oil, start_m = 0.0, met_m
    while oldest < laid and met_m < reach_m:
        until_m = min(reach_m, ring[oldest, 0])
        oil += (until_m - met_m) * ring[oldest, 1]
        met_m = until_m
        if met_m >= ring[oldest, 0]:
            oldest += 1
    return oil, met_m, oldest, met_m - start_m


@njit(cache=True, error_model="numpy")
def _track(row_um: FloatArray, x: float, patch_m: float) -> tuple[int, int, float]:
    """First strip of a track, the one after its last, and the width that is wetted [m].

    Counted from the lane's centre and rounded evenly, so that a mirrored track is its mirror.
    """
    place = -x / _STRIP_M
    half = STRIPS // 2
    right = min(max(math.ceil(place) - 1 + half, 0), STRIPS - 1)
    left = min(max(math.floor(place) + half, 0), STRIPS - 1)
    middle_um = 0.5 * (row_um[right] + row_um[left])
    width_m = wetted_width_m(patch_m, BALL_RADIUS_M, middle_um * MICROMETRE_M)
    reach = 0.5 * width_m / _STRIP_M
    low = int(np.rint(place - reach)) + half
    high = int(np.rint(place + reach)) + half
    inward = max(-low, 0) - max(high - STRIPS, 0)
    return low + inward, high + inward, width_m
