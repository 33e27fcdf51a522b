"""The pages say numbers and moves in the sheet's own words: one list of cases holds both, this
test the program, frontend/shared/words.test.ts the pages."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from nextpair.domain.sheet import EntryCard, LineCard, MoveCard
from nextpair.reports import wording

CASES = json.loads(
    (Path(__file__).parents[2] / "frontend" / "shared" / "words.cases.json").read_text("utf-8")
)
PLAIN = LineCard(24.5, 31.0, 17.2, 2.4, 9.1, 42.4, 12.6, 17.6)
THINGS: dict[str, Any] = {
    "LINE": PLAIN,
    "SOFTER": LineCard(24.5, 31.0, 17.2, 2.4, 9.1, 42.4, 12.6, 17.1, -0.5, 10.0),
    "ENTRY": EntryCard(2.4, 4.9, 15.1),
    "HIGH": EntryCard(-0.6, 4.9, 15.1),
    "MOVE": MoveCard(3.0, 2.0, False, "3-for-2"),
    "SMALL": MoveCard(0.1, 0.0, False),
}


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['says']}-{case['words']}")
def test_the_program_says_it_as_the_pages_do(case: dict[str, Any]) -> None:
    say = getattr(wording, case["says"])
    given = (THINGS.get(part, part) if isinstance(part, str) else part for part in case["of"])
    assert say(*given) == case["words"]
