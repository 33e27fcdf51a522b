"""Every wrong file gets a line that says the place, what was found and what is allowed."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from event_folder import change, copy_of_demo, problems_of
from nextpair.domain.errors import InputRefusedError
from nextpair.files import load_event


@pytest.fixture
def folder(tmp_path):
    return copy_of_demo(tmp_path)


def only_problem(folder):
    problems = problems_of(folder)
    assert len(problems) == 1, problems
    return problems[0]


SQUAD_HEADER = "pair,name,hand,style,rev_rate_rpm,speed_mph,cover\n"
WRONG = tomllib.loads((Path(__file__).parent / "wrong_values.toml").read_text("utf-8"))


@pytest.mark.parametrize("case", WRONG.values(), ids=WRONG)
def test_one_wrong_value_is_one_problem(folder, case):
    change(folder, case["file"], case["before"], case["after"])
    problem = only_problem(folder)
    assert problem.file == str(folder / case["file"])
    assert problem.place == case["place"]
    assert case["allowed"] in problem.allowed


@pytest.mark.parametrize(
    "lost", [('hand = "right"', 'hand = "Left"'), ("average = 205", "average ="), None]
)
def test_a_bowler_who_could_not_be_read_disagrees_with_nobody(folder, lost):
    change(folder, "squad.csv", "Maren Tolvane,right", "Maren Tolvane,left")
    if lost is None:
        (folder / "bowler.toml").unlink()
    else:
        change(folder, "bowler.toml", *lost)
    assert not only_problem(folder).file.endswith("squad.csv")


def test_a_day_that_is_missing_does_not_make_the_last_day_to_enter_wrong(folder):
    change(folder, "event.toml", "date = 2026-10-17", "entry_deadline = 2026-10-10")
    assert only_problem(folder).place == "date"


def test_all_problems_of_all_files_are_told_at_once(folder):
    change(folder, "event.toml", "games = 6", "games = 99")
    change(folder, "event.toml", "ball_limit = 6", "ball_limit = 0")
    change(folder, "bowler.toml", "17.4", '"fast"')
    change(folder, "bowler.toml", "365", "9000")
    change(folder, "bowler.toml", "205", "400")
    change(folder, "locker.csv", "Tarred Rope,15,2.480", "Tarred Rope,17,2.3")
    change(folder, "squad.csv", "13-14,Osk", "13-15,Osk")
    (folder / "house.toml").unlink()
    told = [(problem.file.rsplit("/", 1)[-1], problem.place) for problem in problems_of(folder)]
    assert told == [
        ("event.toml", "house"),
        ("event.toml", "games"),
        ("event.toml", "ball_limit"),
        ("bowler.toml", "speed_mph"),
        ("bowler.toml", "rev_rate_rpm"),
        ("bowler.toml", "average"),
        ("locker.csv", "line 2: weight_lb"),
        ("locker.csv", "line 2: rg_in"),
        ("squad.csv", "line 3: pair"),
    ]


@pytest.mark.parametrize(
    ("content", "place", "found"),
    [
        (b"", "file", "an empty file"),
        (b"\n  \n", "file", "an empty file"),
        (b"lanes = 3\nname = 'caf\xe9'\n", "line 2", "byte 0xe9"),
        ("name = 'x'\n".encode("utf-16"), "line 1", "byte 0xff"),
        (b"name = 'x'\nlanes = \n", "line 2, column 9", "something else than TOML"),
        (b"name = 'x'\nname = 'y'\n", "line 2, column 11", "something else than TOML"),
        (b"name = 'x", "end of file", "something else than TOML"),
        (b"name = 2026-02-30", "line 1, column 8", "something else than TOML"),
        (b"name = " + b"9" * 5000, "file", "a value too large to read"),
        (b"name = " + b"[" * 50_000, "file", "lists within lists"),
        (b"name = " + b"[" * 300 + b"]" * 300, "file", "tables within tables"),
        (b"a." * 1_900_000 + b"a = 1", "file", "tables within tables"),
        (b"name = {" + b"'a' . \"b\"\t. c-1." * 200_000 + b"a = 1}", "file", "tables within"),
        (b"[[" + b"a." * 60 + b"a]]", "file", "tables within tables"),
    ],
)
def test_a_file_that_is_not_toml(folder, content, place, found):
    (folder / "house.toml").write_bytes(content)
    problem = only_problem(folder)
    assert problem.file == str(folder / "house.toml")
    assert problem.place == place
    assert problem.found.startswith(found)


@pytest.mark.parametrize(
    ("content", "place", "found"),
    [
        ("", "file", "an empty file"),
        ("pair|name|hand\n1-2|a|right\n", "line 1: 'pair|name|hand'", "an unknown column"),
        (SQUAD_HEADER, "file", "no rows below the header"),
        ("\n\npair,name\n", "line 3", "no column hand"),
        (SQUAD_HEADER + "1-2," + "x" * 200_000, "line 2", "a broken row"),
    ],
)
def test_a_file_that_is_not_csv(folder, content, place, found):
    (folder / "squad.csv").write_text(content, "utf-8")
    problem = problems_of(folder)[0]
    assert problem.file == str(folder / "squad.csv")
    assert problem.place == place
    assert problem.found.startswith(found)


@pytest.mark.parametrize(
    ("name", "why"),
    [
        (".", "a folder"),
        ("gone.toml", "no such file"),
        ("/dev/null", "not an ordinary file"),
        ("x" * 300, "file name too long"),
        ("bowler.toml/deeper", "not a directory"),
    ],
)
def test_a_neighbour_that_cannot_be_read(folder, name, why):
    change(folder, "event.toml", '"house.toml"', f'"{name}"')
    problem = only_problem(folder)
    assert problem.file == str(folder / "event.toml")
    assert problem.place == "house"
    assert why in problem.found


def test_a_file_too_large_to_be_meant(folder):
    (folder / "house.toml").write_bytes(b"#" * 4_000_001)
    assert only_problem(folder).found == "'house.toml' (more than 4 MB)"


@pytest.mark.parametrize("path", ["nowhere/event.toml", ".", "a\0b"])
def test_an_event_that_cannot_be_read(path):
    with pytest.raises(InputRefusedError) as refused:
        load_event(path)
    assert [problem.place for problem in refused.value.problems] == ["file"]


def test_what_needs_care_is_never_repeated(folder):
    change(folder, "bowler.toml", "watch =", "watch = 'a secret'\nother =")
    problems = problems_of(folder)
    assert [problem.place for problem in problems] == ["care.watch", "care.other"]
    assert not any("secret" in str(problem) or "thumb" in str(problem) for problem in problems)


def test_a_text_cannot_reach_the_terminal_with_control_characters(folder):
    change(folder, "squad.csv", "Osk Verrill", "Osk\x1b[2J")
    problem = only_problem(folder)
    assert problem.place == "line 3: name"
    assert "\x1b" not in str(problem)


def test_unknown_keys_with_odd_names_stay_on_one_line(folder):
    change(folder, "house.toml", "lanes = 28", 'lanes = 28\n"a\\nb\\u001b" = 1')
    assert "\x1b" not in str(only_problem(folder))
