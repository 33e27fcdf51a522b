"""The debrief on the command line: which files it goes by, what is kept, and what is not told."""

from __future__ import annotations

import json
from contextlib import closing
from pathlib import Path

import pytest

import nextpair.cli.debrief as cli
from debriefs import HOUSE_NOTE, SINGLE_PINS, SURFACE, a_debrief
from event_folder import DEMO, copy_of_demo
from nextpair.application.accounts import home_account
from nextpair.application.events import find_event
from nextpair.application.lessons import lessons_of_event
from nextpair.application.settings import Settings
from nextpair.bootstrap import Program
from nextpair.cli.main import exit_code
from nextpair.domain.record import Kind

EVENT = DEMO / "event.toml"
NAME = "Samphire Scratch Singles"


@pytest.fixture
def asked(monkeypatch) -> dict:
    """What the program was given to make a debrief of; it answers with one made by hand."""
    asked: dict = {}

    def made_by_hand(_program, event, folder, seed, progress):
        progress("reading", 1, 1)
        asked.update(event=event, folder=folder, seed=seed)
        return a_debrief()

    monkeypatch.setattr(cli, "debrief_of", made_by_hand)
    return asked


@pytest.fixture
def run(asked, tmp_path, capsys):
    """Runs `debrief` and others on a store of the test's own; exit code, output and errors."""

    def run(*words: object) -> tuple[int, str, str]:
        code = exit_code([*map(str, words), "--data-dir", str(tmp_path / "data")])
        return code, *capsys.readouterr()

    assert asked == {}
    return run


def kept(folder: Path) -> dict[str, bool]:
    """What was decided, by key, in the store of a test."""
    program = Program(Settings(data_dir=folder / "data"))
    with closing(program.store()) as store:
        account = home_account(store).id
        event = find_event(store, account, NAME).id
        assert len(store.records(account, Kind.EVENT)) == 1
        return {one.key: one.accepted for one in lessons_of_event(store, account, event)}


def test_it_goes_by_the_shots_and_scores_beside_the_event(run, asked):
    code, text, errors = run("debrief", EVENT, "--seed", "9")
    assert (code, errors) == (0, "")
    assert "WHAT WENT WELL" in text
    assert len(asked["folder"].shots) == len((DEMO / "shots.csv").read_text().splitlines()) - 1
    assert asked["folder"].scores
    assert asked["seed"] == 9


def test_other_shots_and_scores_can_be_named(run, asked, tmp_path):
    header, *rows = (DEMO / "shots.csv").read_text("utf-8").splitlines()
    (tmp_path / "few.csv").write_text("\n".join([header, *rows[:3], ""]), "utf-8")
    (tmp_path / "field.csv").write_text("name,game,score,handicap\nBo Farr,1,201,\n", "utf-8")
    run("debrief", EVENT, "--shots", tmp_path / "few.csv", "--scores", tmp_path / "field.csv")
    assert len(asked["folder"].shots) == 3
    assert [score.name for score in asked["folder"].scores] == ["Bo Farr"]


def test_without_shots_it_says_where_they_would_have_to_be(run, asked, tmp_path):
    folder = copy_of_demo(tmp_path)
    (folder / "shots.csv").unlink()
    code, text, errors = run("debrief", folder / "event.toml")
    assert (code, text) == (2, "")
    assert "shots.csv beside the event or by --shots" in errors
    assert asked == {}


def test_nothing_is_kept_unless_something_is_decided(run, tmp_path):
    assert run("debrief", EVENT)[0] == 0
    assert run("debrief", EVENT, "--json")[0] == 0
    assert list(tmp_path.iterdir()) == []


def test_what_is_accepted_is_kept_with_its_event_and_shows_where_it_will_show(run, tmp_path):
    words = ("--accept", HOUSE_NOTE.key, "--drop", SURFACE.key)
    code, text, _ = run("debrief", EVENT, *words)
    assert code == 0
    assert f"Accepted {HOUSE_NOTE.key}. It stands on the sheets of the events to come" in text
    assert f"Dropped {SURFACE.key}." in text
    assert kept(tmp_path) == {HOUSE_NOTE.key: True, SURFACE.key: False}


def test_decisions_of_before_are_told_and_can_be_changed(run, tmp_path):
    run("debrief", EVENT, "--accept", SURFACE.key, "--accept", SINGLE_PINS.key)
    findings = json.loads(run("debrief", EVENT, "--json")[1])["findings"]
    assert [one["decision"] for one in findings] == ["accepted", "accepted", None]
    assert json.loads(run("debrief", EVENT, "--drop", SURFACE.key, "--json")[1])["findings"][1][
        "decision"
    ] == ("dropped")
    assert kept(tmp_path) == {SURFACE.key: False, SINGLE_PINS.key: True}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--accept", "luck"), SURFACE.key),
        (("--accept", SURFACE.key, "--drop", SURFACE.key), "either accepted or dropped"),
    ],
)
def test_a_key_that_cannot_be_is_refused_and_nothing_is_kept(run, tmp_path, words, said):
    code, text, errors = run("debrief", EVENT, *words)
    assert (code, text) == (2, "")
    assert said in errors
    assert len(errors.splitlines()) == 1
    assert list(tmp_path.iterdir()) == []


def test_money_is_told_where_it_is_asked_for(run):
    assert "329.50" not in run("debrief", EVENT)[1]
    assert "329.50" in run("debrief", EVENT, "--money")[1]
    assert json.loads(run("debrief", EVENT, "--json")[1])["money"] is None
    assert json.loads(run("debrief", EVENT, "--json", "--money")[1])["money"]["cost"] == "329.50"
