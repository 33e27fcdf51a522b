"""Tables that are written are read as they were, by this program and by any other."""

from __future__ import annotations

import csv
import io
from pathlib import PurePath

from hypothesis import example, given, settings
from hypothesis import strategies as st

from nextpair.files.csv_file import csv_text, read_rows
from nextpair.files.folder import Memory
from nextpair.files.intake import Intake, Source
from nextpair.files.spreadsheet import as_told, plain_spaces

COLUMNS = ("name", "note", "hand")
PARTS = ("\r", "\n", "\r\n", '"', ",", ";", "\t", "'", "=", " ", "\ufeff", "\u2028", "\x85", "\0")
"""What parts records, cells or lines somewhere, or stands for it."""
CELLS = st.lists(st.sampled_from(PARTS) | st.characters(exclude_categories=["Cs"])).map("".join)


@given(CELLS, CELLS)
@example("Ada\rQuill", "early\rlate")
@example("\r", '"\r"')
@example('"\r\ufeff', "'\ufeff=")
@settings(max_examples=300, deadline=None)
def test_a_cell_is_read_as_it_was_whatever_is_in_it(name, note):
    told = {"name": name, "note": note, "hand": "right"}
    plain = {key: plain_spaces(cell).strip() for key, cell in told.items()}
    text = csv_text(COLUMNS, [told, told])
    # As RFC 4180 has it, read by Python's reader, to which either half of a line end is one.
    header, *records = csv.reader(io.StringIO(text, newline=""), strict=True)
    assert header == list(COLUMNS)
    assert [[as_told(cell) for cell in record] for record in records] == [[*plain.values()]] * 2
    intake = Intake()
    source = Source.first(PurePath("table.csv"), Memory({"table.csv": text}))
    rows = [row.cells for row in read_rows(source, COLUMNS, intake)]
    assert not intake.problems
    assert rows == [{key: cell for key, cell in plain.items() if cell}] * 2
