"""What the computing process does with an order: documents in, documents out."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime

from nextpair.application.jobs import Order, Results
from nextpair.application.ports import Progress
from nextpair.application.scores import known_scores, others_scored
from nextpair.application.shot_jottings import logged_shots, noted_shots
from nextpair.bootstrap import Program
from nextpair.domain.belief import Read
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.event import Event
from nextpair.domain.sheet import Sheet
from nextpair.files.results import result_document, result_of
from nextpair.reports.pocket_json import pocket_document

SPARES = "shooting at every leave"


def fulfil(program: Program, order: Order, progress: Progress) -> Results:
    """The results of an order. Raises InputRefusedError or InvalidValueError where its event or
    its log cannot be."""
    if order.kind not in KINDS:
        raise InvalidValueError("kind", order.kind, ", ".join(KINDS))
    event = program.papers().event(order.bundle)
    return KINDS[order.kind](program, event, order, progress)


def _sheet(program: Program, event: Event, order: Order, progress: Progress) -> Results:
    read = _read(program, event, order, progress) if order.log else None
    sheet = program.plan(event, order.seed, progress, read)
    results = {"sheet": result_document(sheet)}
    return results if read is None else results | {"read": result_document(read)}


def _reading(program: Program, event: Event, order: Order, progress: Progress) -> Results:
    return {"read": result_document(_read(program, event, order, progress))}


def _spares(program: Program, event: Event, order: Order, progress: Progress) -> Results:
    progress(SPARES, 0, 1)
    return {"spares": result_document(program.shoot_every_spare(event, order.seed))}


def _debrief(program: Program, event: Event, order: Order, progress: Progress) -> Results:
    """A debrief, with the sheet that was not given: one planned before any shot."""
    log, made = order.log or (), {}
    if "sheet" not in order.given:
        made["sheet"] = result_document(program.plan(event, order.seed, progress))
    sheet = result_of(Sheet, {**order.given, **made}["sheet"])
    shots, _ = noted_shots(log)
    known = known_scores(log, event.bowler_name, event.format.counting)
    others = others_scored(known, event.bowler_name)
    standing = program.standing(event, known, order.seed) if others else None
    found = program.debrief(event, shots, sheet, order.seed, progress, standing)
    return made | {"debrief": result_document(found)}


def _pocket(program: Program, event: Event, order: Order, progress: Progress) -> Results:
    """A pocket, with the sheet that was not given; its spares are shot with that sheet's bag."""
    made = {}
    if "sheet" not in order.given:
        made["sheet"] = _sheet(program, event, order, progress)["sheet"]
    pocket = program.fill_pocket(
        event,
        order.seed,
        datetime.now(UTC).isoformat(timespec="seconds"),
        order.event,
        progress,
        sheet=result_of(Sheet, {**order.given, **made}["sheet"]),
        packed=order.packed,
    )
    return made | {"pocket": pocket_document(pocket)}


def _read(program: Program, event: Event, order: Order, progress: Progress) -> Read:
    return program.read(event, logged_shots(order.log or ()), order.seed, progress)


KINDS: dict[str, Callable[[Program, Event, Order, Progress], Results]] = {
    "sheet": _sheet,
    "spares": _spares,
    "read": _reading,
    "pocket": _pocket,
    "debrief": _debrief,
}
