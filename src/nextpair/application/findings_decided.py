"""Findings of a debrief decided on by their keys, of an event that may not be kept yet."""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID

from nextpair.application.bundle import EventFolder
from nextpair.application.events import keep_event, kept_as
from nextpair.application.lessons import decide
from nextpair.application.store import Store
from nextpair.domain.debrief import Debrief, DebriefFinding
from nextpair.domain.errors import InvalidValueError, require
from nextpair.domain.event import Event
from nextpair.domain.lesson import Lesson


def chosen_findings(
    debrief: Debrief, accept: Sequence[str], drop: Sequence[str]
) -> tuple[tuple[DebriefFinding, bool], ...]:
    """The findings of these keys, each with whether it is accepted. Raises InvalidValueError for a
    key of none, and for one that is both."""
    findings = {finding.key: finding for finding in debrief.findings}
    for key in (*accept, *drop):
        if key not in findings:
            allowed = "; ".join(findings) or "none: the debrief has no finding"
            raise InvalidValueError("key", key, allowed)
        require(not (key in accept and key in drop), "key", key, "either accepted or dropped")
    return tuple((findings[key], key in accept) for key in dict.fromkeys((*accept, *drop)))


def decide_findings(
    store: Store,
    account: UUID,
    event: Event,
    folder: EventFolder,
    chosen: Sequence[tuple[DebriefFinding, bool]],
) -> tuple[Lesson, ...]:
    """Write decisions down in the event's log; an event that is not kept is taken in first, with
    its shots and scores."""
    id = kept_as(store, account, event) or keep_event(store, account, folder).id
    return tuple(decide(store, account, id, finding, accepted) for finding, accepted in chosen)
