"""Relatives of patterns and the chart of conditions on the command line."""

from __future__ import annotations

import json

import pytest

from event_folder import DEMO
from nextpair.cli.main import exit_code
from nextpair.files import load_pattern
from nextpair.physics.dressing import film_of
from nextpair.planning.film_distance import film_distance


@pytest.fixture
def run(tmp_path, capsys):
    """Runs commands on a store of the test's own; exit code, output and errors."""

    def run(*arguments: object) -> tuple[int, str, str]:
        words = [str(argument) for argument in arguments]
        code = exit_code([*words, "--data-dir", str(tmp_path / "data")])
        return code, *capsys.readouterr()

    return run


def test_relatives_of_a_library_pattern_are_told_without_a_store(run, tmp_path):
    code, told, errors = run("similar", "Lee Shore 39")
    assert (code, errors) == (0, "")
    assert told.startswith("Lee Shore 39\n39 ft, 28.0 mL")
    assert "NEAREST RELATIVES" in told
    assert not (tmp_path / "data").exists(), "to look makes no store"


def test_a_file_a_kept_pattern_and_one_of_the_library_are_all_found(run):
    run("import", DEMO / "event.toml")
    by_file = json.loads(run("similar", DEMO / "pattern.toml", "--json")[1])
    by_name = json.loads(run("similar", "slow estuary 41", "--json")[1])
    by_id = json.loads(run("similar", by_name["key"], "--json")[1])
    library = json.loads(run("similar", "winter-quay-43", "--json")[1])
    assert by_file == by_name == by_id
    assert by_name["log"] == by_name["key"]
    assert [one["event"] for one in by_name["outings"]] == ["Samphire Scratch Singles"]
    assert library["key"] == "library: Winter Quay 43"
    assert library["relatives"][0]["key"] == by_name["key"]
    assert "Start as on Slow Estuary 41" in library["start"]


def test_distances_in_json_are_those_of_the_films(run):
    page = json.loads(run("similar", "Lee Shore 39", "--json")[1])
    ours = film_of(load_pattern("Lee Shore 39"))
    for one in page["relatives"]:
        apart = film_distance(ours, film_of(load_pattern(one["pattern"]["name"])))
        assert one["feet"] == round(apart.feet, 2)
        assert one["grip_ft"] == round(apart.grip_ft, 2)


def test_a_pattern_of_nobody_is_refused_in_one_line(run):
    for kept in (False, True):
        if kept:
            run("import", DEMO / "event.toml")
        code, told, errors = run("similar", "Lee Shoor 39")
        assert (code, told) == (2, "")
        assert "Lee Shore 39" in errors
        assert len(errors.splitlines()) == 1


def test_conditions_are_of_what_is_kept(run, tmp_path):
    code, told, _ = run("conditions")
    assert code == 0
    assert "No event with scores is kept" in told
    assert not (tmp_path / "data").exists()
    run("import", DEMO / "event.toml")
    told = run("conditions")[1]
    assert "synthetic, medium (36.5 to 41.5 ft), heavy (25 mL and more)" in told
    assert "1 event, 4 games: Samphire Scratch Singles" in told
    # 176, 204, 185 and 197
    assert "190.5, one event: not settled" in told


def test_conditions_as_json(run):
    run("import", DEMO / "event.toml")
    chart = json.loads(run("conditions", "--json")[1])
    row = chart["rows"][0]
    assert (chart["bowler"], row["events"], row["games"]) == ("Maren Tolvane", 1, 4)
    assert row["length"] == {"name": "medium", "low": 36.5, "high": 41.5}
    assert row["score"] == {"count": 1, "mean_pins": 190.5, "pins_interval_80": None}


def test_a_pattern_that_nobody_knows_is_told_with_all_that_may_be_named(run):
    code, told, errors = run("similar", "Nowhere 40")
    assert (code, told) == (2, "")
    assert errors == (
        "nextpair: pattern: found 'Nowhere 40', allowed: a pattern that `nextpair patterns` "
        "lists, one that is kept, or a file\n"
    )
