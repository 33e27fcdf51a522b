"""Documents and the contract's files, one for the other: what use cases ask of this package."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import PurePosixPath

from nextpair.application.bundle import SHOTS, EventBundle, EventFolder
from nextpair.domain.errors import InputRefusedError, Problem
from nextpair.domain.event import Event
from nextpair.domain.field_score import FieldScore
from nextpair.domain.house import House
from nextpair.domain.house_book import Visit
from nextpair.domain.kit import Kit
from nextpair.domain.pattern import Pattern
from nextpair.domain.record import Document, Kind
from nextpair.domain.shot_log import LoggedShot
from nextpair.files.documents import pattern_document, read_bundle, read_folder
from nextpair.files.event_file import read_event
from nextpair.files.folder import Memory
from nextpair.files.house_file import read_house
from nextpair.files.intake import Intake, Source
from nextpair.files.kit_form import kit_of
from nextpair.files.layout import PATTERN, Layout
from nextpair.files.pasted import pasted_balls, pasted_scores, pasted_squad
from nextpair.files.pattern_file import read_pattern
from nextpair.files.pattern_library import library_files, marked_name, read_library_pattern
from nextpair.files.record_check import check_record
from nextpair.files.scores_file import scores_text
from nextpair.files.shared_house import SHARED_HOUSE, read_shared_house, shared_house_text
from nextpair.files.shots_file import read_shots, shots_text

PASTED = {Kind.SQUAD: pasted_squad, Kind.BALL: pasted_balls}
"""How pasted rows of a kind of record are read."""
IN_FILES_ONLY = (" without quotes", " in quotes", " in square brackets")
"""What a file's writer is told of a value, and a page's reader is not."""


class FilePapers:
    """Checks, reads and writes by the forms of the files."""

    def check(self, kind: Kind, document: Document) -> tuple[str, ...]:
        """What would be guessed of a record's document. Raises InputRefusedError."""
        with _said_on_a_page():
            return check_record(kind, document)

    def house(self, document: Document) -> House:
        """The house of a document. Raises InputRefusedError."""
        with _said_on_a_page():
            layout = Layout()
            house = read_house(layout.house(document), layout.intake)
            layout.intake.close()
        return house

    def kit(self, document: Document) -> Kit:
        """The kit of a document. Raises InputRefusedError."""
        with _said_on_a_page():
            layout = Layout()
            kit = kit_of(document, layout.source("kit"), layout.intake)
            layout.intake.close()
        return kit

    def shared_house(self, text: str) -> tuple[Document, tuple[Visit, ...]]:
        """The house and the visits of a shared file. Raises InputRefusedError."""
        return read_shared_house(_source(SHARED_HOUSE, text))

    def shared_house_text(self, document: Document, visits: Iterable[Visit]) -> str:
        """The file that shares a house and visits to it."""
        return shared_house_text(document, visits)

    def pattern(self, document: Document | str) -> Pattern:
        """A pattern of a document, or of the library. Raises InputRefusedError."""
        with _said_on_a_page():
            layout = Layout()
            if isinstance(document, str):
                name = marked_name(document) or document
                source = layout.source(PATTERN)
                pattern = read_library_pattern(name, source, "name", layout.intake)
            else:
                pattern = read_pattern(layout.pattern(document), layout.intake)
            layout.intake.close()
        return pattern

    def library(self) -> tuple[Document, ...]:
        """The library's documents, short ones first."""
        with library_files() as paths:
            documents = [pattern_document(Source.first(path)) for path in paths]
        return tuple(sorted(documents, key=lambda one: (one["length_ft"], one["name"])))

    def event(self, bundle: EventBundle) -> Event:
        """The event that a bundle describes. Raises InputRefusedError."""
        with _said_on_a_page():
            layout = Layout()
            return read_event(layout.event(bundle), layout.intake)

    def shots(self, text: str, event: Event) -> tuple[LoggedShot, ...]:
        """The shots of a text as shots.csv has them. Raises InputRefusedError."""
        intake = Intake()
        shots = read_shots(_source(SHOTS, text), event, intake)
        intake.close()
        return shots

    def shots_text(self, shots: Iterable[LoggedShot]) -> str:
        """shots.csv of some shots."""
        return shots_text(shots)

    def scores(self, text: str) -> tuple[FieldScore, ...]:
        """The scores of a text as scores.csv has them, or as a spreadsheet gives them to the
        clipboard. Raises InputRefusedError."""
        scores, problems = pasted_scores(text)
        if problems:
            raise InputRefusedError(problems)
        return scores

    def scores_text(self, scores: Iterable[FieldScore]) -> str:
        """scores.csv of some scores."""
        return scores_text(scores)

    def pasted(self, kind: Kind, text: str) -> tuple[tuple[Document, ...], tuple[Problem, ...]]:
        """The rows of a squad, or of a bowler's balls, that were pasted and are in order, and what
        is wrong with the others."""
        return PASTED[kind](text)

    def folder(self, bundle: EventBundle) -> dict[str, str]:
        """The event as the contract's files, text by name. Raises InputRefusedError."""
        with _said_on_a_page():
            layout, page = Layout(), Layout()
            page.event(read_bundle(layout.event(bundle), layout.intake))
        return page.texts()

    def bundle(self, folder: dict[str, str], event_file: str = "event.toml") -> EventBundle:
        """The documents of an event folder, checked as a whole. Raises InputRefusedError."""
        return read_bundle(Source.first(PurePosixPath(event_file), Memory(texts=folder)), Intake())

    def brought(self, folder: dict[str, str], event_file: str = "event.toml") -> EventFolder:
        """An event folder with its shots and scores, checked as a whole. Raises
        InputRefusedError."""
        return read_folder(Source.first(PurePosixPath(event_file), Memory(texts=folder)))


def _source(name: str, text: str) -> Source:
    return Source.first(PurePosixPath(name), Memory(texts={name: text}))


@contextmanager
def _said_on_a_page() -> Iterator[None]:
    """Leave out of every refusal what only a file's writer needs."""
    try:
        yield
    except InputRefusedError as refused:
        raise InputRefusedError(tuple(_plain(problem) for problem in refused.problems)) from None


def _plain(problem: Problem) -> Problem:
    allowed = problem.allowed
    for words in IN_FILES_ONLY:
        allowed = allowed.replace(words, "")
    return replace(problem, allowed=allowed)
