"""How long the server takes to answer while it computes a sheet."""

from __future__ import annotations

import math
import time
from http.client import HTTPConnection
from typing import Any

from browser.running import Server

PATHS = (
    "/status",
    "/records/event",
    "/records/ball",
    "/jobs?active=true",
    "/events/{event}/summary",
    "/events/{event}/log?after=0",
)
FEWEST = 300
"""Answers that a 99th percentile needs."""


def answer_times(server: Server, event: str) -> dict[str, Any]:
    """Median, 99th percentile and worst of the answers from the order of a sheet to its end, one
    asked after the other as by one page, with the number of answers and of sheets."""
    times_ms: list[float] = []
    sheets = 0
    connection = HTTPConnection("127.0.0.1", server.port, timeout=30)
    while len(times_ms) < FEWEST:
        job = server.ask(f"/events/{event}/jobs", {"kind": "sheet", "seed": 1000 + sheets})
        sheets += 1
        while job["state"] in ("waiting", "running"):
            times_ms += [_asked(connection, path.format(event=event)) for path in PATHS]
            time.sleep(0.02)
            job = server.ask(f"/jobs/{job['id']}")
    connection.close()
    times_ms.sort()
    return {
        "api.p99_ms": times_ms[math.ceil(0.99 * len(times_ms)) - 1],
        "seen.api_median_ms": times_ms[len(times_ms) // 2],
        "seen.api_worst_ms": times_ms[-1],
        "seen.api_answers": len(times_ms),
        "seen.api_sheets": sheets,
    }


def _asked(connection: HTTPConnection, path: str) -> float:
    begun_s = time.perf_counter()
    connection.request("GET", f"/api/v1{path}")
    answer = connection.getresponse()
    answer.read()
    took_ms = (time.perf_counter() - begun_s) * 1000
    if answer.status != 200:
        raise RuntimeError(f"{path}: {answer.status}")
    return took_ms
