"""Stores that a server of its own can serve; the suite runs where it is asked for, for minutes."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from contracts.servers import NEEDED, postgresql, postgresql_programs
from load.latency import Latency

ASKED = "NEXTPAIR_LOAD"
FIGURES = Path("build/load.json")


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say how long syncs took."""
    if not Latency.figures:
        return
    FIGURES.parent.mkdir(parents=True, exist_ok=True)
    FIGURES.write_text(json.dumps(Latency.figures, indent=2) + "\n", "utf-8")
    for name, told in Latency.figures.items():
        figures = ", ".join(f"{key} {value}" for key, value in told.items())
        terminalreporter.write_line(f"sync of fifty phones, {name}: {figures}")


@pytest.fixture(autouse=True)
def asked() -> None:
    """Skips where nobody asked for the suite."""
    if os.environ.get(ASKED) != "1":
        pytest.skip("`make load` runs it, for minutes")


@pytest.fixture(params=["sqlite", "postgresql"])
def place(request, tmp_path) -> Iterator[str]:
    """Where a store can be made, in each kind of database."""
    if request.param == "sqlite":
        yield f"sqlite:///{tmp_path}/store.sqlite3"
        return
    programs = postgresql_programs()
    if programs is None:
        assert NEEDED not in os.environ, f"{NEEDED} is set and no PostgreSQL server is installed"
        pytest.skip("no PostgreSQL server is installed")
    with postgresql(programs, fsync="on") as url:
        yield url
