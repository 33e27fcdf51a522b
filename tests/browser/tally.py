"""Every jotting that went through a fault, counted; one that is lost or doubled fails its test."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any
from uuid import UUID

from browser.running import Server


class Tally:
    """What was written down and found again, over a run of the suite."""

    tests = 0
    jottings = 0


def kept_ids(server: Server, event: UUID) -> list[str]:
    """The ids of an event's log, in the server's order."""
    return [item["jotting"]["id"] for item in server.log(event)]


def check_kept_once(server: Server, event: UUID, written: Sequence[dict[str, Any]]) -> None:
    """Everything written down is there, once, as it was written; numbers have no gaps."""
    log = server.log(event)
    ids = [item["jotting"]["id"] for item in log]
    assert len(ids) == len(set(ids)), "doubled"
    assert set(ids) == {one["id"] for one in written}, "lost, or more than was written"
    assert {item["jotting"]["id"]: item["jotting"] for item in log} == {
        one["id"]: one for one in written
    }
    assert [item["seq"] for item in log] == list(range(1, len(written) + 1))
    Tally.tests += 1
    Tally.jottings += len(written)
