"""Commands: what goes where, exit codes, and one line for whatever is wrong."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from nextpair import __version__
from nextpair.application.model_version import model_version
from nextpair.cli.main import SHORT_ENOUGH, WRONG_INPUT, exit_code
from nextpair.domain.format import Counting
from unit.cli.fake_program import PROBLEMS, Bench


@pytest.fixture
def bench() -> Bench:
    return Bench()


@pytest.fixture(autouse=True)
def plain_terminal(monkeypatch):
    for name in ("NEXTPAIR_SEED", "NEXTPAIR_COLOUR", "NEXTPAIR_DEBUG", "NO_COLOR", "COLUMNS"):
        monkeypatch.delenv(name, raising=False)


PATH = ["path", "event.toml", "--ball", "Kestrel", "--laydown", "24.5", "--angle", "2.4"]


@pytest.mark.parametrize(
    "words",
    [
        ["demo"],
        ["sheet", "event.toml"],
        ["bag", "event.toml"],
        ["film", "pattern.toml"],
        ["patterns"],
        PATH,
        ["carry"],
        ["carry", "--offset", "2.7", "--angle", "4.5"],
        ["spares", "event.toml"],
        ["score", "games.csv"],
        ["read", "event.toml", "shots.csv"],
        ["read", "again.toml", "shots.csv", "--sheet"],
        ["pocket", "event.toml"],
    ],
    ids=lambda words: " ".join(words[:2]),
)
def test_a_command_prints_text_or_json_and_nothing_else(bench, capsys, words):
    assert exit_code(words, bench) == 0
    text, errors = capsys.readouterr()
    assert errors == ""
    assert len(text.splitlines()) > 5
    assert "\x1b" not in text
    assert exit_code([*words, "--json"], bench) == 0
    document, errors = capsys.readouterr()
    assert errors == ""
    assert isinstance(json.loads(document), dict)


def test_the_event_and_the_seed_reach_the_planner(bench, capsys, monkeypatch):
    exit_code(["sheet", "here/event.toml"], bench)
    assert bench.asked == {"event": Path("here/event.toml"), "seed": 7}
    monkeypatch.setenv("NEXTPAIR_SEED", "8")
    exit_code(["sheet", "event.toml"], bench)
    assert bench.asked["seed"] == 8
    exit_code(["bag", "event.toml", "--seed", "9"], bench)
    assert bench.asked["seed"] == 9
    exit_code(["demo", "--seed", "10"], bench)
    assert bench.asked == {"event": Path("demo.toml"), "seed": 10}
    capsys.readouterr()


def test_a_sheet_tells_what_earlier_events_taught_and_the_bundled_one_does_not(bench, capsys):
    assert exit_code(["sheet", "event.toml", "--json"], bench) == 0
    assert len(json.loads(capsys.readouterr().out)["lessons"]) == 1
    assert exit_code(["demo", "--json"], bench) == 0
    assert json.loads(capsys.readouterr().out)["lessons"] == []


def test_a_store_that_does_not_open_is_no_obstacle_to_a_sheet(bench, capsys):
    assert exit_code(["sheet", "unread.toml", "--json"], bench) == 0
    told, errors = capsys.readouterr()
    assert json.loads(told)["lessons"] == []
    assert "what earlier events taught is not on the sheet: store: found 'old.sqlite3'" in errors
    assert len(errors.splitlines()) == 1


def test_the_shot_reaches_the_roller(bench, capsys):
    assert exit_code(PATH, bench) == 0
    assert bench.asked == {
        "ball": "Kestrel", "numbers": (24.5, 2.4), "lane": None, "speed_mph": None,
        "axis_rotation_deg": None, "surface": None, "by_hand": False, "at_ft": (),
    }  # fmt: skip
    more = ["--lane", "14", "--speed", "17.5", "--surface", "polished", "--angle", "-1.5"]
    more += ["--at", "15,31.5", "--rotation", "16"]
    assert exit_code([*PATH, *more], bench) == 0
    assert bench.asked == {
        "ball": "Kestrel", "numbers": (24.5, -1.5), "lane": 14, "speed_mph": 17.5,
        "axis_rotation_deg": 16.0, "surface": "polished", "by_hand": False, "at_ft": (15.0, 31.5),
    }  # fmt: skip
    assert exit_code([*PATH, "--surface", "2000"], bench) == 0
    assert bench.asked["surface"] == 2000
    assert exit_code([*PATH, "--surface", "2000", "--by-hand"], bench) == 0
    assert bench.asked["by_hand"] is True
    capsys.readouterr()


def test_the_impact_reaches_the_carry_table(bench, capsys):
    assert exit_code(["carry"], bench) == 0
    asked = {"ball_lb": 15.0, "speed_mph": 17.0, "hand": "right", "impact": None}
    assert bench.asked == asked | {"pinfall": "free"}
    words = ["carry", "--weight", "14", "--speed", "16.5", "--hand", "left"]
    words += ["--pinfall", "string"]
    assert exit_code([*words, "--offset", "-2.7", "--angle", "4.5"], bench) == 0
    asked = {"ball_lb": 14.0, "speed_mph": 16.5, "hand": "left", "impact": (-2.7, 4.5)}
    assert bench.asked == asked | {"pinfall": "string"}
    assert "left-handed" in capsys.readouterr().out


def test_the_leave_and_the_seed_reach_the_spares(bench, capsys):
    assert exit_code(["spares", "event.toml", "3-10", "--seed", "9"], bench) == 0
    assert bench.asked == {"event": Path("event.toml"), "leave": "3-10", "seed": 9}
    one = capsys.readouterr().out
    assert exit_code(["spares", "event.toml"], bench) == 0
    assert bench.asked["leave"] is None
    assert capsys.readouterr().out != one


def test_counting_and_name_reach_the_score_sheet(bench, capsys):
    assert exit_code(["score", "games.csv"], bench) == 0
    asked = {"path": Path("games.csv"), "counting": Counting.TRADITIONAL, "name": None}
    assert bench.asked == asked
    assert exit_code(["score", "games.csv", "--current-frame", "--name", "Bo Farr"], bench) == 0
    assert bench.asked == asked | {"counting": Counting.CURRENT_FRAME, "name": "Bo Farr"}
    capsys.readouterr()


def test_an_event_makes_its_log_of_the_score_sheet(bench, capsys):
    assert exit_code(["score", "shots.csv", "--event", "event.toml"], bench) == 0
    assert bench.asked == {"path": Path("shots.csv"), "event": Path("event.toml")}
    capsys.readouterr()


def test_worlds_and_seed_reach_the_proof(bench, capsys):
    assert exit_code(["proof", "--worlds", "5", "--seed", "9"], bench) == 0
    assert bench.asked == {"worlds": 5, "seed": 9}
    assert "simulated worlds" in capsys.readouterr().out


def test_a_bad_leave_is_one_line(bench, capsys):
    assert exit_code(["spares", "event.toml", "11"], bench) == 2
    text, errors = capsys.readouterr()
    assert text == ""
    assert errors == (
        "nextpair: leave: found '11', allowed: pins 1 to 10 joined by hyphens, as 1-2-10\n"
    )


def test_several_balls_are_rolled_one_after_another_on_one_line(bench, capsys, tmp_path):
    picture = tmp_path / "paths.svg"
    words = [*PATH, "--ball", "Saltmarsh", "--json", "--out", str(picture)]
    assert exit_code(words, bench) == 0
    document = json.loads(capsys.readouterr().out)
    assert len(document["paths"]) == 2
    assert bench.asked["ball"] == "Saltmarsh"
    assert ">B</text>" in picture.read_text("utf-8")
    assert exit_code([*PATH, "--json"], bench) == 0
    assert json.loads(capsys.readouterr().out)["paths"] is None


def test_out_writes_all_three_and_tells_so_beside_the_sheet(bench, capsys, tmp_path):
    folder = tmp_path / "new" / "folder"
    assert exit_code(["demo", "--out", str(folder)], bench) == 0
    text, errors = capsys.readouterr()
    assert {path.name for path in folder.iterdir()} == {"sheet.json", "sheet.html", "sheet.pdf"}
    assert json.loads((folder / "sheet.json").read_text("utf-8"))["seed"] == 7
    assert (folder / "sheet.html").read_text("utf-8").startswith("<!doctype html>")
    assert (folder / "sheet.pdf").read_bytes().startswith(b"%PDF-")
    assert [line.split()[0] for line in errors.splitlines()] == ["wrote"] * 3
    assert "Harbour Lights" in text


def test_files_go_where_they_are_asked_for_and_json_stays_alone(bench, capsys, tmp_path):
    page, paper = tmp_path / "a.html", tmp_path / "b.pdf"
    files = ["--html", str(page), "--pdf", str(paper), "--json"]
    assert exit_code(["sheet", "event.toml", *files], bench) == 0
    json.loads(capsys.readouterr().out)
    assert {path.name for path in tmp_path.iterdir()} == {"a.html", "b.pdf"}


@pytest.mark.parametrize(
    "words", [["film", "pattern.toml"], PATH, ["carry"]], ids=lambda words: words[0]
)
def test_a_picture_is_written_where_it_is_asked_for(bench, capsys, tmp_path, words):
    assert exit_code([*words, "--svg", str(tmp_path / "lane.svg")], bench) == 0
    assert (tmp_path / "lane.svg").read_text("utf-8").startswith("<svg")
    capsys.readouterr()


def test_every_problem_of_an_input_is_a_line(bench, capsys, tmp_path):
    words = ["sheet", "refused.toml", "--out", str(tmp_path / "out")]
    assert exit_code(words, bench) == 2
    text, errors = capsys.readouterr()
    assert text == ""
    assert errors.splitlines() == [f"nextpair: {problem}" for problem in PROBLEMS]
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "words",
    [
        ["batch", "LONG", "--out", "sheets"],
        ["backup", "LONG"],
        ["restore", "LONG"],
        ["unpack", "LONG"],
        ["season", "--store", "LONG"],
        ["season", "--data-dir", "LONG"],
        ["doctor", "--data-dir", "LONG"],
    ],
    ids=" ".join,
)
def test_a_path_that_the_system_finds_too_long_is_refused(words, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    long = "x" * 5000
    assert exit_code([word.replace("LONG", long) for word in words]) == WRONG_INPUT
    text, told = capsys.readouterr()
    assert text == ""
    assert told.startswith("nextpair: path: found 'xxx")
    assert told.endswith(f"allowed: {SHORT_ENOUGH}\n")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["sheet"], "Missing argument 'EVENT.toml'."),
        (["nonsense"], "No such command 'nonsense'."),
        (["--nonsense"], "No such option: --nonsense"),
        (["sheet", "a.toml", "b.toml"], "unexpected extra argument"),
        (["sheet", "event.toml", "--seed", "x"], "--seed: found 'x', allowed: a whole number"),
        (["sheet", "event.toml", "--colour", "blue"], "--colour: found 'blue', allowed: auto"),
        (["path", "event.toml", "--ball", "a", "--laydown", "b", "--angle", "1"], "'--laydown'"),
        ([*PATH, "--by-hand"], "--by-hand: found 'no --surface', allowed: a --surface to put on"),
        ([*PATH, "--surface", "smooth"], "--surface: found 'smooth', allowed: a grit number"),
        ([*PATH, "--surface", "9" * 5000], "--surface: found '9"),
        ([*PATH, "--at", "15;30"], "--at: found '15;30', allowed: feet from the foul line"),
        ([*PATH, "--ball", " kestrel"], "--ball: found 'Kestrel', allowed: each ball once"),
        (
            [*PATH, *(word for name in "abcd" for word in ("--ball", name))],
            "--ball: found 5, allowed: up to 4 balls",
        ),
        (
            ["score", "shots.csv", "--event", "event.toml", "--current-frame"],
            "--event: found 'event.toml', allowed: no --name and no --current-frame",
        ),
        (["carry", "--offset", "2.5"], "--offset: found 2.5, allowed: together with --angle"),
        (["carry", "--angle", "4"], "--angle: found 4.0, allowed: together with --offset"),
        (
            ["carry", "--hand", "both"],
            "'--hand': 'both' is not one of 'right', 'left'. See nextpair carry",
        ),
        (["carry", "--pinfall", "wire"], "'wire' is not one of 'free', 'string'"),
        (["carry", "--weight", "heavy"], "'--weight': Input should be a valid number"),
        ([*PATH, "--ball", "nothing"], "ball: found 'nothing', allowed: a ball of the locker"),
    ],
    ids=lambda value: value if isinstance(value, str) else " ".join(value)[-20:],
)
def test_a_wrong_command_line_is_one_clear_line(bench, capsys, words, said):
    assert exit_code(words, bench) == 2
    text, errors = capsys.readouterr()
    assert text == ""
    assert errors.startswith("nextpair: ")
    assert said in errors
    assert errors.count("\n") == 1


def test_a_wrong_setting_in_the_environment_is_told_by_its_name(bench, capsys, monkeypatch):
    monkeypatch.setenv("NEXTPAIR_THREADS", "many")
    assert exit_code(["demo"], bench) == 2
    assert "NEXTPAIR_THREADS: found 'many'" in capsys.readouterr().err


def test_a_fault_of_ours_is_one_line_that_says_what_to_do(bench, capsys, tmp_path):
    words = ["sheet", "broken.toml", "--pdf", str(tmp_path / "sheet.pdf")]
    assert exit_code(words, bench) == 1
    text, errors = capsys.readouterr()
    assert text == ""
    assert errors.count("\n") == 1
    assert "our fault" in errors
    assert "ZeroDivisionError: by nought" in errors
    assert "--debug" in errors
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("place", ["before", "after", "environment"])
def test_debug_shows_the_trace(bench, capsys, monkeypatch, place):
    if place == "environment":
        monkeypatch.setenv("NEXTPAIR_DEBUG", "yes")
    words = {
        "before": ["--debug", "sheet", "broken.toml"],
        "after": ["sheet", "broken.toml", "--debug"],
        "environment": ["sheet", "broken.toml"],
    }
    assert exit_code(words[place], bench) == 1
    errors = capsys.readouterr().err
    assert "Traceback" in errors
    assert "fake_program.py" in errors


def test_colour_comes_only_where_it_is_wanted(bench, capsys, monkeypatch):
    exit_code(["demo", "--colour", "always"], bench)
    assert "\x1b[" in capsys.readouterr().out
    exit_code(["demo", "--colour", "never"], bench)
    assert "\x1b" not in capsys.readouterr().out
    monkeypatch.setattr("sys.stdout.isatty", lambda: True)
    exit_code(["demo"], bench)
    assert "\x1b[" in capsys.readouterr().out


@pytest.mark.parametrize(("name", "value"), [("NO_COLOR", "1"), ("TERM", "dumb")])
def test_a_terminal_may_decline_colour(bench, capsys, monkeypatch, name, value):
    monkeypatch.setattr("sys.stdout.isatty", lambda: True)
    monkeypatch.setenv(name, value)
    exit_code(["demo"], bench)
    assert "\x1b" not in capsys.readouterr().out


def test_the_width_of_the_terminal_is_used(bench, capsys, monkeypatch):
    widths = {}
    for columns in ("80", "100"):
        monkeypatch.setenv("COLUMNS", columns)
        exit_code(["demo"], bench)
        widths[columns] = max(len(line) for line in capsys.readouterr().out.splitlines())
    assert widths == {"80": 80, "100": 100}


def test_a_person_at_the_terminal_sees_progress_on_standard_error(bench, capsys, monkeypatch):
    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    assert exit_code(["sheet", "event.toml"], bench) == 0
    text, errors = capsys.readouterr()
    assert "planning" in errors
    assert "planning" not in text


@pytest.mark.parametrize("words", [[], ["--help"]], ids=["nothing", "--help"])
def test_help_lists_the_commands(bench, capsys, words):
    assert exit_code(words, bench) == 0
    text = capsys.readouterr().out
    for command in (
        "demo",
        "sheet",
        "bag",
        "film",
        "patterns",
        "path",
        "carry",
        "spares",
        "proof",
    ):
        assert f"\n  {command} " in text
    assert "..." not in text.split("Commands:")[1]
    assert bench.made == []


def test_the_version_names_the_model(bench, capsys):
    assert exit_code(["--version"], bench) == 0
    assert capsys.readouterr().out == f"nextpair {__version__}, model {model_version()}\n"


def test_a_read_is_told_drawn_and_handed_to_the_planner(bench, tmp_path, capsys):
    picture = tmp_path / "new" / "belief.svg"
    words = ["read", "event.toml", "shots.csv", "--seed", "8", "--out", str(picture)]
    assert exit_code(words, bench) == 0
    text, errors = capsys.readouterr()
    assert text.startswith("What the shots say")
    assert errors == f"wrote {picture}\n"
    assert picture.read_text("utf-8").startswith("<svg")
    assert bench.asked == {"event": Path("event.toml"), "shots": [Path("shots.csv")], "seed": 8}
    assert exit_code(["read", "event.toml", "shots.csv", "--sheet"], bench) == 0
    assert bench.asked["read"].shots == 4
    assert "AT A GLANCE" in capsys.readouterr().out


def test_a_log_that_is_refused_is_told_and_nothing_is_read(bench, tmp_path, capsys):
    picture = tmp_path / "belief.svg"
    assert exit_code(["read", "event.toml", "refused.toml", "--out", str(picture)], bench) == 2
    text, errors = capsys.readouterr()
    assert text == ""
    assert len(errors.splitlines()) == len(PROBLEMS)
    assert not picture.exists()
