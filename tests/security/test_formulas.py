"""Names that a spreadsheet would compute, in the CSV files that nextpair writes."""

from __future__ import annotations

import csv
import io
import re
from pathlib import PurePath

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from nextpair.domain.field_score import FieldScore
from nextpair.files.csv_file import csv_text, read_rows
from nextpair.files.folder import Memory
from nextpair.files.intake import Intake, Source
from nextpair.files.scores_file import scores_text

BEGINS_A_FORMULA = tuple("=+-@\t\r＝＋－＠")
"""Source: OWASP, CSV Injection: equals, plus, minus, at, tab, carriage return, and the full-width
forms; from memory."""
SEPARATORS = ",;\t"
HOSTILE = st.text(alphabet="=+-@＝＋－＠;,\t'\" \nA1(.", min_size=1, max_size=12).filter(str.strip)
COMMAND = "=cmd|' /C calc'!A0"


def cells_of(text, separator):
    """What a spreadsheet that parts cells so makes of the file, without the blanks in front."""
    records = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    return [cell.lstrip(" ") for record in records for cell in record]


def read_again(text, columns):
    source = Source.first(PurePath("names.csv"), folder=Memory({"names.csv": text}))
    intake = Intake()
    rows = [row.cells for row in read_rows(source, columns, intake)]
    return rows, intake.problems


@given(HOSTILE)
@example(COMMAND)
@example(f"Ada;{COMMAND}")
@example("'=1+1")
@example(";\t=1")
@settings(max_examples=300, deadline=None)
def test_no_name_is_a_formula_wherever_it_is_opened_and_each_is_read_as_it_was(name):
    text = csv_text(("name", "hand"), [{"name": name, "hand": "right"}])
    for separator in SEPARATORS:
        for cell in cells_of(text, separator):
            is_number = re.match(r"[+-]?\d+(?:[.,]\d+)?(?:,|$)", cell, re.ASCII)
            assert is_number or not cell.startswith(BEGINS_A_FORMULA), (separator, cell)
    rows, problems = read_again(text, ("name", "hand"))
    assert not problems
    assert [row["name"].strip() for row in rows] == [name.strip()]


@pytest.mark.parametrize("number", [-1.5, -2, "-2.5", "-1e-05", "+3"])
def test_a_number_with_a_sign_stays_a_number(number):
    text = csv_text(("launch_angle_deg",), [{"launch_angle_deg": number}])
    assert float(text.splitlines()[1]) == float(number)


def test_a_hostile_name_among_scores_is_told_as_text():
    text = scores_text([FieldScore(COMMAND, 1, 200, 0)])
    assert f"'{COMMAND}" in text
