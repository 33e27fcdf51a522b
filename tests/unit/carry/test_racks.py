"""From counted racks to a table: nothing is lost on the way."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.carry.racks import SMOOTHING_NODES, effective_racks, smoothed


def test_smoothing_keeps_every_cell_a_distribution_and_spreads_a_lone_peak():
    counts = np.zeros((1, 7, 5, 1, 2))
    counts[..., 0] = 10.0
    counts[0, 3, 2, 0] = (0.0, 10.0)
    chances = smoothed(counts)
    assert chances.sum(axis=-1) == pytest.approx(np.ones((1, 7, 5, 1)))
    peak, beside, corner = chances[0, 3, 2, 0, 1], chances[0, 2, 2, 0, 1], chances[0, 0, 0, 0, 1]
    assert 1.0 > peak > beside > corner
    assert chances[0, 2, 2, 0, 1] == pytest.approx(chances[0, 4, 2, 0, 1])


def test_neighbouring_cells_stand_behind_a_smoothed_one():
    rng = np.random.default_rng(3)
    counts = rng.binomial(200, 0.5, (1, 60, 60, 1, 1)).astype(float)
    shares = smoothed(np.concatenate([counts, 200.0 - counts], axis=-1))[0, 4:-4, 4:-4, 0, 0]
    assert SMOOTHING_NODES == (0.5, 0.5)
    # 2,700 cells, every other one apart: their variance is known to 5 %.
    assert 0.25 / shares.var() == pytest.approx(effective_racks(200), rel=0.15)
