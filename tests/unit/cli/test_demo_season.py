"""The demo season on the command line."""

from __future__ import annotations

import pytest

from nextpair.cli.demo_season import LOOK_AT
from nextpair.cli.main import app, exit_code


def run(folder, *options: str) -> int:
    return exit_code(["demo", *options, "--data-dir", str(folder)])


def test_the_season_is_kept_and_put_away(tmp_path, capsys):
    assert run(tmp_path, "--season") == 0
    told = capsys.readouterr().out
    assert "2026-11-14  Fieldfare Trophy\n" in told
    assert run(tmp_path, "--season") == 0
    assert capsys.readouterr().out == told
    assert (
        exit_code(
            [
                "export",
                "Fieldfare Trophy",
                "--out",
                str(tmp_path / "event"),
                "--data-dir",
                str(tmp_path),
            ]
        )
        == 0
    )
    capsys.readouterr()
    assert run(tmp_path, "--put-away") == 0
    assert capsys.readouterr().out.endswith("put away; --season brings them back.\n")
    assert (
        exit_code(
            [
                "export",
                "Fieldfare Trophy",
                "--out",
                str(tmp_path / "more"),
                "--data-dir",
                str(tmp_path),
            ]
        )
        == 2
    )


def test_both_at_once_are_refused(tmp_path, capsys):
    assert run(tmp_path, "--season", "--put-away") == 2
    assert "--put-away" in capsys.readouterr().err


@pytest.mark.parametrize("command", [command for command, _ in LOOK_AT])
def test_what_to_look_at_is_a_command(command):
    named = {one.name or one.callback.__name__ for one in app.registered_commands}
    assert command.split()[1] in named


@pytest.mark.parametrize("option", [("--json",), ("--html", "a.html"), ("--out", "a")])
@pytest.mark.parametrize("what", ["--season", "--put-away"])
def test_a_season_is_no_sheet_to_be_written(tmp_path, capsys, what, option):
    assert run(tmp_path / "data", what, *option) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith(f"nextpair: {option[0]}: found ")
    assert not (tmp_path / "data").exists()
