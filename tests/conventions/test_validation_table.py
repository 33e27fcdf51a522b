"""When docs/validation.md still says what the tests found, and when it is stale."""

from __future__ import annotations

from pathlib import Path

import pytest
from tools.validation import same_table

from source_tree import DOCS

ROW = "| 20 shots | deviation of dry_log | 0.141 | 0.0424264 | 0.151 | closed form |"


def told(**cells: str) -> str:
    """The row with other cells."""
    names = ("what", "quantity", "expected", "tolerance", "achieved", "source")
    old = ROW.strip("| ").split(" | ")
    assert cells.keys() <= set(names)
    return (
        f"| {' | '.join(cells.get(name, cell) for name, cell in zip(names, old, strict=True))} |"
    )


def test_a_table_says_what_it_says():
    table = Path(DOCS / "validation.md").read_text("utf-8")
    assert same_table(table, table)


@pytest.mark.parametrize(
    "cells",
    [{"achieved": "0.159"}, {"achieved": "0.143"}, {"tolerance": "0.0424261"}],
    ids=str,
)
def test_a_number_that_another_processor_rounds_otherwise_is_no_news(cells):
    assert same_table(ROW, told(**cells))


@pytest.mark.parametrize(
    "cells",
    [
        {"achieved": "0.160"},
        {"achieved": "0.142"},
        {"achieved": "nan"},
        {"tolerance": "0.0425"},
        {"expected": "0.142"},
        {"what": "21 shots"},
        {"quantity": "deviation of longer_m"},
        {"source": "SciPy"},
        {"source": "closed form | more"},
    ],
    ids=str,
)
def test_anything_else_makes_the_table_stale(cells):
    assert not same_table(ROW, told(**cells))


def test_a_row_more_or_less_makes_it_stale():
    assert not same_table(ROW, f"{ROW}\n{ROW}")
