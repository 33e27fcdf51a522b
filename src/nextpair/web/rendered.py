"""Kept results as JSON to answer with: each rendered once, while it is asked for."""

from __future__ import annotations

import json
from collections import OrderedDict
from dataclasses import replace
from threading import Lock
from typing import Any
from uuid import UUID

from nextpair.application.store import Computed
from nextpair.domain.belief import Read
from nextpair.domain.lesson import Lesson
from nextpair.domain.sheet import Sheet
from nextpair.domain.spare import SpareSheet
from nextpair.files.results import result_of
from nextpair.reports.sheet_json import read_document, sheet_with_films, spares_document

KEPT = 24


class Rendered:
    """Texts of the results that were asked for last."""

    def __init__(self) -> None:
        self._texts: OrderedDict[tuple[UUID, tuple[Lesson, ...]], str] = OrderedDict()
        self._lock = Lock()

    def text(self, computed: Computed, lessons: tuple[Lesson, ...] = ()) -> str:
        """A result in its kind's JSON; a sheet with the lessons that apply to it now."""
        key = (computed.id, lessons)
        with self._lock:
            text = self._texts.get(key)
        if text is None:
            text = json.dumps(told(computed, lessons), ensure_ascii=False, allow_nan=False)
        with self._lock:
            self._texts[key] = text
            self._texts.move_to_end(key)
            while len(self._texts) > KEPT:
                self._texts.popitem(last=False)
        return text


def told(computed: Computed, lessons: tuple[Lesson, ...] = ()) -> dict[str, Any]:
    """A result as it is told: numbers rounded as `--json` rounds them."""
    if computed.kind == "sheet":
        return sheet_with_films(replace(result_of(Sheet, computed.document), lessons=lessons))
    if computed.kind == "read":
        return read_document(result_of(Read, computed.document))
    if computed.kind == "spares":
        return spares_document(result_of(SpareSheet, computed.document))
    return dict(computed.document)
