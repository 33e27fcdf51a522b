"""`nextpair season` on the command line."""

from __future__ import annotations

import json

import pytest

from event_folder import DEMO, copy_of_demo
from nextpair.cli.main import DONE, WRONG_INPUT, exit_code

EVENT = str(DEMO / "event.toml")


@pytest.fixture(autouse=True)
def nowhere(monkeypatch, tmp_path):
    monkeypatch.setenv("NEXTPAIR_DATA_DIR", str(tmp_path / "data"))


def test_event_files_come_with_scores_and_shots_beside_them(capsys):
    assert exit_code(["season", EVENT, "--json"]) == DONE
    told = json.loads(capsys.readouterr().out)
    assert (told["events"], told["games"]) == (1, 4)
    assert {group["kind"] for group in told["groups"]} == {"length", "surface", "house", "ball"}


def test_nothing_kept_says_what_to_do(capsys):
    assert exit_code(["season"]) == DONE
    assert "is kept: name event files" in capsys.readouterr().out


def test_a_calendar_of_events_that_are_over_is_refused(capsys, tmp_path):
    calendar = tmp_path / "season.ics"
    text = (DEMO / "event.toml").read_text("utf-8").replace("2026-10-17", "2020-10-17")
    folder = tmp_path / "event"
    folder.mkdir()
    for path in DEMO.iterdir():
        if path.is_file():
            (folder / path.name).write_bytes(path.read_bytes())
    (folder / "event.toml").write_text(text, "utf-8")
    arguments = ["season", str(folder / "event.toml"), "--calendar", str(calendar)]
    assert exit_code(arguments) == WRONG_INPUT
    assert "nothing that is due" in capsys.readouterr().err
    assert not calendar.exists()


def test_an_event_that_is_named_twice_is_refused_since_it_would_count_twice(capsys):
    assert exit_code(["season", EVENT, EVENT]) == WRONG_INPUT
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err == (
        "nextpair: event: found 'Samphire Scratch Singles of 2026-10-17 twice', "
        "allowed: each event once\n"
    )


def test_a_kept_event_without_results_is_not_said_to_be_not_kept(capsys, tmp_path):
    folder = copy_of_demo(tmp_path)
    for name in ("shots.csv", "scores.csv"):
        (folder / name).unlink()
    assert exit_code(["import", str(folder / "event.toml")]) == DONE
    capsys.readouterr()
    assert exit_code(["season"]) == DONE
    assert "No event with a score or shot of yours is kept" in capsys.readouterr().out
