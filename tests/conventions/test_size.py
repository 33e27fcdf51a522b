"""Modules and functions stay small enough to read in one go."""

from __future__ import annotations

import pytest

from source_tree import PACKAGE, ROOT, functions, python_files, shown

LONGEST_MODULE = 400
LONGEST_TEST_MODULE = 600
LONGEST_FUNCTION = 60


@pytest.mark.parametrize(
    ("folder", "longest"),
    [
        (PACKAGE, LONGEST_MODULE),
        (ROOT / "tools", LONGEST_MODULE),
        (ROOT / "tests", LONGEST_TEST_MODULE),
        (ROOT / "benchmarks", LONGEST_TEST_MODULE),
    ],
    ids=lambda value: getattr(value, "name", str(value)),
)
def test_no_module_is_too_long(folder, longest):
    lines = {
        shown(path): len(path.read_text("utf-8").splitlines()) for path in python_files(folder)
    }
    assert {name: count for name, count in lines.items() if count > longest} == {}


def test_no_function_is_too_long():
    lengths = {
        f"{shown(path)}::{function.name}": (function.end_lineno or 0) - function.lineno + 1
        for path in python_files(PACKAGE)
        for function in functions(path)
    }
    assert lengths, "no function found: the test looks in the wrong place"
    assert {name: count for name, count in lengths.items() if count > LONGEST_FUNCTION} == {}
