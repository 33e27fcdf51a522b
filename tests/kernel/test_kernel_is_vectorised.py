"""The kernel's inner loop in vector instructions: read from the assembly of a fresh compilation.

One call or one store in the wrong place makes the compiler fall back to a shot at a time, without
a word and four times slower. Source: [kernel-notes] "Numba facts".
"""

from __future__ import annotations

import numpy as np
import pytest
from benchmarks import instructions
from numba import config
from numba.core.codegen import get_host_cpu_features

LEAST_SHARE = {"zmm": 0.95, "ymm": 0.95, "xmm": 0.5, "v.4s": 0.5}
"""Packed arithmetic of all in the loop over whole vectors. Without an instruction that gathers
numbers from a table, what leads to a place on the film is reckoned a shot at a time."""


@pytest.fixture(scope="module")
def step():
    return instructions.step_assembly()


def test_the_arithmetic_of_the_loop_is_packed_in_the_widest_vectors(step):
    loop = instructions.main_loop(step)
    assert loop.total() > 300, "this is not the loop that does the work"
    widest = instructions.widest_of_this_cpu()
    assert loop[widest] / loop.total() > LEAST_SHARE[widest]


def test_the_widest_vectors_are_those_that_this_cpu_offers():
    told = config.CPU_FEATURES
    features = get_host_cpu_features() if told is None else told
    wide = {"zmm", "ymm"} if "+avx" in features.split(",") else {"xmm", "v.4s"}
    assert instructions.widest_of_this_cpu() in wide


def test_roots_and_exponentials_are_not_called_a_shot_at_a_time(step):
    assert instructions.calls(step) == set()


def test_a_loop_that_cannot_be_vectorised_is_seen_as_such():
    def running_sum(numbers, out, factor):
        total = np.float32(0.0)
        for place in range(len(numbers)):
            total = np.float32(np.exp(total)) * factor + numbers[place]
            out[place] = total

    floats = instructions.FLOATS
    text = instructions.assembly(running_sum, (floats, floats, instructions.types.float32))
    assert instructions.widest(instructions.arithmetic(text)) == "one"
    assert instructions.calls(text)
