"""What the use cases need from outside, as shapes of functions."""

from __future__ import annotations

from typing import Protocol


class Progress(Protocol):
    """Told how far a long job is: what it does, steps done, steps in all."""

    def __call__(self, label: str, done: int, total: int, /) -> None: ...


def unwatched(_label: str, _done: int, _total: int, /) -> None:
    """The progress of a job that nobody watches."""
