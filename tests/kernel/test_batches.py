"""A shot's path is its own: who is thrown beside it, and on how many threads, changes nothing."""

from __future__ import annotations

from dataclasses import fields

import numba
import numpy as np
import pytest

from nextpair.domain.lane import BOARD_M
from nextpair.kernel.layout import Shots
from nextpair.kernel.roll import roll
from reference.random_shots import random_batch

SHOTS = 2000
SAME_BOARDS = 1e-3
"""A fiftieth of what the kernel may be off, and far below what anybody can see."""


@pytest.fixture(scope="module")
def batch():
    lanes, bodies, shots = random_batch(SHOTS)
    return lanes, bodies, shots, roll(lanes, bodies, shots)


def some(shots: Shots, chosen) -> Shots:
    return Shots(**{field.name: getattr(shots, field.name)[chosen] for field in fields(Shots)})


def assert_same(paths, others) -> None:
    np.testing.assert_allclose(paths.x_m, others, rtol=0, atol=SAME_BOARDS * BOARD_M)


def test_the_order_of_shots_does_not_matter(batch):
    lanes, bodies, shots, paths = batch
    order = np.random.default_rng(1).permutation(SHOTS)
    assert_same(roll(lanes, bodies, some(shots, order)), paths.x_m[order])


@pytest.mark.parametrize("size", [1, 3, 63, 64, 65, 127, 1000])
def test_the_size_of_a_batch_does_not_matter(batch, size):
    lanes, bodies, shots, paths = batch
    chosen = np.random.default_rng(size).permutation(SHOTS)[:size]
    assert_same(roll(lanes, bodies, some(shots, chosen)), paths.x_m[chosen])


@pytest.mark.skipif(numba.config.NUMBA_NUM_THREADS < 2, reason="one core only")
def test_the_number_of_threads_does_not_matter(batch):
    lanes, bodies, shots, paths = batch
    before = numba.get_num_threads()
    rolled = []
    for threads in (1, 2):
        numba.set_num_threads(threads)
        try:
            rolled.append(roll(lanes, bodies, shots))
        finally:
            numba.set_num_threads(before)
    np.testing.assert_array_equal(rolled[0].x_m, rolled[1].x_m)
    assert_same(rolled[0], paths.x_m)
