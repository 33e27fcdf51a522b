"""What earlier events taught, on every form of a sheet."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from debriefs import A_LESSON
from nextpair.reports.lesson_words import HEADING
from nextpair.reports.sheet_html import render_sheet_html
from nextpair.reports.sheet_json import render_sheet_json
from nextpair.reports.sheet_pdf import _words, render_sheet_pdf
from nextpair.reports.sheet_text import render_sheet_text
from unit.reports.sheet_factory import a_sheet

TOLD = (
    "Take the Slate Weir to 2000. Earlier Open, 12 September 2026: "
    "The Slate Weir read too early on every pair."
)
TAUGHT = replace(a_sheet(games=2), lessons=(A_LESSON,))


def on_paper(sheet) -> str:
    assert render_sheet_pdf(sheet).startswith(b"%PDF-")
    words = _words(sheet)
    return " ".join([words["lessons_heading"] if words["lessons"] else "", *words["lessons"]])


FORMS = {"text": render_sheet_text, "html": render_sheet_html, "pdf": on_paper}


@pytest.mark.parametrize("form", FORMS)
def test_a_sheet_says_what_to_do_otherwise_and_what_taught_it(form):
    told = " ".join(FORMS[form](TAUGHT).split())
    assert TOLD in told
    assert HEADING.casefold() in told.casefold()


@pytest.mark.parametrize("form", FORMS)
def test_a_sheet_without_lessons_says_nothing_of_them(form):
    assert HEADING.casefold() not in FORMS[form](a_sheet(games=2)).casefold()


def test_json_has_the_lesson_by_its_parts():
    (lesson,) = json.loads(render_sheet_json(TAUGHT))["lessons"]
    assert (lesson["event"], lesson["date"]) == ("Earlier Open", "2026-09-12")
    assert (lesson["accepted"], lesson["done"]) == (True, False)
    change = {key: value for key, value in lesson["change"].items() if value is not None}
    assert change == {
        "kind": "surface", "words": "Take the Slate Weir to 2000.", "ball": "Slate Weir",
        "surface_grit": 2000, "many": 1,
    }  # fmt: skip
    assert json.loads(render_sheet_json(a_sheet(games=2)))["lessons"] == []
