"""The time, as everything that is kept is dated by."""

from __future__ import annotations

from datetime import UTC, datetime


def now_utc() -> datetime:
    """The time now, in UTC."""
    return datetime.now(UTC)
