"""What is fuzzed: a name, a strategy of cases, and what is done with one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from hypothesis import strategies as st


@dataclass(frozen=True, slots=True)
class Target:
    """cases : a strategy of what JSON and bytes can say. run : refuses a case by a NextpairError,
    and tells what else is wrong with the answer by a FaultError. weight : its share of all
    cases. ready : what a process does once before its first case, off the clock. is_parser :
    whether mere bytes are a case, so that a fuzzer that watches which lines run can make them."""

    name: str
    cases: Callable[[], st.SearchStrategy[Any]]
    run: Callable[[Any], None]
    weight: int = 4
    ready: Callable[[], object] = bool
    is_parser: bool = False
