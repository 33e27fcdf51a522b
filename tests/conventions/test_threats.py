"""docs/threats.md: every threat names what stops it and a test that is there."""

from __future__ import annotations

import re

import pytest

from conventions.test_promises import names_in
from source_tree import DOCS, ROOT

PAGE = (DOCS / "threats.md").read_text("utf-8")
LINE = re.compile(r"^\| (.+?) \| (.+?) \| `([^`|]+)` \|$", re.MULTILINE)
THREATS = LINE.findall(PAGE)
HEAD = "| threat | stopped by | test |"
ATTACKERS = [
    "Somebody on the same network", "A web page open in the same browser",
    "A file from a stranger", "A stolen phone or laptop", "Another account, a coach, a guest",
    "A dependency",
]  # fmt: skip


def part(heading):
    """What stands under a heading."""
    return PAGE.partition(f"\n## {heading}\n")[2].partition("\n## ")[0]


@pytest.mark.parametrize("attacker", ATTACKERS)
def test_every_attacker_has_threats_and_each_line_a_test(attacker):
    rows = [line for line in part(attacker).splitlines() if line.startswith("| ")]
    assert rows[0] == HEAD
    assert len(LINE.findall(part(attacker))) == len(rows) - 1 >= 4


@pytest.mark.parametrize("test", sorted({test for *_, test in THREATS}))
def test_the_test_that_stops_a_threat_is_there(test):
    file, _, name = test.partition("::")
    assert name in names_in(file)


def test_what_is_not_defended_is_said():
    assert part("Not defended").count("\n- **") >= 5


def test_holes_are_reported_in_private():
    told = (ROOT / "SECURITY.md").read_text("utf-8")
    for needed in ("Report a vulnerability", "## Supported versions", "docs/threats.md"):
        assert needed in told
