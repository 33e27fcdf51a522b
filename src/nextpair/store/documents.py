"""Documents as every store keeps them: as JSON, so that all of them give back the same."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any


def to_json(value: Any) -> str:
    """A document as JSON, numbers as they were written."""
    return json.dumps(value, separators=(",", ":"), allow_nan=False, default=_object)


def as_kept(value: Any) -> Any:
    """A document as it comes back from a store, nobody else's to change."""
    return json.loads(to_json(value))


def _object(value: Any) -> dict[str, Any]:
    if isinstance(value, Mapping):
        return dict(value)
    raise TypeError(f"{type(value).__name__} is not JSON")
