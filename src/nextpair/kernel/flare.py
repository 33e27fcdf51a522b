"""How far apart a ball's oil rings lie, and how far they spread, from a recorded path.

The spin axis wanders through the ball as a core asks for it. A ring lies around the axis, so two
rings are as far apart, at their widest, as the axis moved between them. Friction also rocks the
axis once a revolution; between rings that are one revolution apart this drops out.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.kernel.layout import NODE_M, NODES, Trace
from nextpair.kernel.step import SLOWEST_MPS

FloatArray = NDArray[np.float64]

_AXES = [Trace.AXIS_LOW, Trace.AXIS_HIGH, Trace.AXIS_MIDDLE]


def ring_spacing_m(trace: NDArray[np.floating], turns: FloatArray) -> FloatArray:
    """Distance [m] from each ring to the one a revolution before, (n, 121) at the nodes.

    In the first revolution it is that from the first ring to the second, and for a ball that turns
    less than once the distance that its axis moved.

    Parameters
    ----------
    trace : (8, 121, n) recorded paths, see kernel.layout.Trace.
    turns : (n,) revolutions of each ball on its path.

    Source: [model-sheet] section 2.9: R gamma, gamma the angle between two axes in the ball.
    """
    way_m = _surface_way_m(trace)
    axis = np.ascontiguousarray(trace[_AXES].transpose(2, 0, 1), np.float64)
    spacing_m = np.empty((len(turns), NODES))
    _space_rings(way_m, axis, np.asarray(turns, np.float64), spacing_m)
    return spacing_m


def flare_m(trace: NDArray[np.floating], oiled_m: float, landing_m: float = 0.0) -> FloatArray:
    """Spread [m] of the rings that n balls show, (n,): from the first ring to the farthest.

    Only rings laid in oil are seen, so the axis counts from `landing_m` up to `oiled_m`. It is
    the width between the two ends of the bow tie, which is less than the sum of the spacings:
    the axis goes round the pin.

    Parameters
    ----------
    trace : (8, 121, n) recorded paths, see kernel.layout.Trace.
    oiled_m : distance at which the oil ends, or the ball leaves the lane [m].
    landing_m : distance at which the balls come down [m].

    Source: [model-sheet] section 2.9: R gamma, cos gamma = cos^2 theta + sin^2 theta cos Psi for
    a core with one low axis, theta from the pin, that turned by Psi round it.
    """
    first = min(int(np.searchsorted(NODE_M, landing_m)), NODES - 1)
    after = max(int(np.searchsorted(NODE_M, oiled_m, side="right")), first + 1)
    axis = np.asarray(trace[_AXES, first:after], np.float64)
    chord = np.linalg.norm(axis - axis[:, :1], axis=0)
    return BALL_RADIUS_M * 2.0 * np.arcsin(np.minimum(0.5 * chord.max(axis=0), 1.0))


def _surface_way_m(trace: NDArray[np.floating]) -> FloatArray:
    """(n, 121) way that each ball's surface has made over the lane at the nodes [m]."""
    rate = trace[Trace.SURFACE_SPEED] / np.maximum(trace[Trace.V_Y], SLOWEST_MPS)
    steps = 0.5 * (rate[1:] + rate[:-1]).astype(np.float64) * np.diff(NODE_M)[:, None]
    way_m = np.zeros((rate.shape[1], NODES))
    np.cumsum(steps.T, axis=1, out=way_m[:, 1:])
    return way_m


@njit(cache=True, error_model="numpy")
def _space_rings(
    way_m: FloatArray, axis: FloatArray, turns: FloatArray, spacing_m: FloatArray
) -> None:
    """Spacing (n, 121) of every shot, from its surface's way (n, 121) and axis (n, 3, 121)."""
    for shot in range(len(turns)):
        turn_m = way_m[shot, -1] / turns[shot] if turns[shot] > 0.0 else math.inf
        before, first = 0, -1
        for node in range(NODES):
            back_m = way_m[shot, node] - turn_m
            if back_m < 0.0:
                continue
            while way_m[shot, before + 1] < back_m:
                before += 1
            step_m = way_m[shot, before + 1] - way_m[shot, before]
            share = (back_m - way_m[shot, before]) / step_m if step_m > 0.0 else 0.0
            chord2 = 0.0
            for part in range(3):
                near = axis[shot, part, before]
                ring = near + share * (axis[shot, part, before + 1] - near)
                chord2 += (axis[shot, part, node] - ring) ** 2
            spacing_m[shot, node] = _apart_m(chord2)
            if first < 0:
                first = node
        if first < 0:
            chord2 = ((axis[shot, :, -1] - axis[shot, :, 0]) ** 2).sum()
            spacing_m[shot] = _apart_m(chord2)
        else:
            spacing_m[shot, :first] = spacing_m[shot, first]


@njit(cache=True, error_model="numpy")
def _apart_m(chord2: float) -> float:
    """Distance over the cover between two unit axes whose difference has this square [m]."""
    return BALL_RADIUS_M * 2.0 * math.asin(min(0.5 * math.sqrt(chord2), 1.0))
