"""What can be wrong with an input, and how it is told: place, found, allowed."""

from __future__ import annotations

import re
from dataclasses import dataclass

UNSOUND = re.compile("[\\0\ud800-\udfff]")
ROUNDING_SHARE = 1e-9
"""Slack at a limit, as a share of it: what was exactly there may pass it by a change of unit."""


class NextpairError(Exception):
    """Root of every error that nextpair raises on purpose."""


class InvalidValueError(NextpairError, ValueError):
    """One field of one object holds a value that is not allowed."""

    def __init__(self, field: str, found: object, allowed: str) -> None:
        super().__init__(f"{field}: found {found!r}, allowed: {allowed}")
        self.field = field
        self.found = found
        self.allowed = allowed


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with one file: file, key or line, value found, values allowed."""

    file: str
    place: str
    found: str
    allowed: str

    def __str__(self) -> str:
        return f"{self.file}: {self.place}: found {self.found}, allowed: {self.allowed}"


class InputRefusedError(NextpairError):
    """An input is refused whole; carries every problem found in it, in file order."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("\n".join(str(problem) for problem in problems))
        self.problems = problems


def require(condition: bool, field: str, found: object, allowed: str) -> None:
    """Raise InvalidValueError unless the condition holds."""
    if not condition:
        raise InvalidValueError(field, found, allowed)


def require_text(field: str, text: str, shortest: int, longest: int) -> None:
    """Refuse text outside these lengths, or with characters that cannot be kept everywhere: nulls
    and halves of surrogate pairs."""
    allowed = f"{shortest} to {longest} characters"
    require(shortest <= len(text) <= longest, field, text[:longest], allowed)
    require(UNSOUND.search(text) is None, field, text, "text without nulls and broken characters")


def require_within(field: str, value: float, lowest: float, highest: float, unit: str) -> None:
    """Refuse a number outside [lowest, highest], but for rounding; NaN is always refused."""
    low_slack, high_slack = ROUNDING_SHARE * abs(lowest), ROUNDING_SHARE * abs(highest)
    if not lowest - low_slack <= value <= highest + high_slack:
        raise InvalidValueError(field, _shown(value), f"{lowest:g} to {highest:g} {unit}".rstrip())


def _shown(value: float) -> float:
    """A number as it was written, without what a change of unit left in its last digits."""
    return value if isinstance(value, int) else float(f"{value:.9g}")
