"""The cases that hold the phone's sums to the program's are what the program tells now."""

from __future__ import annotations

import json
from typing import Any

import pytest
from tools import game_cases, standing_cases

TOLERANCE = 1e-3  # far under what the phone's sums are held to


@pytest.mark.parametrize("tool", [standing_cases, game_cases], ids=lambda tool: tool.__name__)
def test_the_cases_are_up_to_date(tool: Any) -> None:
    written = json.loads(tool.TARGET_FILE.read_text("utf-8"))
    now = json.loads(json.dumps(tool.cases()))
    assert len(written) == len(now)
    for one, told in zip(now, written, strict=True):
        assert flat(one) == pytest.approx(flat(told), abs=TOLERANCE)


def flat(value: Any, at: str = "") -> dict[str, Any]:
    """Every number and word by its place."""
    if isinstance(value, dict | list):
        inner = value.items() if isinstance(value, dict) else enumerate(value)
        parts = (flat(item, f"{at}/{key}") for key, item in inner)
        return {place: one for part in parts for place, one in part.items()}
    return {at: value}
