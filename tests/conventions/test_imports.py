"""What starts quickly stays quick: no heavy package before a command computes something."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = ("numpy", "numba", "llvmlite", "scipy", "pydantic", "typst")
PROBE = f"""
import sys
try:
    {{action}}
except SystemExit as end:
    assert not end.code, end.code
print(*sorted(set({HEAVY!r}) & set(sys.modules)), file=sys.stderr)
"""


def heavy_packages_after(action: str) -> list[str]:
    run = subprocess.run(
        [sys.executable, "-c", PROBE.format(action=action)],
        capture_output=True,
        text=True,
        check=True,
    )
    return run.stderr.split()


def test_the_probe_sees_a_heavy_package():
    assert heavy_packages_after("import numpy") == ["numpy"]


@pytest.mark.parametrize(
    "action",
    [
        "import nextpair",
        "from nextpair.cli.main import run; sys.argv = ['nextpair', '--help']; run()",
        "from nextpair.cli.main import run; sys.argv = ['nextpair', 'sheet', '--help']; run()",
    ],
    ids=["import", "help", "help of a command"],
)
def test_starting_pulls_in_no_heavy_package(action):
    assert heavy_packages_after(action) == []
