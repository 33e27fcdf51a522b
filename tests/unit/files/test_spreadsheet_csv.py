"""Tables as spreadsheets write them, in every CSV file that is read: the same, or refused.

Source: RFC 4180 (https://www.rfc-editor.org/rfc/rfc4180) for records, line ends and quotes. What
spreadsheets do beside it (semicolons where the comma is the decimal mark, `sep=;`, UTF-16 with
tabs for "Unicode text", a code page for "CSV") is common practice, from memory.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from event_folder import copy_of_demo, problems_of
from nextpair.application.settings import Settings
from nextpair.bootstrap import Program
from nextpair.domain.errors import InputRefusedError
from nextpair.domain.record import Kind
from nextpair.files import FilePapers, load_event, load_scores, load_shots
from nextpair.files.score_sheet import load_score_sheet

SHOTS = """\
id,time,game,frame,delivery,lane,ball,laydown_board,target_board,speed_mph,breakpoint_board,\
entry_board,standing_before,standing_after,note
8f14e45f-ceea-467f-a0e6-c4b1f9d3a2b7,,1,1,1,13,Slate Weir,24.5,15.5,17.6,,,,10,"early, Zoë said"
"""
SCORES = "name,game,score,handicap\nZoë Farr,1,201,8\nBo Farr,1,199,0\n"
WIDE = "name,1,2,total\nZoë Farr,201,188,389\nBo Farr,199,200,399\n"
SHEET = "name,game,1,2,3,total_1\nZoë Farr,1,X,7/,9-,20\n"
FILM = "\n".join(
    [
        ",".join(["distance_ft", *(str(board) for board in range(1, 40))]),
        *(",".join([str(feet), *(["12.25"] * 39)]) for feet in (0.5, 20.5, 40.5)),
    ]
)


def rewritten(text: str, separator: str, comma: bool = False) -> str:
    """The same records parted otherwise, numbers with a decimal comma where that is asked for."""
    page = io.StringIO(newline="")
    writer = csv.writer(page, delimiter=separator, lineterminator="\n")
    for record in csv.reader(io.StringIO(text, newline="")):
        writer.writerow([_with_comma(cell) if comma else cell for cell in record])
    return page.getvalue()


def _with_comma(cell: str) -> str:
    whole, point, part = cell.partition(".")
    is_number = point and whole.lstrip("-").isdecimal() and part.isdecimal()
    return f"{whole},{part}" if is_number else cell


def _marked_spaces(text: str) -> str:
    return re.sub(r'(?<!")\n', " \n", text).replace(",", ",\u00a0", 3)


SHAPES: dict[str, Callable[[str], bytes]] = {
    "byte order mark": lambda text: text.encode("utf-8-sig"),
    "Windows line ends": lambda text: text.replace("\n", "\r\n").encode(),
    "old Mac line ends": lambda text: text.replace("\n", "\r").encode(),
    "no line end at the end": lambda text: text.rstrip("\n").encode(),
    "semicolons": lambda text: rewritten(text, ";").encode(),
    "tabs": lambda text: rewritten(text, "\t").encode(),
    "semicolons and decimal commas": lambda text: rewritten(text, ";", comma=True).encode(),
    "tabs and decimal commas": lambda text: rewritten(text, "\t", comma=True).encode(),
    "a line that says the separator": lambda text: b"sep=;\r\n" + rewritten(text, ";").encode(),
    "UTF-16, little end first": lambda text: b"\xff\xfe" + text.encode("utf-16-le"),
    "UTF-16, big end first": lambda text: b"\xfe\xff" + text.encode("utf-16-be"),
    "Unicode text": lambda text: (
        b"\xff\xfe" + rewritten(text, "\t", comma=True).replace("\n", "\r\n").encode("utf-16-le")
    ),
    "stray spaces": lambda text: _marked_spaces(text).encode(),
    "quotes around everything": lambda text: _quoted(text).encode(),
    "empty columns and rows": lambda text: _with_empty(text).encode(),
}


def _quoted(text: str) -> str:
    page = io.StringIO(newline="")
    csv.writer(page, quoting=csv.QUOTE_ALL, lineterminator="\n").writerows(
        csv.reader(io.StringIO(text, newline=""))
    )
    return page.getvalue()


def _with_empty(text: str) -> str:
    lines = [f"{line},," for line in text.splitlines()]
    return "\n".join([*lines, "," * (lines[0].count(",")), ""])


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return copy_of_demo(tmp_path)


def read_named(path: Path) -> Any:
    """What a file holds, by the reader of its name."""
    if path.name == "shots.csv":
        return load_shots(path, load_event(path.parent / "event.toml"))
    if path.name == "film.csv":
        return Program(Settings(threads=1)).load_pattern(path.parent / "pattern.toml")
    if path.name == "sheet.csv":
        return [(game.name, game.balls, game.totals) for game in load_score_sheet(path)]
    if path.name in ("scores.csv", "wide.csv"):
        return load_scores(path)
    return load_event(path.parent / "event.toml")


TEXTS = {
    "shots.csv": SHOTS,
    "scores.csv": SCORES,
    "wide.csv": WIDE,
    "sheet.csv": SHEET,
    "film.csv": FILM,
}


def written(folder: Path, name: str) -> tuple[Path, str]:
    path = folder / name
    text = TEXTS.get(name) or path.read_text("utf-8")
    path.write_text(text, "utf-8")
    if name == "film.csv":
        pattern = 'name = "Read off"\nlength_ft = 43\n[film]\ncsv = "film.csv"\n'
        (folder / "pattern.toml").write_text(pattern, "utf-8")
    return path, text


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("name", ["squad.csv", "locker.csv", *TEXTS])
def test_a_table_is_the_same_however_a_spreadsheet_writes_it(folder, name, shape):
    path, text = written(folder, name)
    plain = read_named(path)
    path.write_bytes(SHAPES[shape](text))
    assert read_named(path) == plain


@pytest.mark.parametrize("code_page", ["cp1252", "mac-roman", "utf-16-le"])
def test_an_encoding_that_the_file_does_not_tell_is_refused(tmp_path, code_page):
    path = tmp_path / "scores.csv"
    path.write_bytes(SCORES.encode(code_page))
    with pytest.raises(InputRefusedError) as refused:
        load_scores(path)
    (problem,) = refused.value.problems
    assert problem.place == ("file" if code_page == "utf-16-le" else "line 2")
    assert (
        problem.found
        == {
            "cp1252": "byte 0xeb",  # ë. Source: Unicode consortium's CP1252.TXT
            "mac-roman": "byte 0x91",  # ë. Source: Unicode consortium's ROMAN.TXT
            "utf-16-le": "UTF-16 without its mark",
        }[code_page]
    )
    assert problem.allowed.endswith("in a spreadsheet `CSV UTF-8`")


@pytest.mark.parametrize("encoding", ["utf-16", "cp1252"])
def test_a_toml_file_is_in_utf_8_alone(folder, encoding):
    path = folder / "house.toml"
    path.write_bytes((path.read_text("utf-8") + "# Zoë\n").encode(encoding))
    (problem,) = problems_of(folder)
    assert problem.found.startswith("byte 0x")
    assert problem.allowed == "text saved in the encoding UTF-8"


def test_a_decimal_comma_among_commas_is_refused(folder):
    path = folder / "locker.csv"
    path.write_text(path.read_text("utf-8").replace("2.480,", '"2,480",', 1), "utf-8")
    problems = problems_of(folder)
    assert problems
    assert problems[0].allowed == "a number with a decimal point, not a comma: 2.480"


def test_a_comma_beside_tabs_that_may_part_thousands_is_not_guessed(folder):
    path = folder / "locker.csv"
    header = "name\trg_in\tcover\n"
    lacks = path.read_text("utf-8").splitlines()[0].split(",")
    others = "\t".join(name for name in lacks if name not in ("name", "rg_in", "cover"))
    row = "Kestrel\t2,490\tsolid\t" + "\t" * others.count("\t")
    path.write_text(header.rstrip() + "\t" + others + "\n" + row + "\n", "utf-8")
    assert "not a comma: 2.490" in problems_of(folder)[0].allowed


def test_a_text_with_a_comma_stays_as_it_is_written(tmp_path, folder):
    path = folder / "shots.csv"
    path.write_text(rewritten(SHOTS, ";", comma=True).replace("early, Zoë said", "7,5"), "utf-8")
    (shot,) = load_shots(path, load_event(folder / "event.toml"))
    assert shot.note == "7,5"
    assert shot.laydown_board == 24.5


def test_a_refusal_below_a_line_that_says_the_separator_names_the_line_of_the_file(tmp_path):
    path = tmp_path / "scores.csv"
    path.write_text("sep=;\nname;game;score\nBo Farr;1;301\n", "utf-8")
    with pytest.raises(InputRefusedError) as refused:
        load_scores(path)
    assert refused.value.problems[0].place == "line 3: score"


@pytest.mark.parametrize(
    "text",
    [
        "name;cover;rg_in\r\nKestrel;solid;2,49\r\n",
        "name\tcover\trg_in\rKestrel\tsolid\t2,49\r",
        "\ufeffname,cover,rg_in\nKestrel\u00a0,\u00a0solid ,2.49",
    ],
)
def test_pasted_rows_are_read_in_every_shape(text):
    rows, problems = FilePapers().pasted(Kind.BALL, text)
    assert not problems
    assert list(rows) == [{"name": "Kestrel", "cover": "solid", "rg_in": 2.49}]
