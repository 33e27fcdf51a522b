"""docs/promises.md: every promise has a test that is there, every test of a fault is promised."""

from __future__ import annotations

import ast
import re

import pytest

from source_tree import DOCS, ROOT, python_files

PAGE = (DOCS / "promises.md").read_text("utf-8")
LINE = re.compile(r"^\| (.+?) \| `([^`|]+)` \|$", re.MULTILINE)
PROMISES = LINE.findall(PAGE)
HEADINGS = ["Kept", "Never told to others", "Shared stores", "Batches", "Versions"]


def names_in(file: str) -> set[str]:
    """The names of a file's tests."""
    parsed = ast.parse((ROOT / file).read_text("utf-8"))
    return {
        one.name
        for one in ast.walk(parsed)
        if isinstance(one, ast.FunctionDef) and one.name.startswith("test_")
    }


def test_every_line_of_a_table_is_a_promise_with_a_test():
    rows = [line for line in PAGE.splitlines() if line.startswith("| ")]
    assert len(rows) - rows.count("| promise | test |") == len(PROMISES) > 30


def test_promises_stand_under_their_headings():
    assert set(HEADINGS) <= set(re.findall(r"^## (.+)$", PAGE, re.MULTILINE))


@pytest.mark.parametrize("test", sorted({test for _, test in PROMISES}))
def test_the_test_of_a_promise_is_there(test):
    file, _, name = test.partition("::")
    assert name in names_in(file)


def test_every_test_of_a_fault_is_promised():
    there = {
        f"{path.relative_to(ROOT)}::{name}"
        for path in python_files(ROOT / "tests" / "faults")
        for name in names_in(str(path.relative_to(ROOT)))
    }
    assert there - {test for _, test in PROMISES} == set()
