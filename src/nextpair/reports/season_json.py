"""A season as plain JSON; docs/guide/json.md lists every field."""

from __future__ import annotations

import json
from dataclasses import fields, is_dataclass
from typing import Any

from nextpair.domain.season import Season
from nextpair.reports.sheet_json import plain

DECIMALS = 6


def season_document(season: Season) -> dict[str, Any]:
    """A season as plain JSON."""
    document: dict[str, Any] = plain(season)
    for trend, told in zip(season.trends, document["trends"], strict=True):
        told |= _exact(trend)
    for group, told in zip(season.groups, document["groups"], strict=True):
        told |= _exact(group)
    return document


def _exact(value: Any) -> Any:
    """Shares are small: two decimals would make one point of two in a hundred."""
    if is_dataclass(value):
        return {field.name: _exact(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, tuple):
        return [_exact(item) for item in value]
    return round(value, DECIMALS) if isinstance(value, float) else plain(value)


def render_season_json(season: Season) -> str:
    """A season as one JSON document."""
    return json.dumps(season_document(season), ensure_ascii=False, allow_nan=False) + "\n"
