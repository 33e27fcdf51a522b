"""Names that become files: each is a plain one, in the folder that it belongs to; and what is no
file is not read."""

from __future__ import annotations

import json
import os
from dataclasses import asdict, replace
from pathlib import Path, PurePosixPath
from urllib.parse import quote

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from event_folder import DEMO, copy_of_demo
from nextpair.application.batch import MANIFEST, Item, ItemRecord, State, folders_of
from nextpair.cli.main import WRONG_INPUT, exit_code
from nextpair.domain.errors import InputRefusedError, InvalidValueError
from nextpair.files import FilePapers
from nextpair.files.batch_folder import BatchFolder
from nextpair.files.documents import load_folder
from nextpair.files.folder import Memory
from nextpair.files.intake import Intake, Source
from nextpair.files.pattern_library import library_files, read_library_pattern
from nextpair.web.pages import BUILT
from security.test_hostile_input import soon
from served import client_of, home_at

PIECES = st.sampled_from(
    ["..", ".", "/", "\\", "//", "~", "a", "C:", ":", "%2e%2e", "%2f", "%5c", "\0", "\n", " ", "-",
     "‥", "／", "＼", "event.toml", "etc", "passwd", "con", "batch.jsonl", "index.html", "é", "*"]
)  # fmt: skip
NAMES = st.lists(PIECES, min_size=1, max_size=6).map("".join)
OURS = {"event.toml", "house.toml", "pattern.toml", "bowler.toml", "locker.csv", "squad.csv"}
PLAIN = frozenset("/\\\0")
quick = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)


def is_plain(name: str) -> bool:
    """Whether a name is one part of a path, on any system, and none that leads up."""
    return name not in ("", ".", "..") and not PLAIN & set(name)


def a_record(item: str, folder: str, file: str = "sheet.json") -> ItemRecord:
    return ItemRecord(item, folder, "Open", "i", 7, "m", "p", State.DONE, 1.0, {file: "0"}, ())


@given(st.lists(NAMES, min_size=1, max_size=4, unique=True))
@example(["a\\b/event.toml", "a/b/event.toml"])
@example(["../event.toml", "..", "/"])
@quick
def test_a_batch_writes_into_plain_folders_one_for_each_event(names):
    folders = folders_of([Item(Path(name), name) for name in names], {})
    assert all(is_plain(folder) for folder in folders.values()), folders
    assert len({folder.casefold() for folder in folders.values()} | {MANIFEST}) == len(names) + 1


@given(NAMES, NAMES)
@example("..", "sheet.json")
@example("a\\b", "sheet.json")
@example("plain", "../sheet.json")
@quick
def test_a_batch_believes_no_manifest_that_leads_out_of_its_folder(tmp_path, folder, file):
    line = asdict(a_record("event.toml", folder, file)) | {"state": State.DONE.value}
    (tmp_path / MANIFEST).write_text(json.dumps(line) + "\n", "utf-8")
    try:
        tray = BatchFolder(tmp_path, lambda _: None)
    except InvalidValueError:
        assert not (is_plain(folder) and is_plain(file))
    else:
        tray.close()
        assert is_plain(folder)
        assert is_plain(file)


@pytest.fixture(scope="module")
def bundle():
    return load_folder(DEMO / "event.toml").bundle


@given(NAMES)
@settings(quick, max_examples=10)
def test_the_files_of_an_event_have_names_of_ours_whatever_it_is_called(bundle, name):
    event = bundle.event | {"name": name}
    earlier = tuple(replace(one, name=name) for one in bundle.earlier)
    called = replace(bundle, event=event, squad_name=name, earlier=earlier)
    try:
        texts = FilePapers().folder(called)
    except InputRefusedError:
        return
    assert set(texts) <= OURS


@given(NAMES)
@quick
def test_no_pattern_comes_from_outside_the_library(name):
    with library_files() as paths:
        listed = {path.stem for path in paths}
    intake = Intake()
    source = Source.first(PurePosixPath("event.toml"), Memory())
    read_library_pattern(name, source, "pattern", intake)
    assert bool(intake.problems) == ("-".join(name.casefold().split()) not in listed)


@pytest.fixture(scope="module")
def client():
    with client_of(home_at()) as client:
        yield client


@given(NAMES)
@quick
def test_every_page_that_is_answered_is_a_built_one(client, name):
    built = {path.read_bytes() for path in BUILT.rglob("*") if path.is_file()}
    for page in ("/", "/lanes/"):
        answer = client.get(page + quote(name, safe=""), follow_redirects=False)
        assert answer.status_code in (307, 404) or answer.content in built, name
        assert answer.status_code != 307 or answer.headers["location"].startswith(
            str(client.base_url)
        )


READ = {
    "event.toml": (
        ["sheet", "event.toml"],
        ["import", "event.toml"],
        ["batch", "event.toml", "--out", "o"],
    ),
    "shots.csv": (
        ["read", "event.toml", "shots.csv"],
        ["debrief", "event.toml"],
        ["import", "event.toml"],
    ),
    "squad.csv": (["sheet", "event.toml"], ["standing", "event.toml", "scores.csv"]),
    "scores.csv": (["standing", "event.toml", "scores.csv"], ["score", "scores.csv"]),
    "house.toml": (["house", "--take-in", "house.toml"], ["spares", "event.toml"]),
    "archive.json": (["unpack", "archive.json"],),
    "backup.sqlite3": (
        ["restore", "backup.sqlite3"],
        ["backup", "c", "--store", "backup.sqlite3"],
    ),
    "events.txt": (["batch", "--list", "events.txt", "--out", "o"],),
}


@pytest.mark.parametrize("kind", ["pipe", "device"])
@pytest.mark.parametrize(
    ("file", "command"),
    [(file, command) for file, commands in READ.items() for command in commands],
    ids=lambda told: told if isinstance(told, str) else " ".join(told),
)
def test_a_pipe_or_a_device_in_place_of_a_file_is_refused(
    tmp_path, monkeypatch, capsys, kind, file, command
):
    folder = copy_of_demo(tmp_path)
    monkeypatch.chdir(folder)
    monkeypatch.setenv("NEXTPAIR_DATA_DIR", str(tmp_path / "data"))
    place = folder / file
    place.unlink(missing_ok=True)
    if kind == "pipe":
        os.mkfifo(place)
    else:
        place.symlink_to("/dev/zero")
    with soon():
        code = exit_code(command)
    told = capsys.readouterr().err
    assert code == WRONG_INPUT, told
    assert file in told
    assert place.is_symlink() or place.is_fifo()
