"""Real crews: two processes, and a Dask cluster of two workers on loopback."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from batch_events import little_event
from batch_workers import dying, steady
from nextpair.application.batch import Job, State
from nextpair.crew.processes import ProcessCrew
from small_event import small_event

NEXTPAIR = [sys.executable, "-c", "from nextpair.cli.main import run; run()"]
EVENTS = 2
LONGEST_S = 240
posix = pytest.mark.skipif(os.name == "nt", reason="signals of POSIX")


def command(*words: object) -> list[str]:
    return [*NEXTPAIR, *map(str, words)]


def run(*words: object) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        command(*words), capture_output=True, text=True, timeout=LONGEST_S, check=False
    )


def sheets(out: Path) -> dict[str, bytes]:
    return {path.relative_to(out).as_posix(): path.read_bytes() for path in out.glob("*/*")}


@pytest.fixture(scope="module", autouse=True)
def apart(tmp_path_factory):
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("NEXTPAIR_DATA_DIR", str(tmp_path_factory.mktemp("data")))
        yield


@pytest.fixture(scope="module")
def events(tmp_path_factory) -> Path:
    root = tmp_path_factory.mktemp("events")
    for number in range(EVENTS):
        little_event(root / f"e{number}", f"Little Open {number}")
    little_event(root / "wrong").write_text("games = 0", "utf-8")
    return root


@pytest.fixture(scope="module")
def by_two(events, tmp_path_factory) -> tuple[Path, subprocess.CompletedProcess[str]]:
    out = tmp_path_factory.mktemp("two") / "out"
    return out, run("batch", events, "--out", out, "--threads", 2, "--json")


def test_two_processes_plan_what_can_be_planned_and_tell_the_rest(by_two, events):
    out, ran = by_two
    assert ran.returncode == 2
    told = json.loads(ran.stdout)
    assert (told["made"], told["failed"], told["crew"]) == (EVENTS, 1, "2 processes")
    lines = ran.stderr.splitlines()
    assert lines
    assert all(line.startswith(f"nextpair: {events}/wrong/event.toml: ") for line in lines)
    expected = {f"e{n}/sheet.{form}" for n in range(EVENTS) for form in ("json", "html")}
    assert set(sheets(out)) == expected


def test_a_sheet_of_a_batch_is_that_of_the_command(by_two, events):
    out, _ = by_two
    alone = run("sheet", events / "e1" / "event.toml", "--json")
    assert alone.stdout.encode() == sheets(out)["e1/sheet.json"]


@posix
def test_a_killed_batch_goes_on_to_the_same_bytes(by_two, events, tmp_path):
    out, _ = by_two
    again = tmp_path / "out"
    words = ("batch", events, "--out", again, "--threads", 1)
    manifest = again / "batch.jsonl"
    with subprocess.Popen(command(*words), stdout=subprocess.DEVNULL) as killed:
        until(lambda: manifest.exists() and b'"done"' in manifest.read_bytes())
        children = offspring(killed.pid)
        killed.kill()
    until(lambda: not any(map(is_alive, children)))
    before = manifest.read_bytes().count(b'"done"')
    assert before < EVENTS
    finished = run(*words, "--json")
    assert finished.returncode == 2
    told = json.loads(finished.stdout)
    assert (told["kept"], told["made"]) == (before, EVENTS - before)
    assert sheets(again) == sheets(out)


def test_dask_makes_the_same_bytes_and_outlives_a_worker_that_dies(by_two, events, tmp_path):
    distributed = pytest.importorskip("distributed")
    from nextpair.crew.dask_cluster import DaskCrew

    out, _ = by_two
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, host="127.0.0.1", dashboard_address="127.0.0.1:0"
    ) as cluster:
        address = cluster.scheduler_address
        ran = run("batch", events, "--out", tmp_path / "out", "--cluster", address, "--json")
        assert ran.returncode == 2, ran.stderr
        assert json.loads(ran.stdout)["crew"] == "Dask, 2 workers"
        assert sheets(tmp_path / "out") == sheets(out)
        crew = DaskCrew(address, dying)
        try:
            crew.give(0, job("dies"))
            number, finished = crew.take()
        finally:
            crew.close()
        assert (number, finished.state, finished.tried_again) == (0, State.LOST, True)
        crew = DaskCrew(address, steady)
        try:
            crew.give(5, job("lives"))
            assert crew.take()[1].files == {"name": b"lives"}
        finally:
            crew.close()
    gone = run("batch", events / "e0", "--out", tmp_path / "no", "--cluster", "127.0.0.1:1")
    assert gone.returncode == 2
    assert "allowed: the address of a Dask scheduler that answers" in gone.stderr
    assert not (tmp_path / "no").exists()


def job(name: str) -> Job:
    from dataclasses import replace

    return Job(replace(small_event(), name=name), 7, ("json",), ())


def test_a_process_that_dies_takes_its_own_item_with_it_and_no_other():
    crew = ProcessCrew(2, dying)
    try:
        crew.give(0, job("dies"))
        crew.give(1, job("lives"))
        assert crew.room() == 0
        ended = dict(crew.take() for _ in range(2))
        assert (ended[0].state, ended[1].files) == (State.LOST, {"name": b"lives"})
        crew.give(2, job("lives"))
        assert crew.take()[1].state is State.DONE
    finally:
        crew.close()


@posix
def test_ctrl_c_ends_at_once_and_says_how_to_go_on(events, tmp_path):
    words = command("batch", events, "--out", tmp_path / "out", "--threads", 1)
    with subprocess.Popen(words, stderr=subprocess.PIPE, text=True) as stopped:
        until(lambda: offspring(stopped.pid))
        time.sleep(1.0)
        children = offspring(stopped.pid)
        stopped.send_signal(signal.SIGINT)
        _, told = stopped.communicate(timeout=LONGEST_S)
    assert stopped.returncode == 130
    assert "stopped, " in told
    assert "the same command again does the rest" in told
    assert "Traceback" not in told
    until(lambda: not any(map(is_alive, children)))
    assert list((tmp_path / "out").rglob("*.part")) == []


def until(true) -> None:
    ends_s = time.monotonic() + LONGEST_S
    while not true():
        assert time.monotonic() < ends_s, "waited too long"
        time.sleep(0.05)


def offspring(pid: int) -> list[int]:
    """Processes that a process started and that still run."""
    try:
        told = Path(f"/proc/{pid}/task/{pid}/children").read_text("ascii")
    except OSError:
        return []
    return [int(child) for child in told.split()]


def is_alive(pid: int) -> bool:
    try:
        state = Path(f"/proc/{pid}/stat").read_text("ascii").rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"
