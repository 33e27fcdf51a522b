"""Whether two sheets say the same: `python tools/same_sheet.py ONE.json OTHER.json`.

Words, lines, balls and whole numbers alike, and every other number within a relative 1e-6: what
mathematical functions of two builds of NumPy and SciPy may differ by, and far below what is shown.
"""

from __future__ import annotations

import json
import math
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

TOLERANCE = 1e-6


def differences(one: Any, other: Any, place: str = "") -> Iterator[tuple[str, float]]:
    """Where they differ, and by how much; infinitely where no number is compared."""
    if isinstance(one, dict) and isinstance(other, dict) and one.keys() == other.keys():
        for key in one:
            yield from differences(one[key], other[key], f"{place}.{key}")
    elif isinstance(one, list) and isinstance(other, list) and len(one) == len(other):
        for number, (a, b) in enumerate(zip(one, other, strict=True)):
            yield from differences(a, b, f"{place}[{number}]")
    elif isinstance(one, float) and isinstance(other, float):
        if one != other:
            yield place, abs(one - other) / max(abs(one), abs(other))
    elif one != other:
        yield place, math.inf


def main(first: str, second: str) -> None:
    """Compare, and say what was found."""
    one, other = (json.loads(Path(name).read_text("utf-8")) for name in (first, second))
    found = list(differences(one, other))
    if worst := [(place, by) for place, by in found if by > TOLERANCE]:
        sys.exit("\n".join(f"{place}: off by {by:g}" for place, by in worst[:20]))
    largest = max((by for _, by in found), default=0.0)
    print(f"the same sheet; {len(found)} numbers differ, by a relative {largest:g} at most")


if __name__ == "__main__":
    main(*sys.argv[1:])
