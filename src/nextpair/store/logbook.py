"""The rule of adding to a log, whatever it is kept in: each jotting once, numbered without gap."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple
from uuid import UUID

from nextpair.domain.jotting import Answer, Jotting, Kept, Receipt


class Mark(NamedTuple):
    """What is known of a jotting that is here: its digest, and its number in its event's log."""

    digest: str
    seq: int


@dataclass(slots=True)
class Entry:
    """A batch sorted out: what is to be added, with its digest, and the answer to each."""

    added: list[tuple[Kept, str]] = field(default_factory=list)
    receipts: list[Receipt] = field(default_factory=list)


def enter(
    jottings: Iterable[Jotting], known: Mapping[UUID, Mark], last_seq: Mapping[UUID, int]
) -> Entry:
    """Sort out a batch. `known` are those of its ids that are here, `last_seq` the last number of
    each of its events' logs (missing: no log yet)."""
    entry = Entry()
    marks = dict(known)
    last = dict(last_seq)
    for jotting in jottings:
        digest = jotting.digest
        mark = marks.get(jotting.id)
        if mark is None:
            seq = last[jotting.event] = last.get(jotting.event, 0) + 1
            marks[jotting.id] = Mark(digest, seq)
            entry.added.append((Kept(seq, jotting), digest))
            entry.receipts.append(Receipt(jotting.id, Answer.STORED, seq))
        else:
            answer = Answer.DUPLICATE if mark.digest == digest else Answer.CONFLICT
            entry.receipts.append(Receipt(jotting.id, answer, mark.seq))
    return entry
