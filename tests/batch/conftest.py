"""Little events, planned once by two processes: what all others are held against.

`make batch-suite` runs it; other test runs skip it, since it plans for a minute.
"""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

import pytest

from batch_events import little_event
from batch_runs import run

ASKED = "NEXTPAIR_BATCH"
EVENTS = 2


@pytest.fixture(scope="session", autouse=True)
def asked(tmp_path_factory):
    """Skips where nobody asked for the suite; nothing goes to the user's own data."""
    if os.environ.get(ASKED) != "1":
        pytest.skip("`make batch-suite` runs it, for a minute")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("NEXTPAIR_DATA_DIR", str(tmp_path_factory.mktemp("data")))
        yield


@pytest.fixture(scope="session")
def events(tmp_path_factory) -> Path:
    """A folder of events, and one that is wrong."""
    root = tmp_path_factory.mktemp("events")
    for number in range(EVENTS):
        little_event(root / f"e{number}", f"Little Open {number}")
    little_event(root / "wrong").write_text("games = 0", "utf-8")
    return root


@pytest.fixture(scope="session")
def by_two(events, tmp_path_factory) -> tuple[Path, subprocess.CompletedProcess[str]]:
    """Where two processes planned them, and what was said."""
    out = tmp_path_factory.mktemp("two") / "out"
    return out, run("batch", events, "--out", out, "--threads", 2, "--json")
