"""`nextpair season` on the command line."""

from __future__ import annotations

import json

import pytest

from event_folder import DEMO
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
    assert "No event is kept" in capsys.readouterr().out


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
