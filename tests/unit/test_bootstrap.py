"""The compiler's cache: one folder a model, private, and never in the way."""

from __future__ import annotations

import os
import subprocess
import sys
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest
from llvmlite import binding

from debriefs import SINGLE_PINS
from event_folder import DEMO
from nextpair.application.accounts import home_account
from nextpair.application.events import keep_bundle
from nextpair.application.lessons import decide
from nextpair.application.model_version import compiled_version
from nextpair.application.settings import Settings, resolve_settings
from nextpair.bootstrap import (
    Program,
    compiler,
    prepare_compiler,
    user_cache_folder,
    user_data_folder,
)
from nextpair.files import load_event, load_folder
from unit.reports.sheet_factory import a_sheet

EVENT = load_event(DEMO / "event.toml")


@pytest.fixture(autouse=True)
def own_environment(monkeypatch):
    monkeypatch.setenv("NUMBA_CACHE_DIR", "as it was")
    monkeypatch.setenv("NUMBA_NUM_THREADS", "1")
    monkeypatch.setenv("NUMBA_CPU_FEATURES", "as they were")
    monkeypatch.delitem(sys.modules, "numba", raising=False)


def cache_in(folder: Path) -> Path:
    return prepare_compiler(resolve_settings({"cache_dir": str(folder)}, {}))


def test_the_folder_is_named_by_the_model(tmp_path):
    folder = cache_in(tmp_path)
    assert folder == tmp_path / "compiled" / compiled_version()
    assert folder.is_dir()
    assert os.environ["NUMBA_CACHE_DIR"] == str(folder)
    assert list(folder.iterdir()) == []


def test_another_model_has_another_folder(tmp_path, monkeypatch):
    monkeypatch.setattr(compiler, "compiled_version", lambda: "another")
    assert cache_in(tmp_path) == tmp_path / "compiled" / "another"


@pytest.mark.parametrize(
    ("offered", "told"),
    [
        ({"avx2": True, "avx512f": False}, "+avx2,-avx512f,+fast-gather"),
        ({"avx2": True, "avx512f": True}, None),
        ({"avx2": False}, None),
    ],
)
def test_the_compiler_is_told_to_gather_where_it_would_rather_not(
    offered, told, tmp_path, monkeypatch
):
    monkeypatch.delenv("NUMBA_CPU_FEATURES")
    monkeypatch.setattr(binding, "get_host_cpu_features", lambda: binding.FeatureMap(offered))
    cache_in(tmp_path)
    assert os.environ.get("NUMBA_CPU_FEATURES") == told


def test_features_that_the_user_has_set_are_kept(tmp_path, monkeypatch):
    offered = binding.FeatureMap({"avx2": True})
    monkeypatch.setattr(binding, "get_host_cpu_features", lambda: offered)
    cache_in(tmp_path)
    assert os.environ["NUMBA_CPU_FEATURES"] == "as they were"


@pytest.mark.skipif(os.name == "nt", reason="permissions of POSIX")
def test_nobody_else_may_plant_code_there(tmp_path):
    assert cache_in(tmp_path).stat().st_mode & 0o077 == 0


def test_a_folder_that_cannot_be_made_is_no_crash(tmp_path):
    in_the_way = tmp_path / "file"
    in_the_way.write_text("not a folder")
    folder = cache_in(in_the_way)
    assert folder.is_dir()
    assert tmp_path not in folder.parents
    assert os.environ["NUMBA_CACHE_DIR"] == str(folder)


def test_threads_are_set_only_where_asked_for(tmp_path):
    cache_in(tmp_path)
    assert os.environ["NUMBA_NUM_THREADS"] == "1"
    prepare_compiler(resolve_settings({"cache_dir": str(tmp_path), "threads": "3"}, {}))
    assert os.environ["NUMBA_NUM_THREADS"] == "3"


def test_a_compiler_that_is_loaded_already_is_told(tmp_path, monkeypatch):
    asked: list[int] = []
    config = SimpleNamespace(CACHE_DIR="", NUMBA_NUM_THREADS=2)
    compiler = SimpleNamespace(config=config, set_num_threads=asked.append)
    monkeypatch.setitem(sys.modules, "numba", compiler)
    flags = {"cache_dir": str(tmp_path), "threads": "64"}
    folder = prepare_compiler(resolve_settings(flags, {}))
    assert str(folder) == config.CACHE_DIR
    assert asked == [2], "no more threads than were started"
    assert os.environ["NUMBA_NUM_THREADS"] == "1", "it refuses another number once it runs"


@pytest.mark.skipif(sys.platform in {"win32", "darwin"}, reason="folders of Linux")
def test_the_users_cache_folder_follows_the_system(monkeypatch, tmp_path):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert user_cache_folder() == tmp_path / "nextpair"
    monkeypatch.setenv("XDG_CACHE_HOME", "")
    monkeypatch.setenv("HOME", str(tmp_path))
    assert user_cache_folder() == tmp_path / ".cache" / "nextpair"


@pytest.mark.skipif(sys.platform in {"win32", "darwin"}, reason="folders of Linux")
def test_the_store_lies_in_the_users_data_folder_unless_settings_say_otherwise(
    monkeypatch, tmp_path
):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.delenv("XDG_DATA_HOME", raising=False)
    home = tmp_path / ".local" / "share" / "nextpair"
    assert Program(Settings()).store_place() == str(home / "nextpair.sqlite3")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    assert user_data_folder() == tmp_path / "data" / "nextpair"
    moved = Settings(data_dir=tmp_path / "moved")
    assert Program(moved).store_place() == str(tmp_path / "moved" / "nextpair.sqlite3")
    Program(moved).store().close()
    assert (tmp_path / "moved" / "nextpair.sqlite3").is_file()
    elsewhere = Settings(data_dir=tmp_path, store="postgresql://house/season")
    assert Program(elsewhere).store_place() == "postgresql://house/season"
    assert not (tmp_path / "data").exists()


def test_a_temporary_cache_goes_when_the_program_ends(tmp_path):
    in_the_way = tmp_path / "file"
    in_the_way.write_text("not a folder")
    probe = (
        "from nextpair.bootstrap import prepare_compiler; from pathlib import Path;"
        "from nextpair.application.settings import Settings;"
        f"print(prepare_compiler(Settings(cache_dir=Path({str(in_the_way)!r}))))"
    )
    run = subprocess.run([sys.executable, "-c", probe], capture_output=True, text=True, check=True)
    assert not Path(run.stdout.strip()).exists()


def test_the_bundled_event_has_its_neighbours():
    with Program(Settings()).demo_event() as event:
        assert event.is_file()
        assert (event.parent / "squad.csv").is_file()


def test_the_library_comes_with_the_program():
    program = Program(Settings())
    library = program.load_library()
    assert len(library) >= 12
    assert program.load_pattern(Path(library[0].name)) == library[0]


def test_no_store_is_made_to_look_for_lessons(tmp_path):
    program = Program(Settings(data_dir=tmp_path / "data"))
    assert program.kept_store() is None
    assert program.with_lessons(a_sheet(games=1), EVENT).lessons == ()
    assert list(tmp_path.iterdir()) == []


def test_lessons_of_the_home_account_are_on_its_sheets(tmp_path):
    program = Program(Settings(data_dir=tmp_path / "data"))
    with closing(program.store()) as store:
        owner = home_account(store).id
        folder = load_folder(DEMO / "event.toml")
        earlier = replace(
            folder.bundle, event={**folder.bundle.event, "date": "2026-09-12", "name": "Earlier"}
        )
        decide(store, owner, keep_bundle(store, owner, earlier).id, SINGLE_PINS, accepted=True)
    (lesson,) = program.with_lessons(a_sheet(games=1), EVENT).lessons
    assert (lesson.event, lesson.key) == ("Earlier", SINGLE_PINS.key)
