"""The visit that an event was, by what is kept of it: its records, its log, its newest read."""

from __future__ import annotations

from contextlib import suppress
from uuid import UUID

from nextpair.application.events import bundle_of
from nextpair.application.jobs import inputs_of, is_stale
from nextpair.application.keeping import record_of
from nextpair.application.ports import Progress
from nextpair.application.shot_jottings import logged_shots
from nextpair.application.store import Store
from nextpair.application.visit_draft import draft_visit
from nextpair.bootstrap.program import Program
from nextpair.domain.belief import Read
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.house_book import Visit
from nextpair.domain.jotting import JottingKind
from nextpair.domain.record import Kind

READ = "read"


def event_visit(
    program: Program, store: Store, account: UUID, event: UUID, progress: Progress | None = None
) -> tuple[UUID, Visit]:
    """The house of an event that is kept, and the visit that the event was. With a progress to
    tell, its log is read where that was not done and it says anything. Raises NotKeptError."""
    house = UUID(record_of(store, account, Kind.EVENT, event).document["house"])
    described = program.papers().event(bundle_of(store, account, event))
    read = kept_read(store, account, event)
    shots = logged_shots(store.log(account, event))
    if read is None and progress is not None and shots:
        with suppress(InvalidValueError):  # no shot tells anything: there is nothing to learn
            read = program.read(described, shots, program.settings.seed, progress)
    return house, draft_visit(store, account, event, described, house, read)


def kept_read(store: Store, account: UUID, event: UUID) -> Read | None:
    """The newest read of an event that is kept; None where the event, its shots or the model are
    others now."""
    from nextpair.files.results import result_of

    kept = store.computed(account, event, READ)
    if kept is None or is_stale(kept, inputs_of(bundle_of(store, account, event), READ)):
        return None
    later = store.log(account, event, after=kept.log_seq or 0)
    if any(one.jotting.kind in (JottingKind.SHOT, JottingKind.VOID) for one in later):
        return None
    return result_of(Read, kept.document)
