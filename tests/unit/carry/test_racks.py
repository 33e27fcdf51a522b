"""From counted racks to a table: nothing is lost on the way."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.carry.racks import kept_leaves, pooled, smoothed
from nextpair.scoring.leaves import FULL_RACK, parse_leave, pin_count


def counted(**racks: int) -> np.ndarray:
    """One cell's counts by leave, named as p_2_4 for 2-4 and `strike` for none."""
    counts = np.zeros((1, 1, 1, 1, FULL_RACK + 1), np.uint16)
    for name, count in racks.items():
        leave = 0 if name == "strike" else parse_leave(name[2:].replace("_", "-"))
        counts[..., leave] = count
    return counts


def test_the_commonest_leaves_are_kept_with_strike_and_full_rack():
    counts = counted(p_10=50, p_7=40, p_4_9=3, strike=1)
    kept = kept_leaves(counts, kept=4).tolist()
    assert kept == [0, parse_leave("7"), parse_leave("10"), FULL_RACK]


def test_a_rare_leave_counts_as_the_most_alike_of_its_size():
    counts = counted(p_6_10=50, p_4_7=50, p_6_9=2)
    leaves = np.array([0, parse_leave("4-7"), parse_leave("6-10"), FULL_RACK])
    assert pooled(counts, leaves)[0, 0, 0, 0].tolist() == [0, 50, 52, 0]


def test_pooling_loses_no_rack_and_no_pin():
    rng = np.random.default_rng(1)
    counts = rng.integers(0, 3, (1, 4, 3, 2, FULL_RACK + 1)).astype(np.uint16)
    leaves = kept_leaves(counts, kept=300)
    moved = pooled(counts, leaves)
    pins = np.array([pin_count(leave) for leave in range(FULL_RACK + 1)])
    kept_pins = np.array([pin_count(int(leave)) for leave in leaves])
    assert moved.sum(axis=-1) == pytest.approx(counts.sum(axis=-1))
    assert moved @ kept_pins == pytest.approx(counts @ pins)


def test_smoothing_keeps_every_cell_a_distribution_and_spreads_a_lone_peak():
    counts = np.zeros((1, 7, 5, 1, 2))
    counts[..., 0] = 10.0
    counts[0, 3, 2, 0] = (0.0, 10.0)
    chances = smoothed(counts)
    assert chances.sum(axis=-1) == pytest.approx(np.ones((1, 7, 5, 1)))
    peak, beside, corner = chances[0, 3, 2, 0, 1], chances[0, 2, 2, 0, 1], chances[0, 0, 0, 0, 1]
    assert 1.0 > peak > beside > corner
    assert chances[0, 2, 2, 0, 1] == pytest.approx(chances[0, 4, 2, 0, 1])
