"""The command as a process of its own: exit codes, pipes, encodings."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time

import pytest

from event_folder import DEMO

NEXTPAIR = [sys.executable, "-c", "from nextpair.cli.main import run; run()"]


def run(*words: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [*NEXTPAIR, *words], capture_output=True, env=os.environ | environment, check=False
    )


def test_a_film_is_done():
    done = run("film", str(DEMO / "pattern.toml"))
    assert done.returncode == 0
    assert done.stderr == b""
    assert b"ule of 31" in done.stdout


def test_a_missing_file_is_the_callers(tmp_path):
    done = run("sheet", str(tmp_path / "event.toml"), "--out", str(tmp_path / "out"))
    assert done.returncode == 2
    assert done.stdout == b""
    assert b"event.toml" in done.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(os.name == "nt", reason="signals of POSIX")
@pytest.mark.parametrize("wait_s", [0.0, 1.5], ids=["as it begins", "as it computes"])
def test_ctrl_c_is_told_in_one_line_and_leaves_no_file(tmp_path, wait_s):
    begun = "from nextpair.cli.main import run; print('begun', flush=True); run()"
    words = ["sheet", str(DEMO / "event.toml"), "--out", str(tmp_path / "out")]
    with subprocess.Popen(
        [sys.executable, "-c", begun, *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as stopped:
        assert stopped.stdout is not None
        assert stopped.stdout.readline() == b"begun\n"
        time.sleep(wait_s)
        stopped.send_signal(signal.SIGINT)
        out, told = stopped.communicate(timeout=60)
    assert (stopped.returncode, out) == (130, b"")
    assert told == b"nextpair: stopped by Ctrl+C\n"
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(os.name == "nt", reason="pipes of POSIX")
def test_a_reader_that_stops_early_is_no_error():
    writer = subprocess.Popen(
        [*NEXTPAIR, "film", str(DEMO / "pattern.toml"), "--json"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert writer.stdout is not None
    writer.stdout.close()
    assert writer.stderr is not None
    assert writer.stderr.read() == b""
    assert writer.wait(30) == 0
    writer.stderr.close()


def test_a_terminal_without_our_letters_gets_signs_in_their_place(tmp_path):
    pattern = (DEMO / "pattern.toml").read_text("utf-8")
    named = tmp_path / "pattern.toml"
    named.write_text(pattern.replace('name = "', 'name = "Ångström ', 1), "utf-8")
    done = run("film", str(named), PYTHONIOENCODING="ascii")
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith(b"?ngstr?m ")


def test_the_bundled_shots_are_read():
    done = run("read", str(DEMO / "event.toml"), str(DEMO / "shots.csv"), "--json")
    assert done.returncode == 0, done.stderr
    assert done.stderr == b""
    document = json.loads(done.stdout)
    assert (document["shots"], document["last_game"], document["next_game"]) == (12, 1, 1)
    assert [moves["lane"] for moves in document["moves"]] == [13, 14]


def test_a_log_of_other_lanes_is_the_callers(tmp_path):
    log = (DEMO / "shots.csv").read_text("utf-8").replace(",1,13,", ",1,12,", 1)
    (tmp_path / "shots.csv").write_text(log, "utf-8")
    done = run("read", str(DEMO / "event.toml"), str(tmp_path / "shots.csv"))
    assert done.returncode == 2
    assert done.stdout == b""
    told = done.stderr.decode()
    assert len(told.splitlines()) == 1
    assert "shots.csv: line 2: lane: found 12, allowed: a lane of 13-14, the pair of" in told
