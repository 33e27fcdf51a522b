"""Backup, restore, archive and unpack on the command line, on stores of their own."""

from __future__ import annotations

import json
import os
from contextlib import closing
from pathlib import Path

import pytest

from contracts.things import draft, shot
from nextpair.application.accounts import home_account
from nextpair.application.settings import Settings
from nextpair.bootstrap import Program
from nextpair.cli.main import DONE, WRONG_INPUT, exit_code
from nextpair.domain.record import Kind


@pytest.fixture
def folder(tmp_path, monkeypatch) -> Path:
    """A data folder with an event and a shot in its store."""
    monkeypatch.setenv("NEXTPAIR_DATA_DIR", str(tmp_path / "data"))
    with closing(Program(Settings(data_dir=tmp_path / "data")).store()) as store:
        me = home_account(store).id
        event = draft(Kind.EVENT, "Harbour Open")
        store.save(me, event, None)
        store.append(me, [shot(event.id)])
    return tmp_path


def kept(folder: Path) -> list[str]:
    with closing(Program(Settings(data_dir=folder)).store()) as store:
        return [one.name for one in store.records(home_account(store).id)]


def test_a_backup_comes_back(folder, capsys):
    copy = folder / "season.sqlite3"
    assert exit_code(["backup", str(copy)]) == DONE
    with closing(Program(Settings(data_dir=folder / "data")).store()) as store:
        me = home_account(store).id
        store.delete(me, store.records(me)[0].id)
    assert kept(folder / "data") == []
    assert exit_code(["restore", str(copy)]) == DONE
    told = capsys.readouterr().out
    assert str(folder / "data" / "nextpair.sqlite3.before-restore-1") in told
    assert kept(folder / "data") == ["Harbour Open"]


def test_a_store_can_be_named(folder):
    copy, other = folder / "season.sqlite3", folder / "other" / "nextpair.sqlite3"
    assert exit_code(["backup", str(copy)]) == DONE
    assert exit_code(["restore", str(copy), "--store", str(other)]) == DONE
    assert kept(folder / "other") == ["Harbour Open"]


def test_the_last_daily_backup_comes_back(folder, capsys):
    assert exit_code(["archive", str(folder / "all.json")]) == DONE
    with closing(Program(Settings(data_dir=folder / "data")).store()) as store:
        me = home_account(store).id
        store.delete(me, store.records(me)[0].id)
    capsys.readouterr()
    assert exit_code(["restore"]) == WRONG_INPUT
    offered = capsys.readouterr().err
    assert "--last" in offered
    assert offered.count("\n") == 1
    assert exit_code(["restore", "--last"]) == DONE
    assert kept(folder / "data") == ["Harbour Open"]


def test_an_archive_goes_into_another_store_once(folder, capsys):
    archive = folder / "season.json"
    assert exit_code(["archive", str(archive)]) == DONE
    assert "1 versions of records and 1 jottings" in capsys.readouterr().out
    assert json.loads(archive.read_text("utf-8"))["app"] == "nextpair"
    assert archive.stat().st_mode & 0o077 == 0, "health and money are in it"
    for told in ("2 new, 0 here already.\n", "0 new, 2 here already.\n"):
        assert exit_code(["unpack", str(archive), "--data-dir", str(folder / "other")]) == DONE
        assert capsys.readouterr().out == told
    assert kept(folder / "other") == ["Harbour Open"]


def test_a_jotting_that_differs_is_told(folder, capsys):
    archive = folder / "season.json"
    assert exit_code(["archive", str(archive)]) == DONE
    told = json.loads(archive.read_text("utf-8"))
    told["jottings"][0]["device"] = "tablet"
    archive.write_text(json.dumps(told), "utf-8")
    capsys.readouterr()
    assert exit_code(["unpack", str(archive)]) == DONE
    assert told["jottings"][0]["id"] in capsys.readouterr().out


@pytest.mark.parametrize(
    "command",
    [
        ["restore", "none.sqlite3"],
        ["restore"],
        ["restore", "--last"],
        ["restore", "copy.sqlite3", "--last"],
        ["unpack", "none.json"],
        ["unpack", "text.json"],
        ["unpack", "list.json"],
        ["unpack", "deep.json"],
        ["unpack", "deep-tables.json"],
        ["unpack", "digits.json"],
        ["unpack", "infinite.json"],
        ["unpack", "."],
        ["unpack", "pipe"],
        ["restore", "pipe"],
        ["backup", "pipe"],
        ["archive", "pipe"],
        ["archive", "mine.json", "--account", "Nobody"],
        ["backup", "copy.sqlite3", "--store", "none.sqlite3"],
        ["backup", "copy.sqlite3", "--store", "postgresql://house/season"],
        ["backup", "."],
    ],
    ids=" ".join,
)
def test_what_cannot_be_done_is_told_in_one_line(folder, monkeypatch, capsys, command):
    monkeypatch.chdir(folder)
    os.mkfifo("pipe")
    Path("text.json").write_text("not JSON", "utf-8")
    Path("list.json").write_text("[]", "utf-8")
    Path("deep.json").write_text("[" * 200_000 + "]" * 200_000, "utf-8")
    Path("deep-tables.json").write_text('{"a":' * 200_000 + "1" + "}" * 200_000, "utf-8")
    form = '{"app": "nextpair", "archive": %s, "records": [], "jottings": []}'
    Path("digits.json").write_text(form % ("9" * 5000), "utf-8")
    Path("infinite.json").write_text(form % "1e400", "utf-8")
    before = sorted(folder.iterdir())
    assert exit_code(command) == WRONG_INPUT
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith("nextpair: ")
    assert told.err.count("\n") == 1
    assert sorted(folder.iterdir()) == before
    assert kept(folder / "data") == ["Harbour Open"]
