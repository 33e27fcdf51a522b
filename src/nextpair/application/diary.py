"""The diary of an event: what the bowler writes for nobody else, under a few prompts.

Entries are notes about "diary" in the event's log, so that a phone writes them offline too. They
are private: no pocket, recap or export for others has them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from nextpair.application.home_jottings import jot
from nextpair.application.journal import standing
from nextpair.application.store import NotKeptError, Store
from nextpair.domain.errors import require, require_text
from nextpair.domain.jotting import JottingKind, Kept

ABOUT = "diary"
LONGEST_TEXT = 900
"""Of one entry, so that a jotting holds it in any writing."""
FREE = "free"
PROMPTS = {
    "went_well": "What went well? A shot, a decision, something that you kept doing.",
    "kept_faith": "Where did you trust your line or your ball when that was hard?",
    "lane": "What did the lanes do that you want to know next time?",
    "change_next": "What one thing would you do otherwise next time?",
    FREE: "Anything else.",
}
"""What is asked, by key; frontend/shared/diary.ts asks the same on the phone."""


@dataclass(frozen=True, slots=True)
class DiaryEntry:
    """What was written under a prompt. id : of what was written first; a correction keeps it.
    written_at : by the device's clock."""

    id: UUID
    prompt: str
    text: str
    written_at: str


def diary_of(log: Sequence[Kept]) -> tuple[DiaryEntry, ...]:
    """The entries of an event that stand, in the order in which they were first written."""
    return tuple(
        DiaryEntry(root, _prompt(jotting.payload), text, jotting.client_time)
        for root, jotting in standing(log)
        if jotting.kind is JottingKind.NOTE
        and jotting.payload.get("about") == ABOUT
        and isinstance(text := jotting.payload.get("text"), str)
        and text.strip()
    )


def write_entry(
    store: Store, account: UUID, event: UUID, prompt: str, text: str, id: UUID | None = None
) -> DiaryEntry:
    """Write an entry, or with an `id` that one anew. Raises InvalidValueError for a prompt that is
    none or a text that is empty or too long, NotKeptError for an entry that is not there."""
    require(prompt in PROMPTS, "prompt", prompt, ", ".join(PROMPTS))
    require_text("text", text.strip(), 1, LONGEST_TEXT)
    earlier = None if id is None else _newest(store.log(account, event), id)
    payload = {"about": ABOUT, "prompt": prompt, "text": text.strip()}
    jotting = jot(store, account, event, JottingKind.NOTE, payload, earlier)
    return DiaryEntry(id or jotting.id, prompt, text.strip(), jotting.client_time)


def take_back(store: Store, account: UUID, event: UUID, id: UUID) -> None:
    """Take an entry out of the diary. Raises NotKeptError for one that is not there."""
    earlier = _newest(store.log(account, event), id)
    jot(store, account, event, JottingKind.VOID, {}, earlier)


def _newest(log: Sequence[Kept], id: UUID) -> UUID:
    """The jotting in which an entry stands now."""
    known = {entry.id for entry in diary_of(log)}
    newest = {root: jotting.id for root, jotting in standing(log) if root in known}
    if id not in newest:
        raise NotKeptError("diary entry", id)
    return newest[id]


def _prompt(payload: Any) -> str:
    told = payload.get("prompt")
    return told if told in PROMPTS else FREE
