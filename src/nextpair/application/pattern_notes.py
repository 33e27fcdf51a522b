"""Attack notes: how patterns are to be played, written down in a log of each pattern's own."""

from __future__ import annotations

from uuid import UUID, uuid5

from nextpair.application.journal import standing
from nextpair.application.keeping import LIBRARY_MARK
from nextpair.application.store import Store
from nextpair.domain.jotting import JottingKind
from nextpair.domain.pattern_book import AttackNote

PATTERN_LOGS = UUID("2b7d3c1e-6a0f-5d94-8e25-71c9a4f08b36")
"""Of the ids of the logs that patterns of the library have."""
ABOUT = "pattern"
"""What an attack note is `about`."""


def pattern_log(key: str) -> UUID:
    """The log of a pattern, by its key: of a record its id, of the library's made of the name."""
    return uuid5(PATTERN_LOGS, key) if key.startswith(LIBRARY_MARK) else UUID(key)


def attack_notes(store: Store, account: UUID, log: UUID) -> tuple[AttackNote, ...]:
    """The notes of a pattern that stand, in the order in which they were first written."""
    return tuple(
        AttackNote(jotting.id, text.strip(), jotting.client_time)
        for _, jotting in standing(store.log(account, log))
        if jotting.kind is JottingKind.NOTE
        and jotting.payload.get("about") == ABOUT
        and isinstance(text := jotting.payload.get("text"), str)
        and text.strip()
    )
