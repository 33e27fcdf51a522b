"""scores.csv: read whole, or refused with every row that is wrong."""

from __future__ import annotations

import csv

import pytest

from nextpair.domain.bowler import Hand
from nextpair.domain.errors import InputRefusedError
from nextpair.domain.field_score import FieldScore
from nextpair.files import load_scores, scores_text
from nextpair.files.csv_file import csv_text

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


FULL = FieldScore(
    "Ada Quill", 1, 180, 4, "A", Hand.LEFT, "13-14", 198,
    "X, X, X, 7 2, (8) /, F 9, X, 7 /, 9 -, X X 8",
)  # fmt: skip


def test_everything_that_is_known_of_a_game_is_written_and_read(tmp_path):
    path = tmp_path / "scores.csv"
    path.write_text(scores_text([FULL, *SCORES[1:]]), "utf-8")
    assert load_scores(path) == (FULL, *SCORES[1:])
    assert scores_text(SCORES).startswith("name,game,score,handicap\n")


@pytest.mark.parametrize(
    ("cells", "place", "allowed"),
    [
        ({"score": "179"}, "score", "180, as the balls add up"),
        ({"balls": "X, X, X, 7 2, (8) /, F 9, X, 7 /, 9 -, X X"}, "balls", "a game that is over"),
        ({"balls": "X, 7 4"}, "balls", "at most 3 pins: no more stand in frame 2"),
        ({"pair": "12-13"}, "pair", "an odd lane and the next even one, such as 13-14"),
        ({"hand": "both"}, "hand", "right or left"),
        ({"average": "301"}, "average", "0 to 300 pins"),
    ],
)
def test_a_wrong_fact_is_told_at_its_column(tmp_path, cells, place, allowed):
    path = tmp_path / "scores.csv"
    header, row = scores_text([FULL]).splitlines()
    table = dict(zip(header.split(","), next(csv.reader([row])), strict=True)) | cells
    path.write_text(csv_text(list(table), [table]), "utf-8")
    with pytest.raises(InputRefusedError) as refused:
        load_scores(path)
    (problem,) = refused.value.problems
    assert (problem.place, problem.allowed) == (f"line 2: {place}", allowed)


@pytest.mark.parametrize(("pins", "is_taken"), [(180, True), (212, True), (200, False)])
def test_a_written_game_is_its_score_by_either_counting(tmp_path, pins, is_taken):
    ten_frames = "X, X, X, 7 2, (8) /, F 9, X, 7 /, 9 -, X"
    balls = ten_frames if pins == 212 else f"{ten_frames} X 8"
    path = tmp_path / "scores.csv"
    path.write_text(scores_text([FieldScore("Ada", 1, pins, balls=balls)]), "utf-8")
    if is_taken:
        assert load_scores(path)[0].score == pins
    else:
        with pytest.raises(InputRefusedError, match="180, as the balls add up"):
            load_scores(path)


def test_a_row_a_bowler_with_a_column_a_game(tmp_path):
    path = tmp_path / "scores.csv"
    path.write_text(
        "squad,name,1,2,3,handicap,hand,average,total\n"
        "A,Ada Quill,201,,188,8,left,199,389\nB,Bo Farr,190,,,,,,\n",
        "utf-8",
    )
    assert load_scores(path) == (
        FieldScore("Ada Quill", 1, 201, 8, "A", Hand.LEFT, "", 199),
        FieldScore("Ada Quill", 3, 188, 8, "A", Hand.LEFT, "", 199),
        FieldScore("Bo Farr", 1, 190, 0, "B"),
    )


def test_what_is_wrong_in_a_row_of_games_is_told_at_its_line_and_column(tmp_path):
    path = tmp_path / "scores.csv"
    path.write_text("name,game 1,game 2,hand\nAda,301,200,both\nAda,,150,\n,200,,\n", "utf-8")
    with pytest.raises(InputRefusedError) as refused:
        load_scores(path)
    assert [problem.place for problem in refused.value.problems] == [
        "line 2: hand",
        "line 2: game 1",
        "line 3: game 2",
        "line 4: name",
    ]


def test_a_name_in_another_form_of_unicode_is_the_same_bowler(tmp_path):
    # UAX #15, table 4: U+00C5 and A with U+030A are one letter, composed in form C.
    path = tmp_path / "scores.csv"
    path.write_text("name,game,score\nA\u030aseby,1,201\n\u00c5seby,2,190\n", "utf-8")
    assert {score.name for score in load_scores(path)} == {"\u00c5seby"}
