"""An event with everything it needs, as documents: between records, the contract's files, and the
domain's Event."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol

from nextpair.domain.errors import Problem
from nextpair.domain.event import Event
from nextpair.domain.field_score import FieldScore
from nextpair.domain.house import House
from nextpair.domain.house_book import Visit
from nextpair.domain.kit import Kit
from nextpair.domain.pattern import Pattern
from nextpair.domain.record import Document, Kind
from nextpair.domain.shot_log import LoggedShot

SHOTS, SCORES = "shots.csv", "scores.csv"
"""Files of an event's log, beside its event file."""


@dataclass(frozen=True, slots=True)
class EarlierSquad:
    """A squad that bowls before on the same dressing: the keys of its table in event.toml but the
    file's name, and its rows. Squads of one name and the same rows are the same people."""

    terms: Document
    rows: tuple[Document, ...]
    name: str = ""


@dataclass(frozen=True, slots=True)
class EventBundle:
    """Documents of one event. `event` has the keys of event.toml but those that name other files;
    a pattern of the library is its name, as "library: Long Tide"; `right_pattern` is None where
    one pattern lies on all lanes."""

    event: Document
    house: Document
    left_pattern: Document | str
    right_pattern: Document | str | None
    bowler: Document
    locker: tuple[Document, ...]
    squad: tuple[Document, ...]
    earlier: tuple[EarlierSquad, ...] = ()
    squad_name: str = "squad"


@dataclass(frozen=True, slots=True)
class EventFolder:
    """An event as it lies in a folder: with the shots and scores beside it, if any."""

    bundle: EventBundle
    shots: tuple[LoggedShot, ...] = ()
    scores: tuple[FieldScore, ...] = ()


class Papers(Protocol):
    """Documents and files checked, read and written. Everything raises InputRefusedError, with
    every problem, for what is not allowed."""

    def check(self, kind: Kind, document: Document) -> tuple[str, ...]:
        """Check one record's document by itself; returns which values would be guessed."""

    def house(self, document: Document) -> House:
        """The house of a record's document."""

    def shared_house(self, text: str) -> tuple[Document, tuple[Visit, ...]]:
        """The house and the visits of a file that somebody shared."""

    def shared_house_text(self, document: Document, visits: Iterable[Visit]) -> str:
        """The file that shares a house and visits to it."""

    def kit(self, document: Document) -> Kit:
        """The kit of a record's document."""

    def pattern(self, document: Document | str) -> Pattern:
        """The pattern of a record's document, or of the library's by its name."""

    def library(self) -> tuple[Document, ...]:
        """The documents of the patterns that come with the program, short ones first."""

    def event(self, bundle: EventBundle) -> Event:
        """The event that a bundle describes."""

    def shots(self, text: str, event: Event) -> tuple[LoggedShot, ...]:
        """The shots of a shots.csv, which are that event's."""

    def shots_text(self, shots: Iterable[LoggedShot]) -> str:
        """The shots.csv of some shots."""

    def pasted(self, kind: Kind, text: str) -> tuple[tuple[Document, ...], tuple[Problem, ...]]:
        """The rows of a squad, or of balls, that were pasted and are in order, and what is wrong
        with the others."""

    def scores(self, text: str) -> tuple[FieldScore, ...]:
        """The scores of a scores.csv, or of rows copied out of a spreadsheet."""

    def scores_text(self, scores: Iterable[FieldScore]) -> str:
        """The scores.csv of some scores."""

    def folder(self, bundle: EventBundle) -> dict[str, str]:
        """The event as the contract's files, text by file name; read again, it is the same."""

    def bundle(self, folder: dict[str, str], event_file: str = "event.toml") -> EventBundle:
        """The documents of an event folder, checked as a whole."""

    def brought(self, folder: dict[str, str], event_file: str = "event.toml") -> EventFolder:
        """An event folder with the shots and scores in it, checked as a whole."""
