"""Results as documents to keep, to the last digit, and back: sheets, spares, reads,
debriefs.

What goes out as JSON for people and programs is rounded (`reports.sheet_json`); what is kept is
not, so that a page made of it later says what it would have said at once.
"""

from __future__ import annotations

import math
from typing import Any, TypeVar

from pydantic import TypeAdapter

from nextpair.domain.belief import Read
from nextpair.domain.debrief import Debrief
from nextpair.domain.record import Document
from nextpair.domain.sheet import Sheet
from nextpair.domain.spare import SpareSheet

Result = TypeVar("Result", Sheet, SpareSheet, Read, Debrief)

_ADAPTERS: dict[type[Any], TypeAdapter[Any]] = {
    kind: TypeAdapter(kind) for kind in (Sheet, SpareSheet, Read, Debrief)
}


def result_document(result: Sheet | SpareSheet | Read | Debrief) -> Document:
    """A result as a document."""
    document: Document = _finite(_ADAPTERS[type(result)].dump_python(result, mode="json"))
    return document


def result_of(kind: type[Result], document: Document) -> Result:
    """The result that a document was made of."""
    result: Result = _ADAPTERS[kind].validate_python(document)
    return result


def _finite(value: Any) -> Any:
    """JSON has no infinite numbers: they are written out, and read as numbers again."""
    if isinstance(value, dict):
        return {key: _finite(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_finite(item) for item in value]
    if isinstance(value, float) and not math.isfinite(value):
        return str(value)
    return value
