"""What is known of patterns: notes, results, and which ones are alike.

Documents for people and programs outside, as docs/guide/json.md lists them.
"""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from nextpair.domain.outing import Outing
from nextpair.domain.sheet import PatternCard


@dataclass(frozen=True, slots=True)
class AttackNote:
    """How to play a pattern, as somebody wrote it down. `id` is what a correction supersedes."""

    id: UUID
    text: str
    written: str


@dataclass(frozen=True, slots=True)
class Relative:
    """A pattern that is like another one.

    key : the id of its record, or "library: NAME". feet : how far its film is apart, made up of
    grip_ft, across_boards and oil_ml (`planning.film_distance`). is_near : near enough to start
    from. words : what it is beside the other one, as "3 ft shorter, flatter".
    """

    key: str
    pattern: PatternCard
    feet: float
    grip_ft: float
    across_boards: float
    oil_ml: float
    is_near: bool
    words: str
    description: str
    outings: tuple[Outing, ...]
    notes: tuple[AttackNote, ...]


@dataclass(frozen=True, slots=True)
class PatternPage:
    """One pattern's page of the book.

    key : None of a pattern that is not kept. log : where its notes are written; None likewise.
    start : where to start on it, in words. left_out : names of events that are not in order.
    """

    key: str | None
    log: UUID | None
    pattern: PatternCard
    start: str
    notes: tuple[AttackNote, ...]
    outings: tuple[Outing, ...]
    relatives: tuple[Relative, ...]
    left_out: tuple[str, ...]
