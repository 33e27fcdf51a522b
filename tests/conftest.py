"""Settings of every test run: how hard hypothesis searches, and where compiled code is kept."""

from __future__ import annotations

import os

import pytest
from hypothesis import settings

from nextpair.application.settings import Settings
from nextpair.bootstrap import prepare_compiler
from reference.record import Record

settings.register_profile("dev", max_examples=50, deadline=None)
settings.register_profile("ci", max_examples=200, deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "dev")

# As the program does it, before anything compiled is imported: edits of the model must count.
prepare_compiler(Settings())


@pytest.fixture
def record(record_property) -> Record:
    """Checks numbers against an outside authority and keeps them for docs/validation.md."""
    return Record(record_property)
