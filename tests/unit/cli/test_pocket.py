"""The pocket on the command line: one file, and what was written is what is printed."""

from __future__ import annotations

import json
from datetime import datetime

import pytest

from nextpair.cli.main import exit_code
from unit.cli.fake_program import Bench


@pytest.fixture
def bench() -> Bench:
    return Bench()


def test_the_file_holds_what_is_printed_as_json(bench, capsys, tmp_path):
    path = tmp_path / "folder" / "open.pocket.json"
    assert exit_code(["pocket", "event.toml", "--out", str(path), "--json"], bench) == 0
    printed, told = capsys.readouterr()
    assert json.loads(path.read_text("utf-8")) == json.loads(printed)
    assert told == f"wrote {path}\n"


def test_the_event_the_seed_and_the_hour_reach_the_program(bench):
    assert exit_code(["pocket", "here/event.toml", "--seed", "9"], bench) == 0
    assert bench.asked["seed"] == 9
    assert bench.asked["event"].name == "event.toml"
    assert datetime.fromisoformat(bench.asked["made_at"]).utcoffset() is not None


def test_the_text_says_how_large_it_is_and_what_to_pack(bench, capsys):
    assert exit_code(["pocket", "event.toml"], bench) == 0
    text = capsys.readouterr().out
    assert "kB" in text
    assert "3 Towel" in text


def test_nothing_is_written_where_the_event_is_refused(bench, capsys, tmp_path):
    path = tmp_path / "open.pocket.json"
    assert exit_code(["pocket", "refused.toml", "--out", str(path)], bench) == 2
    assert not path.exists()
