"""Kept results as JSON to answer with: each rendered once, while it is asked for."""

from __future__ import annotations

import json
from collections import OrderedDict
from dataclasses import dataclass, replace
from threading import Lock
from typing import Any
from uuid import UUID

from nextpair.application.store import Computed
from nextpair.domain.belief import Read
from nextpair.domain.lesson import Lesson
from nextpair.domain.packing import PackingList
from nextpair.domain.sheet import Sheet
from nextpair.domain.spare import SpareSheet
from nextpair.files.results import result_of
from nextpair.reports.packing_json import packing_parts
from nextpair.reports.sheet_json import read_document, sheet_with_films, spares_document

KEPT = 24


@dataclass(frozen=True, slots=True)
class Beside:
    """What is told with a result and is not kept with it, since no number of it comes from that:
    the lessons of a sheet, and a pocket's packing list where it is known."""

    lessons: tuple[Lesson, ...] = ()
    packing: PackingList | None = None


NOTHING_BESIDE = Beside()


class Rendered:
    """Texts of the results that were asked for last."""

    def __init__(self) -> None:
        self._texts: OrderedDict[tuple[UUID, Beside], str] = OrderedDict()
        self._lock = Lock()

    def text(self, computed: Computed, beside: Beside = NOTHING_BESIDE) -> str:
        """A result in its kind's JSON, with what belongs beside it now."""
        key = (computed.id, beside)
        with self._lock:
            text = self._texts.get(key)
        if text is None:
            text = json.dumps(told(computed, beside), ensure_ascii=False, allow_nan=False)
        with self._lock:
            self._texts[key] = text
            self._texts.move_to_end(key)
            while len(self._texts) > KEPT:
                self._texts.popitem(last=False)
        return text


def told(computed: Computed, beside: Beside = NOTHING_BESIDE) -> dict[str, Any]:
    """A result as it is told: numbers rounded as `--json` rounds them."""
    if computed.kind == "sheet":
        sheet = result_of(Sheet, computed.document)
        return sheet_with_films(replace(sheet, lessons=beside.lessons))
    if computed.kind == "read":
        return read_document(result_of(Read, computed.document))
    if computed.kind == "spares":
        return spares_document(result_of(SpareSheet, computed.document))
    packing = {} if beside.packing is None else packing_parts(beside.packing)
    return dict(computed.document) | packing
