"""Rows pasted from a spreadsheet: what people have in theirs is understood, the rest told."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nextpair.domain.bowler import Hand
from nextpair.domain.field_score import FieldScore
from nextpair.domain.record import Kind
from nextpair.files import FilePapers
from nextpair.files.pasted import pasted_balls, pasted_scores, pasted_squad

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
    rows, problems = pasted_squad(text)
    assert problems == ()
    assert rows == (ADA,)
    FilePapers().check(Kind.SQUAD, {"name": "A", "rows": list(rows)})


def test_a_decimal_comma_is_none_where_commas_part_the_cells():
    rows, (problem,) = pasted_squad("13-14,Ada,right,,380,17,5")
    assert rows == ()
    assert (problem.place, problem.found) == ("row 1: cover", "'5'")


def test_what_is_not_understood_is_told_row_by_row_and_the_others_are_taken():
    text = (
        "Lane\tName\tTeam\tHand\tSpeed\n13\tAda\tBlue\tboth\t17\n"
        "14-15\tBo\tRed\tleft\tfast\n14\tCleo\tRed\tleft\t\n14\tCleo\tRed\tleft\t"
    )
    rows, problems = pasted_squad(text)
    assert [problem.place for problem in problems] == [
        "header, column 3",
        "row 1: hand",
        "row 2: speed_mph",
        "row 2: pair",
        "row 4: name",
    ]
    assert rows == ({"pair": "13-14", "name": "Cleo", "hand": "left"},)


def test_balls_are_understood():
    text = "Name\tCover\tWeight lb\tRG in\nKestrel\tsolid\t15\t2,49\nOsprey\tsteel\t15\t\n"
    rows, (problem,) = FilePapers().pasted(Kind.BALL, text)
    assert rows == ({"name": "Kestrel", "cover": "solid", "weight_lb": 15, "rg_in": 2.49},)
    assert problem.place == "row 2: cover"


def test_more_cells_than_columns_are_told():
    scores, (problem,) = pasted_scores("Ada\t1\t200\t0\tA\tR\t13\t190\t\tmore")
    assert (scores, problem.place) == ((), "row 1")


@pytest.mark.parametrize(
    "text",
    [
        "Ada Quill\t1\t201\t8\nBo\t2\t190",
        "Name;Game;Hcp;Score\nAda Quill;1;8;201\nBo;2;;190",
        "Bowler,Game,Score,Handicap\nAda Quill,1,201,8\nBo,2,190,\n",
    ],
)
def test_scores_are_understood(text):
    scores, problems = pasted_scores(text)
    assert problems == ()
    assert scores == (FieldScore("Ada Quill", 1, 201, 8), FieldScore("Bo", 2, 190))


def test_a_score_that_is_not_understood_leaves_its_row_out():
    scores, problems = pasted_scores("Ada\t1\t301\nBo\t1\tDNF\nCleo\t1\t180\nCleo\t1\t181")
    assert [problem.place for problem in problems] == [
        "row 1: score",
        "row 2: score",
        "row 4: game",
    ]
    assert scores == (FieldScore("Cleo", 1, 180),)


def test_what_else_is_known_of_a_score_is_understood():
    text = "Bowler\tGame\tPins\tL/R\tLane\tAvg\tSquad\nAda\t2\t201\tL\t14\t190\tB"
    scores, problems = pasted_scores(text)
    assert problems == ()
    assert scores == (FieldScore("Ada", 2, 201, 0, "B", Hand.LEFT, "13-14", 190),)
    assert isinstance(scores[0].hand, Hand)


@pytest.mark.parametrize("text", ["", "\n \n", "\t\t\n", "name\tpair"])
def test_nothing_is_told_as_nothing(text):
    for pasted in (pasted_squad, pasted_scores):
        rows, problems = pasted(text)
        assert rows == ()
        assert problems


cells = st.one_of(
    st.text(max_size=6), st.sampled_from(["13-14", "0", "name", "pair", '"', "17,5"])
)


@given(st.lists(st.lists(cells, max_size=9), max_size=5), st.sampled_from(["\t", ";", ","]))
def test_any_text_is_rows_and_problems(rows, separator):
    text = "\n".join(separator.join(row) for row in rows)
    for _, problems in (pasted_squad(text), pasted_balls(text), pasted_scores(text)):
        for problem in problems:
            assert len(str(problem).splitlines()) == 1
            assert all((problem.place, problem.found, problem.allowed))


@pytest.mark.parametrize(
    "text",
    [
        "Bowler\tGame 1\tGame 2\tHcp\nAda\t201\t188\t8\nBo\t190\t\t",
        "Name;1;2;hdcp;total\nAda;201;188;8;389\nBo;190;;;190",
        "Player,g1,g2,handicap,Total\nAda,201,188,8,405\nBo,190,,,190",
    ],
)
def test_a_row_a_bowler_is_understood(text):
    scores, problems = pasted_scores(text)
    assert problems == ()
    assert scores == (FieldScore("Ada", 1, 201, 8), FieldScore("Ada", 2, 188, 8),
                      FieldScore("Bo", 1, 190))  # fmt: skip


def test_a_number_of_any_length_is_told():
    rows, problems = pasted_scores("Bo Farr\t" + "9" * 5000)
    assert not rows
    assert [problem.place for problem in problems] == ["row 1: 1"]


def test_a_name_and_scores_need_no_header():
    scores, problems = pasted_scores("Ada\t201\t188\nBo\t190\nCleo\t25\t300\t150")
    assert problems == ()
    assert [(one.name, one.game, one.score) for one in scores] == [
        ("Ada", 1, 201), ("Ada", 2, 188), ("Bo", 1, 190),
        ("Cleo", 1, 25), ("Cleo", 2, 300), ("Cleo", 3, 150),
    ]  # fmt: skip


def test_what_is_wrong_in_a_row_of_games_is_told_at_its_game():
    text = (
        "Name\tTeam\t1\t2\ttotal\nAda\tBlue\t201\t301\t502\n"
        "Bo\tRed\t200\tx\t\nCleo\tRed\t190\t180\t371\nDora\tRed\t150\t160\t310\nDora\tRed\t9\t\t"
    )
    scores, problems = pasted_scores(text)
    assert [(one.place, one.found) for one in problems] == [
        ("header, column 2", "Team, which is passed over"),
        ("row 1: 2", "301"),
        ("row 2: 2", "'x'"),
        ("row 3: total", "'371'"),
        ("row 5: 1", "game 1 of 'Dora' again, as in row 4"),
    ]
    assert scores == (FieldScore("Dora", 1, 150), FieldScore("Dora", 2, 160))
