"""How long a fresh process takes to help and to a first shot."""

from __future__ import annotations

import subprocess
import sys
import time
from importlib.resources import as_file, files

import numpy as np

from nextpair.files import load_event

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
        }


def _wall_s(arguments: tuple[str, ...], runs: int) -> float:
    took_s = []
    for _ in range(runs + 1):
        start_s = time.perf_counter()
        subprocess.run([*PROGRAM, *arguments], check=True, capture_output=True)
        took_s.append(time.perf_counter() - start_s)
    return float(np.median(took_s[1:]))
