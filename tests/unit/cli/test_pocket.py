"""The pocket on the command line: one file, and what was written is what is printed."""

from __future__ import annotations

import json
from datetime import datetime

import pytest

from nextpair.cli.main import exit_code
from unit.cli.fake_program import Bench, FakeProgram


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


def test_the_page_is_written_beside_the_file(bench, tmp_path):
    names = [tmp_path / "open.pocket.json", tmp_path / "open.html"]
    words = ["pocket", "event.toml", "--out", str(names[0]), "--html", str(names[1])]
    assert exit_code(words, bench) == 0
    assert names[1].read_text("utf-8").startswith("<!doctype html>")
    assert exit_code([*words[:4], "--html", str(names[0])], bench) == 2


def test_a_site_is_the_built_page_and_one_that_explains(bench, capsys, tmp_path, monkeypatch):
    built = {"index.html": b"<p>here</p>", "assets/app.js": b"1"}
    monkeypatch.setattr(FakeProgram, "pages", built)
    assert exit_code(["site", "--out", str(tmp_path / "site")], bench) == 0
    written = {
        path.relative_to(tmp_path / "site").as_posix(): path.read_bytes()
        for path in (tmp_path / "site").rglob("*")
        if path.is_file()
    }
    assert {name: written[f"lanes/{name}"] for name in built} == built
    assert b"lanes/" in written["index.html"]
    assert len(written) == 3
    assert "3 files" in capsys.readouterr().out


def test_a_site_without_a_built_page_is_refused_with_one_line(bench, capsys, tmp_path):
    assert exit_code(["site", "--out", str(tmp_path / "site")], bench) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1
    assert not (tmp_path / "site").exists()
