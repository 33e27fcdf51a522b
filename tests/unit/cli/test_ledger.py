"""The ledger on the command line: of files, or of what is kept."""

from __future__ import annotations

import json

import pytest

from event_folder import DEMO, change, copy_of_demo
from nextpair.cli.main import exit_code


@pytest.fixture
def run(tmp_path, capsys):
    """Runs `ledger` and others on a store of the test's own; exit code, output and errors."""

    def run(*arguments: object) -> tuple[int, str, str]:
        words = [str(argument) for argument in arguments]
        code = exit_code([*words, "--data-dir", str(tmp_path / "data")])
        return code, *capsys.readouterr()

    return run


def test_one_event_is_told_in_full(run):
    code, told, _ = run("ledger", DEMO / "event.toml")
    assert code == 0
    assert told.startswith("Samphire Scratch Singles")
    # 95 + 48 + 72 + 31.50 + 6 games at 8 + 20 + 3 brackets at 5
    assert "329.50" in told
    assert "place 5 or better" in told


def test_files_are_added_up_and_json_is_one_document(run, tmp_path):
    other = copy_of_demo(tmp_path)
    change(
        other, "event.toml", 'currency = "EUR"', 'currency = "EUR"\nwinnings = { prize = 240.0 }'
    )
    code, told, _ = run("ledger", DEMO / "event.toml", other / "event.toml", "--json")
    season = json.loads(told)
    assert code == 0
    total = season["totals"][0]
    assert (total["over"]["events"], total["over"]["result"]) == (1, "-89.50")
    assert (total["to_come"]["events"], total["to_come"]["cost"]) == (1, "329.50")


def test_without_a_file_it_is_of_what_is_kept(run):
    assert "No event is kept" in run("ledger")[1]
    run("import", DEMO / "event.toml")
    assert "329.50" in run("ledger")[1]


def test_stakes_appear_nowhere_where_the_bowler_wants_none(run, tmp_path):
    folder = copy_of_demo(tmp_path)
    change(folder, "bowler.toml", "average = 205", "average = 205\nside_pots = false")
    for more in ((), ("--json",)):
        told = run("ledger", folder / "event.toml", *more)[1]
        assert "246.50" in told
        assert "pot" not in told
        assert "bracket" not in told


def test_what_is_wrong_is_told_in_its_place(run, tmp_path):
    folder = copy_of_demo(tmp_path)
    change(folder, "event.toml", 'currency = "EUR"', 'currency = "EUR"\nwinnings = { cup = 1 }')
    code, told, wrong = run("ledger", folder / "event.toml")
    assert (code, told) == (2, "")
    assert "money.winnings.cup" in wrong
    assert "prize, side_pots, brackets, other" in wrong
