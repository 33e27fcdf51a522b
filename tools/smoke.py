"""The installed program tried out where nothing else is: `python tools/smoke.py PROGRAM OUT.json`.

Standard library only: it runs in an empty environment, on any Python that the wheel is for. Help,
version, the demo's sheet (written to OUT.json), the app's first page and its status, backup and
restore, and the doctor. It ends with a line a step, and with 1 at the first that is not well.
"""

from __future__ import annotations

import json
import os
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

HANG_S = 300
FIRST_PAGE_S = 120
"""Long after it must be there: a hang, not a bar."""


def main(program: str, out: Path) -> None:
    """Every step in turn."""
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        settings = {
            "NEXTPAIR_DATA_DIR": str(home / "data"),
            "NEXTPAIR_CACHE_DIR": str(home / "cache"),
            "PATH": os.environ.get("PATH", ""),
            "LC_ALL": "C.UTF-8",
        }

        def call(*words: str) -> str:
            done = subprocess.run(
                [program, *words], cwd=home, env=settings, timeout=HANG_S,
                capture_output=True, text=True, check=False,
            )  # fmt: skip
            if done.returncode:
                sys.exit(
                    f"smoke: {' '.join(words)}: {done.returncode}\n{done.stdout}{done.stderr}"
                )
            print(f"smoke: {' '.join(words)}", flush=True)
            return done.stdout

        require("sheet" in call("--help"), "help lists no sheet")
        version = call("--version").split()
        require(version[:1] == ["nextpair"], f"the version is told as {version}")
        sheet = json.loads(call("demo", "--json"))
        require(sheet["model_version"] == version[-1], "the sheet is of another model")
        out.write_text(json.dumps(sheet, indent=1))
        call("demo", "--season")
        call("backup", "season.sqlite3")
        call("restore", "season.sqlite3")
        call("house")
        doctor = json.loads(call("doctor", "--json"))
        told = {one["name"]: one["verdict"] for one in doctor["checks"]}
        require(told["numbers"] == told["store"] == "ok", f"the doctor says {told}")
        serve(program, settings, home, version)
    print(f"smoke: {' '.join(version)} on Python {sys.version.split()[0]} is well")


def serve(program: str, settings: dict[str, str], folder: Path, version: list[str]) -> None:
    """The first page, and what runs there."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    server = subprocess.Popen([program, "serve", "--port", str(port)], env=settings, cwd=folder)
    begun_s = time.monotonic()
    try:
        while True:
            try:
                page = fetched(port, "/")
                break
            except OSError:
                late = time.monotonic() - begun_s > FIRST_PAGE_S
                require(server.poll() is None and not late, "no page came")
                time.sleep(0.02)
        took_s = time.monotonic() - begun_s
        require("<script" in page, "the first page is not the built one")
        require("<script" in fetched(port, "/lanes/"), "the phone's page is not the built one")
        status = json.loads(fetched(port, "/api/v1/status"))
        told = [status["version"], status["model_version"]]
        require(told == [version[1].rstrip(","), version[-1]], f"the status tells {told}")
        print(f"smoke: serve, the first page after {took_s:.2f} s", flush=True)
    finally:
        server.terminate()
        server.wait(HANG_S)


def fetched(port: int, path: str) -> str:
    """What the server answers."""
    with urllib.request.urlopen(f"http://127.0.0.1:{port}{path}", timeout=HANG_S) as answer:
        return str(answer.read().decode())


def require(well: bool, words: str) -> None:
    """Stop at what is not well."""
    if not well:
        sys.exit(f"smoke: {words}")


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]))
