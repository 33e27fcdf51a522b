"""Settings of every test run: how hard hypothesis searches, and where compiled code is kept."""

from __future__ import annotations

import json
import os
import tempfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

from nextpair.application.settings import Settings
from nextpair.bootstrap import prepare_compiler
from reference.record import PROPERTY, Record

settings.register_profile("dev", max_examples=50, deadline=None)
settings.register_profile("ci", max_examples=200, deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "dev")

# As the program does it, before anything compiled is imported: edits of the model must count.
prepare_compiler(Settings())

# Nothing that a test does goes to the data folder of whoever runs it.
os.environ["XDG_DATA_HOME"] = str(Path(tempfile.gettempdir()) / "nextpair-tests")

FINDINGS = ("tests/reference/", "tests/kernel/")
"""Where numbers are held against authorities, in the order of docs/validation.md."""


class FindingsFile:
    """Writes down what was held against authorities, for tools/validation.py."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._found: list[tuple[str, list[dict[str, Any]]]] = []

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        found = [value for name, value in report.user_properties if name == PROPERTY]
        if report.when == "call" and report.nodeid.startswith(FINDINGS):
            self._found.append((report.nodeid.partition("::")[0], found))

    def pytest_sessionfinish(self) -> None:
        by_file = sorted(self._found, key=lambda one: (one[0].startswith(FINDINGS[1]), one[0]))
        self._path.parent.mkdir(parents=True, exist_ok=True)
        self._path.write_text(json.dumps([one for _, found in by_file for one in found]), "utf-8")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--findings", type=Path, help="write what authorities say to this file")


def pytest_configure(config: pytest.Config) -> None:
    path = config.getoption("--findings")
    if path is not None and not hasattr(config, "workerinput"):
        config.pluginmanager.register(FindingsFile(path))


@pytest.fixture
def record(record_property) -> Record:
    """Checks numbers against an outside authority and keeps them for docs/validation.md."""
    return Record(record_property)
