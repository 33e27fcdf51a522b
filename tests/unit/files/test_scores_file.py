"""scores.csv: read whole, or refused with every row that is wrong."""

from __future__ import annotations

import pytest

from nextpair.domain.errors import InputRefusedError
from nextpair.domain.field_score import FieldScore
from nextpair.files import load_scores, scores_text

SCORES = (FieldScore("Ada Quill", 1, 201, 0), FieldScore('Bo "B", Farr', 2, 300, 12))


def test_written_and_read_they_are_the_same(tmp_path):
    path = tmp_path / "scores.csv"
    path.write_text(scores_text(SCORES), "utf-8")
    assert load_scores(path) == SCORES


def test_columns_in_any_order_and_no_handicap(tmp_path):
    path = tmp_path / "scores.csv"
    path.write_text("game,score,name\n1,201,Ada Quill\n", "utf-8")
    assert load_scores(path) == SCORES[:1]


@pytest.mark.parametrize(
    ("rows", "place"),
    [
        ("Ada,0,200,", "line 2: game"),
        ("Ada,25,200,", "line 2: game"),
        ("Ada,1,301,", "line 2: score"),
        ("Ada,1,-1,", "line 2: score"),
        ("Ada,1,200.5,", "line 2: score"),
        ("Ada,1,200,301", "line 2: handicap"),
        (",1,200,", "line 2: name"),
        ("Ada,1,200,\nAda,1,200,", "line 3: game"),
    ],
)
def test_a_wrong_row_is_told_at_its_place(tmp_path, rows, place):
    path = tmp_path / "scores.csv"
    path.write_text(f"name,game,score,handicap\n{rows}\n", "utf-8")
    with pytest.raises(InputRefusedError) as refused:
        load_scores(path)
    assert [problem.place for problem in refused.value.problems] == [place]
