"""A log as it stands: which jottings count, once corrections and what was taken back are seen to.

The phone has the same rule in TypeScript (frontend/shared/journal.ts); both are held to the cases
of tests/journal_cases.json.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Set
from uuid import UUID

from nextpair.domain.jotting import Jotting, JottingKind, Kept


def standing(log: Iterable[Kept]) -> tuple[tuple[UUID, Jotting], ...]:
    """What counts: for each thing written down its newest version, with the id it began under, in
    the order in which things were first written. What was taken back does not.

    Newest is the highest `seq` of those that no other one supersedes: a correction may come in
    before what it corrects. A jotting that supersedes one that is not here begins a thing of its
    own, under the id that is missing: it is not lost, and joins once the other arrives.
    """
    kept = tuple(log)
    corrected = {one.jotting.supersedes for one in kept}
    newest = {root: _newest(told, corrected) for root, told in versions(kept).items()}
    return tuple(
        (root, jotting) for root, jotting in newest.items() if jotting.kind is not JottingKind.VOID
    )


def versions(log: Iterable[Kept]) -> dict[UUID, tuple[Jotting, ...]]:
    """Everything that was ever written, in the order in which it came in: of each thing all of its
    versions, under the id it began under."""
    kept = sorted(log, key=lambda one: one.seq)
    before = {one.jotting.id: one.jotting.supersedes for one in kept}
    told: dict[UUID, list[Jotting]] = {}
    for one in kept:
        told.setdefault(_root(one.jotting.id, before), []).append(one.jotting)
    return {root: tuple(jottings) for root, jottings in told.items()}


def _newest(told: Sequence[Jotting], corrected: Set[UUID | None]) -> Jotting:
    """The last version that no other one supersedes; of a chain that bites its tail, the last."""
    standing = [jotting for jotting in told if jotting.id not in corrected]
    return standing[-1] if standing else told[-1]


def _root(jotting: UUID, before: dict[UUID, UUID | None]) -> UUID:
    """The first of a chain of versions; of a chain that bites its tail, its least id."""
    seen: set[UUID] = set()
    while (earlier := before.get(jotting)) is not None:
        if jotting in seen:
            return min(seen, key=str)
        seen.add(jotting)
        jotting = earlier
    return jotting
