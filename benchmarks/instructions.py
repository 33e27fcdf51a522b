"""Which instructions a compiled loop does its arithmetic with, read from its assembly."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from typing import Any

import numpy as np
from numba import njit, types

from nextpair.kernel import batch

FLOATS = types.float32[::1]
STEP_TYPES = (FLOATS, FLOATS, types.int32, types.float32, types.float32, types.int64, types.none)
"""Types with which the kernel's inner loop, batch._advance, is called on level bodies."""
SETS = {"zmm": "avx512", "ymm": "avx2", "xmm": "sse", "v.4s": "neon"}
"""Instruction set of each kind of vector register, widest first."""

_X86 = re.compile(
    r"\s+v?(?:add|sub|mul|div|max|min|sqrt|rsqrt|rcp|fn?m(?:add|sub)\d+)(?:14)?([ps])s\s(.*)"
)
_ARM = re.compile(
    r"\s+f(?:n?m(?:ul|la|ls|add|sub)|add|sub|div|max|min|sqrt|recp[es]|rsqrt[es])\w*(\.4s)?\s(.*)"
)
_LABEL = re.compile(r"^\S+:.*$", re.MULTILINE)
_CALLS = re.compile(r"\b(?:sqrt|exp|exp2|pow|sin|cos|log)f?\b")


def assembly(function: Callable[..., object], argument_types: tuple[Any, ...]) -> str:
    """Assembly of a function compiled now with the kernel's settings; what is kept has none."""
    fresh = njit(**{**batch.SETTINGS, "cache": False})(function)
    fresh.compile(argument_types)
    return "\n".join(fresh.inspect_asm().values())


def step_assembly() -> str:
    """Assembly of the kernel's inner loop over the shots of a block."""
    return assembly(batch._advance.py_func, STEP_TYPES)


def arithmetic(text: str) -> Counter[str]:
    """How many float32 instructions work on each kind of vector; `one` for a single number."""
    count: Counter[str] = Counter()
    for line in text.splitlines():
        if found := _X86.match(line):
            widest = next(kind for kind in ("zmm", "ymm", "xmm") if kind in found[2] + " xmm")
            count[widest if found[1] == "p" else "one"] += 1
        elif found := _ARM.match(line):
            count["v.4s" if found[1] or ".4s" in found[2] else "one"] += 1
    return count


def main_loop(text: str) -> Counter[str]:
    """The same for the stretch between two labels that holds the most vector arithmetic: the loop
    over whole vectors, without the loops over what is left."""
    stretches = [arithmetic(stretch) for stretch in _LABEL.split(text)]
    return max(stretches, key=lambda count: count.total() - count["one"])


def calls(text: str) -> set[str]:
    """Mathematical functions that are called, a number at a time."""
    return set(_CALLS.findall(text))


def widest(count: Counter[str]) -> str:
    """The widest kind of vector in use, or `one`."""
    return next((kind for kind in SETS if count[kind]), "one")


def widest_of_this_cpu() -> str:
    """The kind of vector that the compiler takes on this CPU where nothing is in the way."""
    return widest(arithmetic(assembly(_scaled, (FLOATS, FLOATS, types.float32))))


def _scaled(numbers, out, factor):  # type: ignore[no-untyped-def]
    for place in range(len(numbers)):
        out[place] = numbers[place] * factor + np.float32(1.0)
