"""A served store, spoken to as a phone does."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.error import HTTPError

from browser.running import Server
from nextpair.application.sync import sent_form
from nextpair.domain.jotting import Jotting


@contextmanager
def served(folder: Path) -> Iterator[Server]:
    """`nextpair serve` on the store of a folder."""
    with Server(folder) as server:
        yield server


def send(server: Server, jottings: Sequence[Jotting]) -> list[dict[str, Any]]:
    """The answers to a batch."""
    told = server.ask("/sync", {"jottings": [sent_form(one) for one in jottings]})
    return list(told["receipts"])


def refusal(server: Server, path: str, body: Any = None) -> tuple[int, str]:
    """The status and the one problem that a path answers."""
    try:
        server.ask(path, body)
    except HTTPError as refused:
        (note,) = refused.__notes__
        (problem,) = json.loads(note)["problems"]
        return refused.code, str(problem["words"])
    raise AssertionError(f"{path} was answered")
