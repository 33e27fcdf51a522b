"""Events between files and the store on the command line: nothing is lost on the way."""

from __future__ import annotations

import pytest

from event_folder import DEMO, change, copy_of_demo
from nextpair.cli.main import exit_code
from nextpair.files import load_event

NAME = "Samphire Scratch Singles"


@pytest.fixture
def run(tmp_path, capsys):
    """Runs a command on a store of the test's own; returns exit code, output and errors."""

    def run(*arguments: object) -> tuple[int, str, str]:
        words = [str(argument) for argument in arguments]
        code = exit_code([*words, "--data-dir", str(tmp_path / "data")])
        return code, *capsys.readouterr()

    return run


def test_what_is_imported_can_be_exported(run, tmp_path):
    assert run("import", DEMO / "event.toml")[0] == 0
    out = tmp_path / "out"
    code, printed, _ = run("export", NAME, "--out", out)
    assert code == 0
    assert load_event(out / "event.toml") == load_event(DEMO / "event.toml")
    assert (out / "shots.csv").read_bytes() == (DEMO / "shots.csv").read_bytes()
    assert sorted(printed.splitlines()) == sorted(f"wrote {path}" for path in out.iterdir())
    texts = {path.name: path.read_bytes() for path in out.iterdir()}
    run("import", out / "event.toml")
    run("export", NAME, "--out", tmp_path / "again")
    assert {path.name: path.read_bytes() for path in (tmp_path / "again").iterdir()} == texts


def test_others_get_neither_money_nor_care(run, tmp_path):
    run("import", DEMO / "event.toml")
    run("export", NAME, "--out", tmp_path / "out", "--for-others")
    text = "".join(path.read_text("utf-8") for path in (tmp_path / "out").iterdir())
    assert "[money" not in text
    assert "care" not in text


def test_neighbours_lie_where_the_event_says(run, tmp_path):
    folder = copy_of_demo(tmp_path)
    (tmp_path / "houses").mkdir()
    (folder / "house.toml").rename(tmp_path / "houses" / "quern.toml")
    change(folder, "event.toml", '"house.toml"', '"../houses/quern.toml"')
    assert run("import", folder / "event.toml")[0] == 0


def test_what_is_wrong_is_told_and_nothing_is_kept(run, tmp_path):
    folder = copy_of_demo(tmp_path)
    change(folder, "house.toml", "lanes = 28", "lanes = 0")
    code, _, told = run("import", folder / "event.toml")
    assert (code, "lanes" in told) == (2, True)
    code, _, told = run("export", NAME, "--out", tmp_path / "out")
    assert code == 2
    assert not (tmp_path / "out").exists()
