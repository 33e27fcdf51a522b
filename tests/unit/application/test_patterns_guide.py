"""The worked example of docs/guide/patterns.md is what the commands print, line for line."""

from __future__ import annotations

import contextlib
import io
import re

import pytest

from event_folder import DEMO
from nextpair.application.pattern_book import MOST_RELATIVES, NEAR_FT
from nextpair.cli.main import exit_code
from nextpair.domain.condition_chart import LENGTH_EDGES_FT, VOLUME_EDGES_ML
from nextpair.planning.film_distance import FELT_UNITS, FT_PER_BOARD, FT_PER_ML
from source_tree import DOCS

GUIDE = (DOCS / "guide" / "patterns.md").read_text("utf-8")
PARAGRAPH = " ".join(GUIDE.split())
EXAMPLES = re.findall(r"(?:^(?:    .*)?\n)+", GUIDE, re.MULTILINE)


@pytest.fixture(scope="module")
def printed(tmp_path_factory):
    """What the commands of the guide print on a terminal of 80 columns, one after the other."""
    data = str(tmp_path_factory.mktemp("patterns") / "data")
    told = io.StringIO()
    commands = (
        ["import", str(DEMO / "event.toml")],
        ["similar", "Winter Quay 43"],
        ["conditions"],
    )
    with pytest.MonkeyPatch.context() as patch, contextlib.redirect_stdout(told):
        patch.setenv("COLUMNS", "80")
        for words in commands:
            assert exit_code([*words, "--data-dir", data]) == 0
    return told.getvalue()


def test_every_example_is_what_is_printed(printed):
    shown = [example for example in EXAMPLES if example.strip() and "PATTERN" not in example]
    assert len(shown) == 3
    for example in shown:
        lines = [line[4:] for line in example.strip("\n").splitlines()]
        assert "\n".join(lines) in printed


def test_its_numbers_are_the_programs():
    assert f"Up to {NEAR_FT:g} ft is near" in PARAGRAPH
    assert (MOST_RELATIVES, FELT_UNITS, FT_PER_BOARD, FT_PER_ML) == (5, 3.0, 0.5, 0.1)
    for words in ("the nearest five", "Three units", "half a foot for each *board*", "a tenth of"):
        assert words in PARAGRAPH
    for edges, unit in ((LENGTH_EDGES_FT, "ft"), (VOLUME_EDGES_ML, "mL")):
        low, high = (f"{edge:g} {unit}" for edge in edges)
        for told in (f"under {low}", f"{edges[0]:g} to {high}", f"{high} and more"):
            assert told in PARAGRAPH
