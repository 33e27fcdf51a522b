"""The log file: where in the program, never with what; bounded; no reason to fail."""

from __future__ import annotations

import json
import logging
import os
import stat
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from starlette.datastructures import Headers

from nextpair.application.settings import Settings
from nextpair.bootstrap import log_file
from nextpair.bootstrap.log_file import KEPT, LogFile, log_path, told, write_fault
from nextpair.cli import main
from nextpair.web.access import Gate
from nextpair.web.address import Address

SECRET = "Orsolya Tarn's knee, 4 of May"
LARGEST = 3000
WRITER = """
import sys, pathlib
from nextpair.bootstrap.log_file import LogFile
log = LogFile(pathlib.Path(sys.argv[1]), int(sys.argv[2]))
for number in range(150):
    log.write({"by": sys.argv[3], "number": number, "long": "x" * 60})
"""


def entries(log: Path) -> list[dict]:
    files = sorted(log.parent.glob(f"{log.name}*"), reverse=True)
    return [json.loads(line) for file in files for line in file.read_text("utf-8").splitlines()]


def fault(words: str = SECRET) -> Exception:
    try:
        try:
            raise KeyError(words)
        except KeyError as cause:
            raise ValueError(words) from cause
    except ValueError as error:
        return error


def of(name: str, message: str, *args: object, **more: object) -> logging.LogRecord:
    record = logging.LogRecord(name, logging.ERROR, __file__, 1, message, args, None)
    record.__dict__.update(more)
    return record


def test_a_fault_is_told_by_kind_and_place_without_its_words(tmp_path):
    path = write_fault(Settings(data_dir=tmp_path), "sheet", fault())
    [entry] = entries(path)
    assert (entry["fault"], entry["by"], entry["what"]) == ("ValueError", ["KeyError"], "sheet")
    assert any(step.startswith("test_log_file.py:") for step in entry["steps"])
    assert SECRET not in path.read_text("utf-8")
    assert str(Path.home()) not in path.read_text("utf-8")


@pytest.mark.parametrize(
    "record",
    [
        of("nextpair.web", "cannot: %s", ValueError(SECRET)),
        of("nextpair.web", f"a line\n{SECRET}"),
        of("nextpair.web", "a fault", fault=fault()),
        of("nextpair.web", "a fault", exc_info=(ValueError, fault(), None)),
        of("uvicorn.error", f"a request of {SECRET}"),
        of("asyncio", "a task: %s", SECRET, exc_info=(ValueError, fault(), None)),
        of("sqlalchemy.engine", "INSERT %s", {"name": SECRET}),
    ],
    ids=["argument", "second-line", "extra", "trace", "uvicorn", "asyncio", "sqlalchemy"],
)
def test_no_logger_brings_what_was_worked_on_into_the_file(record):
    assert SECRET not in json.dumps(told(record), ensure_ascii=False)


def test_the_home_folder_is_not_named():
    record = of("nextpair.store", "no copy at %s", Path.home() / "x")
    assert told(record)["what"] == f"no copy at ~{os.sep}x"


def test_a_fault_of_the_server_is_in_the_file_without_the_request(tmp_path, caplog):
    async def broken(scope, receive, send):
        raise RuntimeError(SECRET)

    import asyncio

    log = LogFile(tmp_path / "log" / "nextpair.log")
    logging.getLogger("nextpair.web").addHandler(log)
    headers = Headers({"host": "127.0.0.1:8707", "authorization": SECRET}).raw
    scope = {"type": "http", "method": "GET", "path": f"/{SECRET}", "headers": headers}
    try:
        asyncio.run(Gate(broken, Address())(scope, None, None))
    finally:
        logging.getLogger("nextpair.web").removeHandler(log)
    text = log.path.read_text("utf-8")
    assert "RuntimeError" in text
    assert SECRET not in text


def test_files_are_bounded_and_every_line_is_whole(tmp_path):
    log = LogFile(tmp_path / "nextpair.log", LARGEST)
    for number in range(400):
        log.write({"number": number})
    files = list(tmp_path.glob("nextpair.log*"))
    assert len(files) == KEPT
    assert all(file.stat().st_size < LARGEST + 100 for file in files)
    numbers = [entry["number"] for entry in entries(log.path)]
    assert numbers == list(range(numbers[0], 400))


@pytest.mark.skipif(os.name == "nt", reason="without locks of files the last one wins")
def test_two_processes_write_one_file_and_lose_nothing(tmp_path):
    log = tmp_path / "nextpair.log"
    largest = 150 * 2 * 110 // 2  # moved on twice at most: all of it is still there
    words = [sys.executable, "-c", WRITER, str(log), str(largest)]
    writers = [subprocess.Popen([*words, name]) for name in ("a", "b")]
    assert [writer.wait() for writer in writers] == [0, 0]
    found = entries(log)
    for name in ("a", "b"):
        assert sorted(one["number"] for one in found if one["by"] == name) == list(range(150))


def test_threads_that_find_it_full_at_once_move_it_on_once(tmp_path):
    log = LogFile(tmp_path / "nextpair.log", LARGEST)
    log.path.write_text("x" * LARGEST + "\n")
    with ThreadPoolExecutor(8) as pool:
        list(pool.map(lambda number: log.write({"number": number}), range(8)))
    assert (tmp_path / "nextpair.log.1").stat().st_size == LARGEST + 1
    assert len(log.path.read_text().splitlines()) == 8


def test_a_long_line_is_cut_and_still_json(tmp_path):
    log = LogFile(tmp_path / "nextpair.log")
    log.write({"steps": [f"module_{number}.py:1 called" for number in range(900)]})
    [entry] = entries(log.path)
    assert entry["steps"][-1] == "module_899.py:1 called"
    assert log.path.stat().st_size < log_file.LONGEST_LINE


@pytest.mark.skipif(os.name == "nt", reason="permissions of POSIX")
def test_it_is_its_users_alone(tmp_path):
    path = write_fault(Settings(data_dir=tmp_path / "data"), "sheet", fault())
    for one in (path, path.parent, path.parent.parent):
        assert stat.S_IMODE(one.stat().st_mode) & 0o077 == 0


def test_that_it_cannot_be_written_is_no_reason_to_fail(tmp_path, monkeypatch, capsys):
    (tmp_path / "log").write_text("a file where the folder would be")
    settings = Settings(data_dir=tmp_path)
    assert write_fault(settings, "sheet", fault()) is None
    LogFile(log_path(settings)).emit(of("nextpair.web", "a fault"))
    monkeypatch.setenv("NEXTPAIR_DATA_DIR", str(tmp_path))

    def broken(_settings):
        raise ZeroDivisionError("by nought")

    assert main.exit_code(["season"], broken) == 1
    told_ = capsys.readouterr().err
    assert told_.count("\n") == 1
    assert "nextpair.log" not in told_


def test_a_command_that_fails_names_the_file_and_only_the_command_is_in_it(
    tmp_path, monkeypatch, capsys
):
    monkeypatch.setenv("NEXTPAIR_DATA_DIR", str(tmp_path))

    def broken(_settings):
        raise ZeroDivisionError(SECRET)

    assert main.exit_code(["house", SECRET], broken) == 1
    log = log_path(Settings(data_dir=tmp_path))
    assert str(log) in capsys.readouterr().err
    [entry] = entries(log)
    assert entry["what"] == "house"
    assert SECRET not in log.read_text("utf-8")
