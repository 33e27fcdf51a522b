"""Documents and the contract's files, one for the other: what use cases ask of this package."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import PurePosixPath

from nextpair.application.bundle import EventBundle
from nextpair.domain.errors import InputRefusedError, Problem
from nextpair.domain.event import Event
from nextpair.domain.record import Document, Kind
from nextpair.files.documents import read_bundle
from nextpair.files.event_file import read_event
from nextpair.files.folder import Memory
from nextpair.files.intake import Intake, Source
from nextpair.files.layout import Layout
from nextpair.files.record_check import check_record

IN_FILES_ONLY = (" without quotes", " in quotes", " in square brackets")
"""What a file's writer is told of a value, and a page's reader is not."""


class FilePapers:
    """Checks, reads and writes by the forms of the files."""

    def check(self, kind: Kind, document: Document) -> tuple[str, ...]:
        """What would be guessed of a record's document. Raises InputRefusedError."""
        with _said_on_a_page():
            return check_record(kind, document)

    def event(self, bundle: EventBundle) -> Event:
        """The event that a bundle describes. Raises InputRefusedError."""
        with _said_on_a_page():
            layout = Layout()
            return read_event(layout.event(bundle), layout.intake)

    def folder(self, bundle: EventBundle) -> dict[str, str]:
        """The event as the contract's files, text by name. Raises InputRefusedError."""
        with _said_on_a_page():
            layout, page = Layout(), Layout()
            page.event(read_bundle(layout.event(bundle), layout.intake))
        return page.texts()

    def bundle(self, folder: dict[str, str], event_file: str = "event.toml") -> EventBundle:
        """The documents of an event folder, checked as a whole. Raises InputRefusedError."""
        return read_bundle(Source.first(PurePosixPath(event_file), Memory(texts=folder)), Intake())


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
