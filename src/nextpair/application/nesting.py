"""How deep what is taken in may lie within itself.

Whatever writes JSON goes through it level by level, and gives up at some hundred of them: what
could be taken in and never be given out again would lock the whole log or archive that it is in.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from nextpair.domain.errors import require

DEEPEST = 40
"""Levels of lists and objects within each other: four times what anything of ours has."""
ALLOWED = f"at most {DEEPEST} lists or objects within each other"


def is_shallow(value: object) -> bool:
    """Whether a value of JSON has no more levels than that."""
    level = _within([value])
    for _ in range(DEEPEST):
        level = _within(part for one in level for part in _parts(one))
    return not level


def require_shallow(field: str, value: object) -> None:
    """Refuse a value of JSON that has more levels. Raises InvalidValueError."""
    require(is_shallow(value), field, "more levels than anything has", ALLOWED)


def _within(values: Iterable[object]) -> list[Mapping[Any, object] | Sequence[object]]:
    return [one for one in values if isinstance(one, Mapping | list | tuple)]


def _parts(one: Mapping[Any, object] | Sequence[object]) -> Iterable[object]:
    return one.values() if isinstance(one, Mapping) else one
