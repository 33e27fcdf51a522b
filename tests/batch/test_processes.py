"""Batches by processes of this machine: their bytes, and Ctrl+C and kill -9 in the middle."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import time

import pytest

from batch.conftest import EVENTS
from batch_runs import LONGEST_S, command, done_in, offspring, run, sheets, until, until_gone

posix = pytest.mark.skipif(os.name == "nt", reason="signals of POSIX")


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
    with subprocess.Popen(command(*words), stdout=subprocess.DEVNULL) as killed:
        until(lambda: done_in(again))
        children = offspring(killed.pid)
        killed.kill()
    until_gone(children)
    before = done_in(again)
    assert before < EVENTS
    finished = run(*words, "--json")
    assert finished.returncode == 2
    told = json.loads(finished.stdout)
    assert (told["kept"], told["made"]) == (before, EVENTS - before)
    assert sheets(again) == sheets(out)


@posix
@pytest.mark.parametrize(
    "words", [("batch",), ("proof", "--worlds", 24)], ids=["a batch", "a proof"]
)
def test_ctrl_c_ends_processes_at_once_and_says_so(events, tmp_path, words):
    if words == ("batch",):
        words = ("batch", events, "--out", tmp_path / "out")
    with subprocess.Popen(
        command(*words, "--threads", 2), stderr=subprocess.PIPE, text=True
    ) as stopped:
        until(lambda: len(offspring(stopped.pid)) > 1)
        time.sleep(1.0)
        children = offspring(stopped.pid)
        stopped.send_signal(signal.SIGINT)
        _, told = stopped.communicate(timeout=LONGEST_S)
    until_gone(children)
    assert stopped.returncode == 130
    *wrong, last = told.splitlines()
    assert all("wrong/event.toml: " in line for line in wrong)
    if words[0] == "proof":
        assert last == "nextpair: stopped by Ctrl+C"
    else:
        again = "the same command again does the rest"
        assert last == f"nextpair: stopped, {EVENTS} not planned: {again}"
    assert list(tmp_path.rglob("*.part")) == []
