"""How long a fresh process takes to help, to a first shot, and to the first page."""

from __future__ import annotations

import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from importlib.resources import as_file, files

import numpy as np

from nextpair.files import load_event

PATIENCE_S, ASKED_EVERY_S = 60.0, 0.005
PROGRAM = (sys.executable, "-c", "from nextpair.cli.main import run; run()")


def starts(runs: int) -> dict[str, float]:
    """Seconds on the wall, medians; the first run of each, which may compile, does not count."""
    with as_file(files("nextpair") / "demo") as folder:
        event = folder / "event.toml"
        ball = load_event(event).locker[0].name
        path = ("path", str(event), "--ball", ball, "--laydown", "24", "--angle", "2")
        return {
            "start.compute_s": _wall_s(path, runs),
            "start.help_s": _wall_s(("--help",), runs),
            "start.page_s": _page_s(runs),
        }


def _page_s(runs: int) -> float:
    """Seconds until `nextpair serve` has answered with the page at home, on a store that is
    there."""
    with tempfile.TemporaryDirectory() as folder, socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
        probe.close()
        words = ("serve", "--port", str(port), "--data-dir", folder)
        return float(np.median([_until_page_s(words, port) for _ in range(runs + 1)][1:]))


def _until_page_s(words: tuple[str, ...], port: int) -> float:
    start_s = time.perf_counter()
    server = subprocess.Popen([*PROGRAM, *words], stderr=subprocess.DEVNULL)
    try:
        while True:
            try:
                with urllib.request.urlopen(
                    f"http://127.0.0.1:{port}/", timeout=PATIENCE_S
                ) as page:
                    page.read()
                return time.perf_counter() - start_s
            except OSError:
                if server.poll() is not None or time.perf_counter() - start_s > PATIENCE_S:
                    raise
                time.sleep(ASKED_EVERY_S)
    finally:
        server.terminate()
        server.wait()


def _wall_s(arguments: tuple[str, ...], runs: int) -> float:
    took_s = []
    for _ in range(runs + 1):
        start_s = time.perf_counter()
        subprocess.run([*PROGRAM, *arguments], check=True, capture_output=True)
        took_s.append(time.perf_counter() - start_s)
    return float(np.median(took_s[1:]))
