"""What an authority says beside what the code gives: checked in the test, collected for the docs.

A test asks for the fixture `record` and hands it every number it compares. The same test then
fails if a number is off, and gives docs/validation.md its row (see tools/validation.py).
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from dataclasses import asdict, dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

DATA = Path(__file__).parent / "data"
PROPERTY = "finding"


@dataclass(frozen=True, slots=True)
class Finding:
    """One comparison: the authority's number, how far off one may be, and the code's number."""

    authority: str
    about: str
    quantity: str
    expected: float
    tolerance: float
    achieved: float
    source: str

    @property
    def holds(self) -> bool:
        """True if the code's number lies within the tolerance."""
        return abs(self.achieved - self.expected) <= self.tolerance


@cache
def load_authority(name: str) -> dict[str, Any]:
    """Everything in tests/reference/data/<name>.toml."""
    return tomllib.loads((DATA / f"{name}.toml").read_text("utf-8"))


def load_entry(authority: str, key: str) -> dict[str, Any]:
    """One entry of an authority's file: what it is about, its source and its values."""
    entry: dict[str, Any] = load_authority(authority)[key]
    return entry


class Record:
    """Checks numbers against an authority and keeps them for the table of validation."""

    def __init__(self, keep: Callable[[str, object], None]) -> None:
        self._keep = keep

    def published(self, authority: str, key: str, **achieved: ArrayLike) -> None:
        """Check every value of one entry of tests/reference/data/<authority>.toml.

        A value that is a table of numbers is checked number by number, and kept as its worst one.
        """
        entry = load_entry(authority, key)
        values = {name: value for name, value in entry.items() if isinstance(value, dict)}
        assert set(achieved) == set(values), f"{key}: give exactly {sorted(values)}"
        for name, value in values.items():
            source, mark = (value.get(word, entry.get(word)) for word in ("source", "mark"))
            title = load_authority(authority)["title"]
            expected, got = np.broadcast_arrays(
                np.asarray(value["value"], float), np.asarray(achieved[name], float)
            )
            worst = np.unravel_index(np.argmax(np.abs(got - expected)), expected.shape)
            quantity = name if expected.ndim == 0 else f"{name} (worst of {expected.size})"
            self._check(
                Finding(
                    title,
                    entry["about"],
                    quantity,
                    float(expected[worst]),
                    value["tolerance"],
                    float(got[worst]),
                    f"{source}; {mark}",
                )
            )

    def closed_form(
        self,
        about: str,
        quantity: str,
        *,
        expected: float,
        achieved: float,
        tolerance: float,
        source: str,
    ) -> None:
        """Check one number against a formula that stands in the test."""
        self._check(
            Finding(
                "Closed forms",
                about,
                quantity,
                float(expected),
                float(tolerance),
                float(achieved),
                source,
            )
        )

    def agreement(
        self, other: str, about: str, quantity: str, *, error: float, tolerance: float, source: str
    ) -> None:
        """Check how far the code is from another program that computes the same."""
        self._check(Finding(other, about, quantity, 0.0, tolerance, float(error), source))

    def unmet(self, authority: str, key: str, *, achieved: float) -> None:
        """Tell a published number that the code does not reach, with what it reaches.

        Fails once the number is reached: then it is to be checked as published.
        """
        entry = load_entry(authority, key)
        value = entry["value"]
        finding = Finding(
            load_authority(authority)["title"],
            f"{entry['about']} (not met)",
            entry["quantity"],
            value["value"],
            value["tolerance"],
            float(achieved),
            f"{entry['source']}; {entry['mark']}",
        )
        self._keep(PROPERTY, asdict(finding))
        assert not finding.holds, f"met now: {finding}"

    def _check(self, finding: Finding) -> None:
        self._keep(PROPERTY, asdict(finding))
        assert finding.holds, finding
