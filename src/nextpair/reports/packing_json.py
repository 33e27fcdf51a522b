"""The packing list as JSON: whole, and as the pocket carries it."""

from __future__ import annotations

import json
from typing import Any

from nextpair.domain.packing import PackingList, PackItem
from nextpair.reports.sheet_json import plain

OF_AN_ITEM = ("item", "many", "why", "group")


def render_packing_json(packing: PackingList) -> str:
    """The list as one JSON document."""
    return json.dumps(packing_document(packing), ensure_ascii=False, indent=2) + "\n"


def packing_document(packing: PackingList) -> dict[str, Any]:
    """The list as plain values."""
    return {
        "event": packing.event,
        "hours": plain(packing.hours),
        "items": [plain(item) for item in packing.items],
        "missing": list(packing.missing),
        "reorders": plain(packing.reorders),
        "cases": _cases(packing),
        "cautions": list(packing.cautions),
    }


def packing_parts(packing: PackingList) -> dict[str, Any]:
    """The keys of a pocket that tell the list, without what is private."""
    shown = packing.for_others
    return {
        "packing": [_carried(item) for item in shown.items],
        "packing_missing": list(shown.missing),
        "packing_cases": _cases(shown),
        "packing_cautions": list(shown.cautions),
    }


def _carried(item: PackItem) -> dict[str, Any]:
    return {name: plain(getattr(item, name)) for name in OF_AN_ITEM}


def _cases(packing: PackingList) -> list[dict[str, Any]]:
    return [plain(case) | {"over_lb": plain(case.over_lb)} for case in packing.cases]
