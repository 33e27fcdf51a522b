"""Which hits are simulated: points of a sequence that fills the ranges evenly at any length.

Any first n points are a fair design, so a run can stop, go on and be made longer.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from nextpair.carry.deck import PIN_X_M, PIN_Y_M, FloatArray
from nextpair.carry.rolls import Rolls
from nextpair.domain.ball import CONTACT_M
from nextpair.domain.lane import BOARD_M, BOARDS
from nextpair.domain.units import DEGREE_RAD, MPH_MPS, POUND_KG
from nextpair.scoring.leaves import (
    FULL_RACK,
    mirrored_leave,
    parse_leave,
    pin_count,
    standing_pins,
)

Ranges = Sequence[tuple[float, float]]
"""Value and the share of the points below it, ascending."""

Leaves = list[tuple[int, int]]
"""Leaves to shoot at, each with the number of balls it gets."""

OFFSETS_BOARDS: Ranges = (
    (-20.0, 0.0),
    (-8.0, 0.12),
    (0.5, 0.34),
    (5.5, 0.76),
    (8.0, 0.88),
    (20.0, 1.0),
)
ANGLES_DEG: Ranges = ((0.0, 0.0), (1.5, 0.15), (7.0, 0.85), (9.0, 1.0))
SPEEDS_MPH: Ranges = ((13.0, 0.0), (20.0, 1.0))
WEIGHTS_LB: Ranges = ((12.0, 0.0), (14.0, 0.3), (16.0, 1.0))
ROLL_SHARES: Ranges = ((0.75, 0.0), (1.0, 1.0))
SIDE_ROTATIONS_RADPS: Ranges = ((0.0, 0.0), (12.0, 1.0))
SPARE_ANGLES_DEG: Ranges = ((-3.0, 0.0), (8.0, 1.0))
FEW_PINS = 3
"""Every leave of so few pins is shot at, whether racks left it or not."""
NAMED_LEAVES = (
    "2-4-5-8", "2-4-7-8", "1-2-4-7", "1-2-4-10", "1-2-8-10", "1-2-4-8", "1-2-4-7-8", "2-4-5-7-8",
    "3-4-6-7", "4-6-7-10", "4-6-7-9-10", "3-4-6-7-10", "3-4-6-7-9-10", "4-7-9-10", "4-6-7-8-10",
    "4-7-8-10", "2-4-6-10", "1-2-4-6-10", "1-2-6-10",
)  # fmt: skip
"""Leaves of more pins that have a name or are talked about. Common practice, from memory."""
RARE_HITS = 64
LAST_OFFSET_BOARDS = 0.5 * BOARDS
"""Beyond it a ball is in the gutter."""


def rack_hits(first: int, count: int) -> Rolls:
    """Hits `first` to `first + count` at full racks; what they leave is not filled in.

    The pocket of a right-hander gets the most, balls that miss the head pin by far the least.
    Negative angles follow in the mirror.
    """
    shares = _sequence(first, count, 6)
    return _hits(
        _at(OFFSETS_BOARDS, shares[:, 0]),
        _at(ANGLES_DEG, shares[:, 1]),
        shares[:, 2:],
        np.full(count, FULL_RACK, np.uint16),
    )


def spare_hits(rounds: Sequence[Leaves], first: int, count: int) -> Rolls:
    """Hits `first` to `first + count` at the leaves of one round after the other.

    A ball comes at whatever angle a spare ball or a hooking one does, anywhere that it can touch
    a pin of the leave.
    """
    order = np.concatenate([_mixed(leaves) for leaves in rounds])
    spotted = order[(first + np.arange(count)) % len(order)]
    shares = _sequence(first, count, 6)
    angle_deg = _at(SPARE_ANGLES_DEG, shares[:, 1])
    lowest, highest = _reach_boards(spotted, angle_deg)
    offset_boards = lowest + shares[:, 0] * (highest - lowest)
    return _hits(offset_boards, angle_deg, shares[:, 2:], spotted.astype(np.uint16))


def leaves_that_occur(standing: NDArray[np.uint16], hits: int) -> Leaves:
    """Leaves of two pins and more that occur among racks, with their share of `hits`.

    A leave and its mirror image are one. Each gets the same number and as much again by the root
    of how often it occurs.
    """
    canonical = [min(int(mask), mirrored_leave(int(mask))) for mask in standing]
    masks, times = np.unique(canonical, return_counts=True)
    several = np.array([pin_count(int(mask)) > 1 for mask in masks])
    masks, times = masks[several], times[several]
    weight = 0.5 / len(masks) + 0.5 * np.sqrt(times) / np.sqrt(times).sum()
    return [
        (int(mask), int(share)) for mask, share in zip(masks, np.ceil(weight * hits), strict=True)
    ]


def other_leaves(besides: Leaves) -> Leaves:
    """Every other leave of two and three pins and those that have a name, a few hits each."""
    known = {mask for mask, _ in besides}
    few = {mask for mask in range(FULL_RACK) if 2 <= pin_count(mask) <= FEW_PINS}
    wanted = few | {parse_leave(leave) for leave in NAMED_LEAVES}
    once = {min(mask, mirrored_leave(mask)) for mask in wanted}
    return [(mask, RARE_HITS) for mask in sorted(once - known)]


def _mixed(leaves: Leaves) -> NDArray[np.int64]:
    """The leaves as often as each is shot at, in an order that mixes them."""
    masks = np.repeat([mask for mask, _ in leaves], [hits for _, hits in leaves])
    mixed: NDArray[np.int64] = masks[np.arange(len(masks)) * _stride(len(masks)) % len(masks)]
    return mixed


def _hits(
    offset_boards: FloatArray,
    angle_deg: FloatArray,
    shares: FloatArray,
    spotted: NDArray[np.uint16],
) -> Rolls:
    count = len(offset_boards)
    return Rolls(
        offset_boards=offset_boards,
        angle_deg=angle_deg,
        speed_mps=_at(SPEEDS_MPH, shares[:, 0]) * MPH_MPS,
        ball_kg=_at(WEIGHTS_LB, shares[:, 1]) * POUND_KG,
        roll_share=_at(ROLL_SHARES, shares[:, 2]),
        side_rotation_radps=_at(SIDE_ROTATIONS_RADPS, shares[:, 3]),
        spotted=spotted,
        standing=spotted.copy(),
        exit_x_m=np.full(count, np.nan),
    )


def _at(ranges: Ranges, shares: FloatArray) -> FloatArray:
    values, below = zip(*ranges, strict=True)
    return np.interp(shares, below, values)


def _sequence(first: int, count: int, dimensions: int) -> FloatArray:
    """Points (count, dimensions) of the unit cube: multiples of powers of a root, less their whole
    part. Source: [roberts-2018], the root of x^(d+1) = x + 1."""
    root = 1.5
    for _ in range(64):
        root = (1.0 + root) ** (1.0 / (dimensions + 1))
    powers = root ** -np.arange(1.0, dimensions + 1)
    points: FloatArray = (0.5 + np.outer(first + np.arange(1, count + 1), powers)) % 1.0
    return points


def _stride(count: int) -> int:
    """A step without common divisor that visits every place of `count` far apart."""
    step = max(1, round(0.6180339887 * count))
    while math.gcd(step, count) > 1:
        step += 1
    return step


def _reach_boards(
    spotted: NDArray[np.int64], angle_deg: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Offsets between which a ball at that angle can touch a pin of the leave."""
    lowest, highest = np.empty(len(spotted)), np.empty(len(spotted))
    slope = np.tan(angle_deg * DEGREE_RAD)
    for mask in np.unique(spotted):
        here = spotted == mask
        pins = np.array(standing_pins(int(mask))) - 1
        level = PIN_X_M[pins] + np.outer(slope[here], PIN_Y_M[pins])
        lowest[here] = (level.min(axis=1) - CONTACT_M) / BOARD_M
        highest[here] = (level.max(axis=1) + CONTACT_M) / BOARD_M
    limit = LAST_OFFSET_BOARDS
    return np.clip(lowest, -limit, limit), np.clip(highest, -limit, limit)
