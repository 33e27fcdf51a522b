"""A log as it stands: which jottings count, once corrections and what was taken back are seen to.

The phone has the same rule in TypeScript (frontend/shared/journal.ts); both are held to the cases
of tests/journal_cases.json.
"""

from __future__ import annotations

from collections.abc import Iterable
from uuid import UUID

from nextpair.domain.jotting import Jotting, JottingKind, Kept


def standing(log: Iterable[Kept]) -> tuple[tuple[UUID, Jotting], ...]:
    """What counts: for each thing written down its newest version, with the id it began under, in
    the order in which things were first written.

    Newest is the highest `seq` of those that no other one supersedes: a correction may come in
    before what it corrects. A jotting that supersedes one that is not here begins a thing of its
    own, under the id that is missing: it is not lost, and joins once the other arrives.
    """
    kept = sorted(log, key=lambda one: one.seq)
    before = {one.jotting.id: one.jotting.supersedes for one in kept}
    corrected = set(before.values())
    newest: dict[UUID, Jotting] = {}
    for one in kept:
        root = _root(one.jotting.id, before)
        if root not in newest or newest[root].id in corrected or one.jotting.id not in corrected:
            newest[root] = one.jotting
    return tuple(
        (root, jotting) for root, jotting in newest.items() if jotting.kind is not JottingKind.VOID
    )


def _root(jotting: UUID, before: dict[UUID, UUID | None]) -> UUID:
    """The first of a chain of versions; of a chain that bites its tail, its least id."""
    seen: set[UUID] = set()
    while (earlier := before.get(jotting)) is not None:
        if jotting in seen:
            return min(seen, key=str)
        seen.add(jotting)
        jotting = earlier
    return jotting
