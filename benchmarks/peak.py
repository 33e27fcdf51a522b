"""How much float32 arithmetic one core can do: fused multiply-adds that wait for nothing."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

ACCUMULATORS = 12
"""More than any core of today has multiply-adds under way, and few enough for 16 registers."""
ROUNDS = 64
NUMBERS = 1024

FUSED = {"contract"}
"""Multiply and add in one, but reckon everything: nothing may be taken together."""
_INLINE = {"fastmath": FUSED, "forceinline": True}


@njit(**_INLINE)
def _once(a, x, c):
    return (
        a[0] * x + c, a[1] * x + c, a[2] * x + c, a[3] * x + c, a[4] * x + c, a[5] * x + c,
        a[6] * x + c, a[7] * x + c, a[8] * x + c, a[9] * x + c, a[10] * x + c, a[11] * x + c,
    )  # fmt: skip


@njit(**_INLINE)
def _four_times(a, x, c):
    return _once(_once(_once(_once(a, x, c), x, c), x, c), x, c)


@njit(**_INLINE)
def _sixteen_times(a, x, c):
    return _four_times(_four_times(_four_times(_four_times(a, x, c), x, c), x, c), x, c)


@njit(**_INLINE)
def _all_rounds(a, x, c):
    return _sixteen_times(
        _sixteen_times(_sixteen_times(_sixteen_times(a, x, c), x, c), x, c), x, c
    )


@njit(fastmath=FUSED, error_model="numpy")
def _multiply_and_add(numbers, out, c, times):
    for _ in range(times):
        for place in range(len(numbers)):
            x = numbers[place]
            a = (
                x, x + c, x - c, x * c, c, -x, -c, x * x, c * c, x + x, c + c, x - x * c,
            )  # fmt: skip
            a = _all_rounds(a, x, c)
            out[place] += (
                a[0] + a[1] + a[2] + a[3] + a[4] + a[5]
                + a[6] + a[7] + a[8] + a[9] + a[10] + a[11]
            )  # fmt: skip


class Peak:
    """A lot of multiply-adds, a vector of numbers in each of twelve accumulators."""

    def __init__(self, times: int) -> None:
        self.times = times
        self.numbers: NDArray[np.float32] = np.linspace(0.1, 0.9, NUMBERS, dtype=np.float32)
        self.out = np.zeros(NUMBERS, np.float32)

    def __call__(self) -> None:
        _multiply_and_add(self.numbers, self.out, np.float32(0.3), self.times)

    @property
    def gflop(self) -> float:
        """Thousand millions of multiplications and additions in one call."""
        return 2e-9 * ACCUMULATORS * ROUNDS * NUMBERS * self.times
