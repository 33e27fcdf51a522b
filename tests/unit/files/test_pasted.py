"""Rows pasted from a spreadsheet: what people have in theirs is understood, the rest told."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nextpair.domain.field_score import FieldScore
from nextpair.domain.record import Kind
from nextpair.files import FilePapers
from nextpair.files.pasted import pasted_scores, pasted_squad

ADA = {
    "pair": "13-14",
    "name": "Ada Quill",
    "hand": "right",
    "style": "two-handed",
    "rev_rate_rpm": 380,
    "speed_mph": 17.5,
    "cover": "hybrid",
}


@pytest.mark.parametrize(
    "text",
    [
        "13-14\tAda Quill\tright\ttwo-handed\t380\t17.5\thybrid",
        "13-14\tAda Quill\tR\t2H\t380\t17,5\tHybrid\r\n",
        "13-14;Ada Quill;r;two;380;17,5;hybrid",
        '13-14, "Ada Quill", right, two-handed, 380, 17.5, hybrid',
        "Lane\tBowler\tHand\tStyle\tRevs\tSpeed\tCover\n"
        "14\tAda Quill\tright\t2\t380\t17.5\thybrid",
        "Bowler;Speed (mph);Rev rate;Lane pair;Cover;Style;L/R\n"
        "Ada Quill;17,5;380;13/14;hybrid;2h;right-handed",
        "\n\t\t\n13 – 14\tAda Quill\tright\ttwo-handed\t380\t17.5\thybrid\n\n",
    ],
)
def test_a_row_is_understood(text):
    pasted = pasted_squad(text)
    assert pasted.problems == ()
    assert pasted.rows == (ADA,)
    FilePapers().check(Kind.SQUAD, {"name": "A", "rows": list(pasted.rows)})


def test_a_decimal_comma_is_none_where_commas_part_the_cells():
    (row,) = pasted_squad("13-14,Ada,right,,380,17,5").rows
    assert row["speed_mph"] == 17
    assert "cover" not in row


def test_what_is_not_understood_is_told_row_by_row_and_the_rest_is_taken():
    text = "Lane\tName\tTeam\tHand\tSpeed\n13\tAda\tBlue\tboth\t17\n14-15\tBo\tRed\tleft\tfast\n"
    pasted = pasted_squad(text)
    assert [problem.place for problem in pasted.problems] == [
        "header, column 3",
        "row 1: hand",
        "row 2: speed_mph",
        "row 2: pair",
    ]
    assert pasted.rows == (
        {"pair": "13-14", "name": "Ada", "speed_mph": 17},
        {"pair": "14-15", "name": "Bo", "hand": "left"},
    )


def test_more_cells_than_columns_are_told():
    pasted = pasted_scores("Ada\t1\t200\t0\tmore")
    assert [problem.place for problem in pasted.problems] == ["row 1"]


@pytest.mark.parametrize(
    "text",
    [
        "Ada Quill\t1\t201\t8\nBo\t2\t190",
        "Name;Game;Hcp;Score\nAda Quill;1;8;201\nBo;2;;190",
        "Bowler,Game,Score,Handicap\nAda Quill,1,201,8\nBo,2,190,\n",
    ],
)
def test_scores_are_understood(text):
    pasted = pasted_scores(text)
    assert pasted.problems == ()
    assert pasted.scores == (FieldScore("Ada Quill", 1, 201, 8), FieldScore("Bo", 2, 190))


def test_a_score_that_is_not_understood_leaves_its_row_out():
    pasted = pasted_scores("Ada\t1\t301\nBo\t1\tDNF\nCleo\t1\t180\nCleo\t1\t181\nCleo\t1\t180")
    assert [problem.place for problem in pasted.problems] == [
        "row 1: score",
        "row 2: score",
        "row 4: game",
    ]
    assert pasted.scores == (FieldScore("Cleo", 1, 180),)


@pytest.mark.parametrize("text", ["", "\n \n", "\t\t\n", "name\tpair"])
def test_nothing_is_told_as_nothing(text):
    assert pasted_squad(text).rows == ()
    assert pasted_squad(text).problems
    assert pasted_scores(text).scores == ()


cells = st.one_of(
    st.text(max_size=6), st.sampled_from(["13-14", "0", "name", "pair", '"', "17,5"])
)


@given(st.lists(st.lists(cells, max_size=9), max_size=5), st.sampled_from(["\t", ";", ","]))
def test_any_text_is_rows_and_problems(rows, separator):
    text = "\n".join(separator.join(row) for row in rows)
    for pasted in (pasted_squad(text), pasted_scores(text)):
        for problem in pasted.problems:
            assert len(str(problem).splitlines()) == 1
            assert all((problem.place, problem.found, problem.allowed))
