"""The program under test as a process of its own: started, asked, stopped, killed."""

from __future__ import annotations

import contextlib
import json
import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path
from typing import Any, Self
from urllib.error import HTTPError
from urllib.request import HTTPCookieProcessor, Request, build_opener
from uuid import UUID

START_WITHIN_S = 60.0
STOP_WITHIN_S = 15.0
JOB_WITHIN_S = 900.0


def program() -> list[str]:
    """The command: the wheel installed alone where NEXTPAIR_BIN names it, else this checkout."""
    installed = os.environ.get("NEXTPAIR_BIN")
    if installed:
        return [installed]
    return [sys.executable, "-c", "from nextpair.cli.main import run; run()"]


def environment(store: Path | str) -> dict[str, str]:
    """The variables of a run that keeps everything in one place and knows nothing of the checkout
    if it is an installed one."""
    kept = dict(os.environ)
    if "NEXTPAIR_BIN" in kept:
        kept.pop("PYTHONPATH", None)
    return kept | {"NEXTPAIR_STORE": str(store), "PYTHONUNBUFFERED": "1"}


def run_program(*words: str, store: Path | str, told: str = "") -> str:
    """What a command prints that is told something. Raises CalledProcessError."""
    done = subprocess.run(
        [*program(), *words],
        env=environment(store),
        input=told,
        capture_output=True,
        text=True,
        check=True,
        cwd=store.parent if isinstance(store, Path) else "/",
    )
    return done.stdout


def free_port() -> int:
    """A port that nobody listens on now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
    return port


class Server:
    """`nextpair serve` on a port and a store of its own, a file in the folder unless it is told
    another; both outlive the process."""

    def __init__(self, folder: Path, *options: str, store: str = "") -> None:
        self.store = store or folder / "nextpair.sqlite3"
        self.port = free_port()
        self.url = f"http://127.0.0.1:{self.port}"
        self._options = options
        self._words = folder / "server.txt"
        self._process: subprocess.Popen[bytes] | None = None
        self._visitor = build_opener(HTTPCookieProcessor())

    def __enter__(self) -> Self:
        self.start()
        return self

    def __exit__(self, *_raised: object) -> None:
        self.stop()

    def start(self) -> None:
        """Run it until it answers. Raises RuntimeError with what it said."""
        with self._words.open("ab") as words:
            self._process = subprocess.Popen(
                [*program(), "serve", "--port", str(self.port), *self._options],
                env=environment(self.store),
                stdout=words,
                stderr=words,
                cwd=self._words.parent,
                start_new_session=True,
            )
        ends_s = time.monotonic() + START_WITHIN_S
        while time.monotonic() < ends_s and self._process.poll() is None:
            try:
                self.ask("/status")
            except OSError:
                time.sleep(0.05)
            else:
                return
        self.stop()
        raise RuntimeError(f"the server did not start:\n{self.words}")

    @property
    def words(self) -> str:
        """What it said on the terminal."""
        return self._words.read_text("utf-8", "replace")

    def stop(self) -> None:
        """Ask it to stop, as Ctrl+C does; kill what is left of it."""
        if self._process is None:
            return
        if self._process.poll() is None:
            self._process.send_signal(signal.SIGINT)
            with contextlib.suppress(subprocess.TimeoutExpired):
                self._process.wait(STOP_WITHIN_S)
        self.kill()

    def kill(self) -> None:
        """SIGKILL to all of it: nothing of it gets to tidy up."""
        if self._process is None:
            return
        with contextlib.suppress(ProcessLookupError):
            os.killpg(self._process.pid, signal.SIGKILL)
        self._process.wait()
        self._process = None

    def ask(self, path: str, body: Any = None, method: str | None = None) -> Any:
        """The JSON that an API path answers. Raises OSError; its HTTPError tells what was said."""
        request = Request(
            f"{self.url}/api/v1{path}",
            data=None if body is None else json.dumps(body).encode(),
            headers={"Content-Type": "application/json"},
            method=method,
        )
        try:
            with self._visitor.open(request, timeout=30) as answer:
                return json.load(answer)
        except HTTPError as refused:
            with refused:
                refused.add_note(refused.read().decode("utf-8", "replace")[:2000])
            raise

    def sign_in(self, name: str, password: str) -> None:
        """Ask as somebody from now on."""
        self.ask("/sign-in", {"name": name, "password": password})

    def log(self, event: UUID) -> list[dict[str, Any]]:
        """Everything that it keeps of an event's log, in its order."""
        items: list[dict[str, Any]] = []
        while more := self.ask(f"/events/{event}/log?after={len(items)}")["items"]:
            items += more
        return items

    def finish_job(self, event: str, kind: str) -> dict[str, Any]:
        """Order a job and wait until it is done. Raises RuntimeError with why it is not."""
        job = self.ask(f"/events/{event}/jobs", {"kind": kind})
        ends_s = time.monotonic() + JOB_WITHIN_S
        while job["state"] in ("waiting", "running") and time.monotonic() < ends_s:
            time.sleep(0.2)
            job = self.ask(f"/jobs/{job['id']}")
        if job["state"] != "done":
            raise RuntimeError(f"{kind}: {job['state']} {job['why']}")
        return dict(job)
