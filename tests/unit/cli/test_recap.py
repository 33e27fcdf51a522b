"""The recap on the command line: to the screen, to files, all of them or none."""

from __future__ import annotations

import json

import pytest

from event_folder import DEMO, copy_of_demo
from nextpair.cli.main import exit_code

EVENT = DEMO / "event.toml"
SCORES = DEMO / "scores.csv"


@pytest.fixture
def run(tmp_path, capsys):
    """Runs `recap` with a store of the test's own; exit code, output and errors."""

    def run(*arguments: object) -> tuple[int, str, str]:
        words = [str(argument) for argument in arguments]
        code = exit_code(["recap", *words, "--data-dir", str(tmp_path / "data")])
        return code, *capsys.readouterr()

    return run


def test_without_an_option_it_is_markdown_on_the_screen(run, tmp_path):
    code, told, errors = run(EVENT, "--scores", SCORES)
    assert (code, errors) == (0, "")
    assert told.startswith("# Samphire Scratch Singles\n\nMaren Tolvane bowled 762 in 4 games")
    assert "EUR" not in told
    assert not (tmp_path / "data").exists(), "to tell an event makes no store"


def test_files_are_written_and_the_screen_stays_empty(run, tmp_path):
    names = {"--md": "a.md", "--html": "b.html", "--png": "new/c.png"}
    options = [word for name, file in names.items() for word in (name, tmp_path / file)]
    code, told, errors = run(EVENT, "--scores", SCORES, "--shots", DEMO / "shots.csv", *options)
    assert (code, told) == (0, "")
    assert errors.count("wrote ") == 3
    begun = [(tmp_path / file).read_bytes()[:4] for file in names.values()]
    assert begun == [b"# Sa", b"<!do", b"\x89PNG"]


def test_json_is_one_document_with_files_or_without(run, tmp_path):
    code, told, _ = run(EVENT, "--scores", SCORES, "--json", "--md", tmp_path / "a.md")
    assert code == 0
    assert json.loads(told)["total_pins"] == 762
    assert (tmp_path / "a.md").is_file()


def test_money_is_told_where_it_is_asked_for(run):
    assert "- Cost 329.50 EUR." in run(EVENT, "--scores", SCORES, "--money")[1]


def test_lessons_that_were_accepted_at_home_are_told(run, tmp_path, monkeypatch):
    from nextpair.bootstrap import Program
    from unit.application.test_recap import a_lesson

    asked = []

    def kept(self, with_done=False):
        asked.append((str(self.settings.data_dir), with_done))
        return (a_lesson(done=True),)

    monkeypatch.setattr(Program, "kept_lessons", kept)
    assert "- Words of surface." in run(EVENT, "--scores", SCORES)[1]
    assert asked == [(str(tmp_path / "data"), True)]


def test_scores_and_shots_beside_the_event_count_where_none_are_named(run):
    named = run(EVENT, "--scores", SCORES, "--shots", DEMO / "shots.csv")
    assert run(EVENT) == named
    assert "strikes of 43 first balls" in named[1]


def test_an_event_without_a_finished_game_is_not_told(run, tmp_path):
    folder = copy_of_demo(tmp_path)
    for name in ("shots.csv", "scores.csv"):
        (folder / name).unlink()
    code, told, errors = run(folder / "event.toml", "--md", tmp_path / "a.md")
    assert (code, told) == (2, "")
    assert "a game that Maren Tolvane has finished" in errors
    assert not (tmp_path / "a.md").exists()


@pytest.mark.parametrize(
    ("options", "wrong"),
    [
        (("--shots", "no.csv"), "no.csv"),
        (("--scores", "nowhere.csv"), "nowhere.csv"),
        (("--scores", SCORES, "--md", "x", "--html", "x"), "each file once"),
        (("--scores", SCORES, "--png", DEMO), "a file name"),
    ],
    ids=["no shots", "no scores", "one file twice", "a folder"],
)
def test_what_cannot_be_told_is_one_line_and_no_file(run, tmp_path, monkeypatch, options, wrong):
    monkeypatch.chdir(tmp_path)
    code, told, errors = run(EVENT, "--md", tmp_path / "other.md", *options) if (
        "--md" not in options
    ) else run(EVENT, *options)  # fmt: skip
    assert (code, told) == (2, "")
    assert len(errors.splitlines()) == 1
    assert wrong in errors
    assert list(tmp_path.iterdir()) == []
