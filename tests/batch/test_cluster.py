"""Batches on a Dask cluster on loopback: the same bytes, and workers and a scheduler that die."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass

import pytest

from batch_runs import command, done_in, run, sheets, until
from batch_workers import dying, job, steady
from nextpair.application.batch import CrewGoneError, State
from nextpair.crew.dask_cluster import DaskCrew

pytest.importorskip("distributed")
posix = pytest.mark.skipif(os.name == "nt", reason="signals of POSIX")
ENDS_S = 60.0
"""Longest that a batch goes on after its scheduler was killed; a second is usual."""
GONE = "the cluster at {} does not answer any more"


@dataclass(frozen=True)
class Cluster:
    """A scheduler and a worker, processes of their own."""

    address: str
    scheduler: subprocess.Popen[bytes]
    worker: subprocess.Popen[bytes]


@pytest.fixture
def cluster(tmp_path) -> Iterator[Cluster]:
    told = tmp_path / "scheduler.json"
    environment = os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)}
    common = ("--host", "127.0.0.1", "--no-dashboard", "--scheduler-file", str(told))

    def begun(program: str, *words: str) -> subprocess.Popen[bytes]:
        return subprocess.Popen(
            [sys.executable, "-m", f"distributed.cli.{program}", *common, *words],
            env=environment,
            cwd=tmp_path,
            stderr=subprocess.DEVNULL,
        )

    scheduler = begun("dask_scheduler", "--port", "0")
    worker = begun("dask_worker", "--nworkers", "1", "--nthreads", "1")
    try:
        until(told.exists)
        yield Cluster(json.loads(told.read_text("utf-8"))["address"], scheduler, worker)
    finally:
        worker.terminate()
        worker.wait(ENDS_S)
        scheduler.kill()
        scheduler.wait(ENDS_S)


def test_dask_makes_the_same_bytes_and_outlives_a_worker_that_dies(by_two, events, tmp_path):
    from distributed import LocalCluster

    out, _ = by_two
    with LocalCluster(
        n_workers=2, threads_per_worker=1, host="127.0.0.1", dashboard_address="127.0.0.1:0"
    ) as local:
        address = local.scheduler_address
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
            assert crew.take()[1].files == {"sheet.json": b"lives"}
        finally:
            crew.close()


def test_a_cluster_that_is_not_there_leaves_nothing_written(events, tmp_path):
    ran = run("batch", events, "--out", tmp_path / "new" / "out", "--cluster", "127.0.0.1:1")
    assert ran.returncode == 2
    assert len(ran.stderr.splitlines()) == 1
    assert "allowed: the address of a Dask scheduler that answers" in ran.stderr
    assert list(tmp_path.iterdir()) == []


@posix
def test_a_scheduler_that_is_killed_ends_the_batch_and_processes_do_the_rest(
    by_two, events, tmp_path, cluster
):
    out, _ = by_two
    again = tmp_path / "out"
    words = ("batch", events, "--out", again, "--json")
    with subprocess.Popen(
        command(*words, "--cluster", cluster.address),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as batch:
        until(lambda: done_in(again))
        cluster.scheduler.kill()
        printed, told = batch.communicate(timeout=ENDS_S)
    assert batch.returncode == 1
    *wrong, last = told.splitlines()
    assert all("wrong/event.toml: " in line for line in wrong)
    gone = GONE.format(cluster.address)
    assert last == f"nextpair: {gone}, 1 not planned: the same command again does the rest"
    document = json.loads(printed)
    assert [document[key] for key in ("made", "failed", "waiting")] == [1, 1, 1]
    lines = [json.loads(line) for line in (again / "batch.jsonl").read_bytes().splitlines()]
    assert sorted(line["state"] for line in lines) == ["done", "refused"]
    rest = run(*words, "--threads", 1)
    assert rest.returncode == 2
    document = json.loads(rest.stdout)
    assert [document[key] for key in ("kept", "made")] == [1, 1]
    assert sheets(again) == sheets(out)


@posix
def test_a_scheduler_that_falls_silent_is_not_waited_for_without_end(cluster):
    crew = DaskCrew(cluster.address, steady, answer_s=ENDS_S, silence_s=2.0)
    try:
        cluster.scheduler.send_signal(signal.SIGSTOP)
        crew.give(0, job("lives"))
        with pytest.raises(CrewGoneError, match=GONE.format(cluster.address)):
            crew.take()
    finally:
        crew.close()
        cluster.scheduler.send_signal(signal.SIGCONT)


@posix
def test_workers_that_went_away_are_not_waited_for_without_end(cluster):
    crew = DaskCrew(cluster.address, steady, answer_s=ENDS_S, alone_s=2.0)
    try:
        cluster.worker.terminate()
        cluster.worker.wait(ENDS_S)
        crew.give(0, job("lives"))
        with pytest.raises(CrewGoneError, match="no workers for too long"):
            crew.take()
    finally:
        crew.close()
