"""Every store that the suite runs on."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from nextpair.application.store import Store
from nextpair.store.memory import MemoryStore


@pytest.fixture(params=["memory"])
def store(request) -> Iterator[Store]:
    """An empty store of each kind."""
    kept = MemoryStore()
    yield kept
    kept.close()
