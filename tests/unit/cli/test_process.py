"""The command as a process of its own: exit codes, pipes, encodings."""

from __future__ import annotations

import os
import subprocess
import sys

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
