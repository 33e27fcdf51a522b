"""Score sheets as files: a row a game, a row a ball, a log of shots."""

from __future__ import annotations

from pathlib import Path

import pytest

from nextpair.application.score_sheet import score_sheet
from nextpair.cli.main import exit_code
from nextpair.domain.errors import InputRefusedError
from nextpair.domain.format import Counting
from nextpair.files import load_score_sheet
from source_tree import DOCS

EXAMPLES = DOCS / "guide" / "examples"
FRAMES = ",".join(str(number) for number in range(1, 11))
RIGHT = "X,9/,8 1,X,X,7-2,X,9/,X,X 9 /"
"""Running scores 20 38 47 74 93 102 122 142 171 191, by hand."""


@pytest.fixture
def sheet(tmp_path):
    def write(*lines: str) -> Path:
        path = tmp_path / "sheet.csv"
        path.write_text("\n".join(lines) + "\n", "utf-8")
        return path

    return write


def problems(path: Path, counting: Counting = Counting.TRADITIONAL) -> list[str]:
    with pytest.raises(InputRefusedError) as refused:
        load_score_sheet(path, counting)
    told = [str(problem) for problem in refused.value.problems]
    assert all(one.startswith(f"{path}: ") for one in told)
    return [one.removeprefix(f"{path}: ") for one in told]


def test_frames_in_columns_and_a_game_in_one_cell_are_the_same(sheet):
    columns = load_score_sheet(sheet(f"name,game,{FRAMES}", f"Ada Quill,2,{RIGHT}"))
    cell = load_score_sheet(sheet("game,name,balls", f'2,Ada Quill,"{RIGHT}"'))
    games = [score_sheet(read).bowlers[0].games[0] for read in (columns, cell)]
    assert games[0] == games[1]
    assert games[0].total == 191


def test_columns_may_stand_in_any_order_and_a_game_may_be_under_way(sheet):
    (written,) = load_score_sheet(sheet("2,1,game,total_1,3", "9/,X,1,20,"))
    assert written.totals[:2] == (20, None)
    assert score_sheet([written]).bowlers[0].games[0].so_far == 20


def test_a_table_of_scores_is_a_sheet_where_it_has_balls(sheet):
    path = sheet(
        "name,game,score,handicap,balls",
        "Ada Quill,1,190,8,9/9/9/9/9/9/9/9/9/9/9",
        "Bo Farr,1,201,0,",
    )
    (written,) = load_score_sheet(path)
    assert (written.name, written.score) == ("Ada Quill", 190)
    assert problems(sheet("name,game,score,balls", "Bo Farr,1,201,")) == [
        "rows: found no game whose balls are written, allowed: one or more"
    ]


def test_a_byte_order_mark_and_foreign_line_ends_do_no_harm(tmp_path):
    path = tmp_path / "sheet.csv"
    path.write_bytes(f"\ufeffgame,{FRAMES}\r\n1,{RIGHT}\r\n".encode())
    assert score_sheet(load_score_sheet(path)).bowlers[0].series == 191


def test_every_error_is_told_at_its_row_game_and_frame(sheet):
    wrong = sheet(
        f"name,game,{FRAMES},total_2,total_4,score",
        f"Ada Quill,1,{RIGHT},38,84,191",
        "Ada Quill,2,X,7 4,X,X,X,X,X,X,X,XYX,,,",
        "Bo Farr,1,9/,X,,X,,,,,,,,,",
        "Bo Farr,2,9/,X,,,,,,,,,20,,",
    )
    assert problems(wrong) == [
        "line 2: game 1 of Ada Quill, frame 4: found 84, allowed: 74",
        "line 3: game 2 of Ada Quill, frame 2: found 7 4, allowed: at most 3 pins: no more stand",
        "line 3: game 2 of Ada Quill, frame 10: found XYX, allowed: X, /, -, F, digits, and (1) "
        "to (8) for a ball that left a split",
        "line 4: game 1 of Bo Farr, frame 3: found nothing, allowed: two balls, or a strike, "
        "before the next frame",
        "line 5: game 2 of Bo Farr, frame 2: found 20, allowed: no total yet: balls are missing",
    ]


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        (("game,1", "1,X", "1,X"), "line 3: game: found game 1 again, as in line 2"),
        (("game,1", "0,X"), "line 2: game: found 0, allowed: 1 to 99 games"),
        (("game,1", "one,X"), "line 2: game: found 'one'"),
        (("game,1,2", '1,"X, X",9/'), "line 2: 1: found 'X, X', allowed: the marks of one frame"),
        (("game,1,balls", "1,X,9/"), "line 2: balls: found '9/', allowed: the game of the frames"),
        (("game,1,total_1", "1,X,ten"), "line 2: total_1: found 'ten', allowed: a number"),
        (("name,1", "Ada Quill,X"), "line 1: found no column game"),
        (("game|1", "1|X"), "line 1: 'game|1': found an unknown column"),
        (("game,frmae,delivery,pins", "1,1,1,10"), 'did you mean "frame"?'),
    ],
    ids=lambda value: value if isinstance(value, str) else None,
)
def test_a_sheet_by_games_is_refused_in_words(sheet, lines, said):
    assert said in problems(sheet(*lines))[0]


def test_a_sheet_by_balls_tells_leaves_fouls_and_totals(sheet):
    path = sheet(
        "game,frame,delivery,pins,standing_after,foul,total",
        "1,1,1,,7-10,,",
        "1,1,2,1,,,9",
        "1,2,1,,,yes,",
        "1,2,2,9,,,18",
        "1,3,1,,0,,",
    )
    (written,) = load_score_sheet(path)
    game = score_sheet([written]).bowlers[0].games[0]
    assert [frame.marks for frame in game.frames] == [("(8)", "1"), ("F", "9"), ("X",)]
    assert [leave.pins for leave in game.frames[0].left] == ["7-10"]
    assert game.so_far == 18


def test_a_log_of_shots_is_a_sheet_without_its_practice(sheet):
    id_of = "8f14e45f-ceea-467f-a0e6-c4b1f9d3a2b{}".format
    path = sheet(
        "id,time,game,frame,delivery,lane,ball,standing_before,standing_after",
        f"{id_of(0)},,0,1,1,13,Kestrel,,3-6",
        f"{id_of(1)},,1,1,1,13,Kestrel,,10",
        f"{id_of(2)},,1,1,2,13,Paper Moon,10,",
        f"{id_of(2)},,1,1,2,13,Paper Moon,10,",
        f"{id_of(3)},,1,2,1,14,Kestrel,1-2-3-4-5-6-7-8-9-10,0",
    )
    (game,) = score_sheet(load_score_sheet(path)).bowlers[0].games
    assert [frame.marks for frame in game.frames] == [("9", "/"), ("X",)]


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (["1,1,1,9,,", "1,2,1,10,,"],
         "line 3: game 1, frame 2, delivery 1: found frame 2, delivery 1 next, allowed: frame 1, "
         "delivery 2"),
        (["1,1,1,9,,", "1,1,2,2,,"],
         "line 3: game 1, frame 1, delivery 2: found 9 2, allowed: at most 1 pins: no more stand"),
        (["1,1,1,,10,", "1,1,2,,7,"],
         "line 3: game 1, frame 1, delivery 2: standing_after: found 7, allowed: pins of 10, "
         "which stood before"),
        (["1,1,1,,11,"], "line 2: standing_after: found '11'"),
        (["1,1,1,9,,perhaps"], "line 2: foul: found 'perhaps', allowed: yes or no"),
        (["1,1,1,,,"], "line 2: game 1, frame 1, delivery 1: standing_after: found nothing"),
        (["-1,1,1,9,,"], "line 2: game: found -1, allowed: 0 to 99 games"),
    ],
)  # fmt: skip
def test_a_ball_that_cannot_be_is_told_at_its_row(sheet, rows, said):
    found = problems(sheet("game,frame,delivery,pins,standing_after,foul", *rows))
    assert found[0].startswith(said)
    assert len(found) == 1


def test_the_counting_decides_what_a_tenth_frame_holds(sheet):
    path = sheet("game,balls", "1,X X X X X X X X X X")
    assert score_sheet(load_score_sheet(path)).bowlers[0].games[0].total is None
    by_frame = Counting.CURRENT_FRAME
    assert score_sheet(load_score_sheet(path, by_frame), by_frame).bowlers[0].series == 300
    assert problems(sheet("game,balls", "1,X X X X X X X X X X X X"), by_frame)


def test_the_examples_of_the_guide_are_in_order(capsys):
    for name, said in (("score-sheet.csv", "average 193"), ("balls.csv", "3-10 (baby split)")):
        assert exit_code(["score", str(EXAMPLES / name)]) == 0
        assert said in capsys.readouterr().out


def test_a_wrong_sheet_ends_with_its_problems_and_nothing_else(sheet, capsys):
    assert exit_code(["score", str(sheet("game,balls,score", "1,XXXXXXXXXXXX,299"))]) == 2
    text, errors = capsys.readouterr()
    assert text == ""
    assert errors.endswith("sheet.csv: line 2: game 1, frame 10: found 299, allowed: 300\n")
