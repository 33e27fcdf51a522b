"""Pages of the pattern book and the chart of conditions as plain JSON; docs/guide/json.md lists
every field."""

from __future__ import annotations

import json
from typing import Any

from nextpair.domain.condition_chart import ConditionChart
from nextpair.domain.pattern_book import PatternPage
from nextpair.reports.sheet_json import plain


def similar_document(page: PatternPage) -> dict[str, Any]:
    """A pattern's page as plain JSON."""
    document: dict[str, Any] = plain(page)
    return document


def conditions_document(chart: ConditionChart) -> dict[str, Any]:
    """The chart of conditions as plain JSON."""
    document: dict[str, Any] = plain(chart)
    return document


def render_similar_json(page: PatternPage) -> str:
    """A pattern's page as one JSON document."""
    return json.dumps(similar_document(page), ensure_ascii=False, allow_nan=False) + "\n"


def render_conditions_json(chart: ConditionChart) -> str:
    """The chart of conditions as one JSON document."""
    return json.dumps(conditions_document(chart), ensure_ascii=False, allow_nan=False) + "\n"
