"""What rolls near an impact left: the sums of a kernel, and which rolls count as near.

Rolls and their mirror images lie in four dimensions, offset, angle, speed and weight of ball, each
counted in bandwidths. The same hit lies further out for every degree of angle, the more so the
wider it is, since a wide ball meets its pins further down the deck: offsets are counted along that
fan. Near means within a radius in that space, weighted (1 - (distance / radius)^2)^2.

Source: [fan-gijbels-1996] for the kernel whose tilt takes out the first-order bias of
sloping chances and of edges.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from nextpair.carry.deck import FloatArray
from nextpair.carry.rolls import Rolls
from nextpair.domain.units import MPH_MPS, POUND_KG

IntArray = NDArray[np.int64]

DIMENSIONS = 4
HELD_BY_ROLLS = 3.0
"""The tilt of a kernel gives way as if so many rolls lay level: few rolls know no slope."""
WIDE = 2.0
"""Radius, in bandwidths, of the rolls that fill in where few lie within one."""


class Bandwidths(NamedTuple):
    """How far rolls count as near; radii, beyond which a roll weighs nothing."""

    offset_boards: float = 0.35
    angle_deg: float = 2.0
    speed_mps: float = 10.0 * MPH_MPS
    ball_kg: float = 7.0 * POUND_KG
    fan_per_deg: float = 0.0165
    """Share of its offset by which the same hit moves out for one degree."""

    def scaled(
        self,
        offset_boards: FloatArray,
        angle_deg: FloatArray,
        speed_mps: FloatArray,
        ball_kg: FloatArray,
    ) -> FloatArray:
        """Impacts (n,) as places (n, 4), in bandwidths; offsets along the fan.

        Source: closed form for a straight path that turns about the place where it is told.
        """
        level_boards = offset_boards - self.fan_per_deg * np.abs(offset_boards) * angle_deg
        columns = np.stack([level_boards, angle_deg, speed_mps, ball_kg], axis=-1)
        return np.ascontiguousarray(columns / np.array(self[:DIMENSIONS]))


class Neighbours(NamedTuple):
    """Rolls and their mirror images, m = 2 n of them, in the order of their offsets."""

    places: FloatArray
    """(m, 4) in bandwidths."""
    along: FloatArray
    """(m,) first column of the places, ascending."""
    leave: IntArray
    """(m,) index of what was left among the kept leaves."""
    roll: IntArray
    """(m,) index of the roll, the same for its image."""


def neighbours_of(
    rolls: Rolls, leave: IntArray, mirrored: IntArray, bandwidths: Bandwidths
) -> Neighbours:
    """Rolls by what they left, (n,) indices of leaves; `mirrored` is each leave's own image."""
    own = bandwidths.scaled(rolls.offset_boards, rolls.angle_deg, rolls.speed_mps, rolls.ball_kg)
    places = np.concatenate([own, own * [-1.0, -1.0, 1.0, 1.0]])
    order = np.argsort(places[:, 0], kind="stable")
    count = len(leave)
    return Neighbours(
        np.ascontiguousarray(places[order]),
        np.ascontiguousarray(places[order, 0]),
        np.concatenate([leave, mirrored[leave]])[order],
        np.tile(np.arange(count), 2)[order],
    )


@njit(cache=True, error_model="numpy")
def _weight(place, at, mirror, radius, away):  # type: ignore[no-untyped-def]
    """Kernel's weight of one place (mirror -1: of its image), and how far it lies, into `away`."""
    square = 0.0
    for d in range(DIMENSIONS):
        away[d] = (mirror * place[d] if d < 2 else place[d]) - at[d]
        square += away[d] * away[d]
    within = 1.0 - square / (radius * radius)
    return within * within if within > 0.0 else 0.0


@njit(cache=True, error_model="numpy")
def _tilt(near, at, first, last, left_out):  # type: ignore[no-untyped-def]
    """Slope that, taken off the kernel, moves the mean place of its rolls to `at`."""
    away, lean = np.empty(DIMENSIONS), np.zeros(DIMENSIONS)
    spread = HELD_BY_ROLLS * np.eye(DIMENSIONS)
    for k in range(first, last):
        weight = _weight(near.places[k], at, 1.0, 1.0, away)
        if weight > 0.0 and near.roll[k] != left_out:
            for i in range(DIMENSIONS):
                lean[i] += weight * away[i]
                for j in range(DIMENSIONS):
                    spread[i, j] += weight * away[i] * away[j]
    return np.linalg.solve(spread, lean)


@njit(cache=True, error_model="numpy")
def _sums_at(near, at, radius, tilted, left_out, sums):  # type: ignore[no-untyped-def]
    """Add up the rolls by leave into `sums`; returns the variance of their total.

    A roll and its image are one observation, so their weights add before they are squared.
    """
    first = np.searchsorted(near.along, at[0] - radius)
    last = np.searchsorted(near.along, at[0] + radius)
    tilt = _tilt(near, at, first, last, left_out) if tilted else np.zeros(DIMENSIONS)
    away = np.empty(DIMENSIONS)
    meets_images = abs(at[0]) < radius and abs(at[1]) < radius
    variance = 0.0
    for k in range(first, last):
        weight = _weight(near.places[k], at, 1.0, radius, away)
        if weight == 0.0 or near.roll[k] == left_out:
            continue
        for d in range(DIMENSIONS):
            away[d] *= tilt[d]
        weight *= 1.0 - away.sum()
        sums[near.leave[k]] += weight
        variance += weight * weight
        if meets_images:
            image = _weight(near.places[k], at, -1.0, radius, away)
            for d in range(DIMENSIONS):
                away[d] *= tilt[d]
            variance += weight * image * (1.0 - away.sum())
    return variance


@njit(cache=True, error_model="numpy")
def near_and_wide(near, places, left_out, leaves):  # type: ignore[no-untyped-def]
    """Rolls by leave near each of m places, and in the wider surroundings.

    Parameters
    ----------
    near : Neighbours.
    places : (m, 4) in bandwidths.
    left_out : (m,) index of a roll that does not count at that place, with its image; -1: none.
    leaves : how many kept leaves there are.

    Returns sums of weights (m, leaves), never negative; the effective number of rolls (m,) behind
    them; and shares of the leaves within WIDE bandwidths (m, leaves), or within as many times
    more as it takes to meet a roll.
    """
    count = len(places)
    sums, wide = np.zeros((count, leaves)), np.zeros((count, leaves))
    effective = np.zeros(count)
    for place in range(count):
        variance = _sums_at(near, places[place], 1.0, True, left_out[place], sums[place])
        if variance > 0.0:
            effective[place] = sums[place].sum() ** 2 / variance
        for leave in range(leaves):
            sums[place, leave] = max(0.0, sums[place, leave])
        radius, met = WIDE, 0.0
        while met == 0.0:
            _sums_at(near, places[place], radius, False, left_out[place], wide[place])
            met = wide[place].sum()
            radius *= 2.0
        wide[place] /= met
    return sums, effective, wide
