"""The guide's pictures and table of carry are those of the table that ships."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from nextpair.application.carry_map import carry_map
from nextpair.reports.carry_figure import ladder_figure, strike_map_figure
from nextpair.reports.carry_text import render_carry_text
from source_tree import DOCS, ROOT

AGAIN = "the carry table moved: `make carry` draws the guide's page again"
CARRY = carry_map()


def words(drawn: str) -> list[str]:
    return [element.text or "" for element in ET.fromstring(drawn).iter() if element.text]


@pytest.mark.parametrize(
    ("name", "drawn"),
    [("carry-strikes", strike_map_figure(CARRY)), ("carry-leaves", ladder_figure(CARRY))],
    ids=["strikes", "leaves"],
)
def test_a_picture_of_the_guide_tells_what_the_table_says(name, drawn):
    kept = (DOCS / "img" / f"{name}.svg").read_text("utf-8")
    assert words(kept) == words(drawn), AGAIN


def test_the_guide_prints_what_the_command_prints():
    page = (DOCS / "guide" / "carry.md").read_text("utf-8")
    (printed,) = re.findall(r"^```text\n(.*?)```$", page, re.DOTALL | re.MULTILINE)
    assert printed == render_carry_text(CARRY, 88), AGAIN


def test_the_guides_own_words_quote_no_chance():
    """Numbers of the table stand only where they are generated."""
    page = (DOCS / "guide" / "carry.md").read_text("utf-8")
    told = re.sub(r"<!-- CARRY TABLE.*?<!-- END OF CARRY TABLE -->", "", page, flags=re.DOTALL)
    own, published = told.split("## What is published beside it")
    assert re.findall(r"\d\s*(?:%|percent)", own) == []
    assert "90 %" in published


def test_the_pictures_are_drawn_by_make():
    makefile = (ROOT / "Makefile").read_text("utf-8")
    for target in ("readme", "carry"):
        (recipe,) = re.findall(rf"^{target}:.*\n((?:\t.*\n)+)", makefile, re.MULTILINE)
        assert "tools/carry_picture.py" in recipe
