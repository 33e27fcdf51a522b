"""Many sheets: what is due of many events, handed to a crew, and what became of each.

An item is one event's file. Each is a job of its own: a pure function of what its files say, the
seed and the lessons that apply. So the order of work, how many share it and how often it was
stopped change nothing of a sheet. What is there already, whole and of the same inputs, is not made
again.
"""

from __future__ import annotations

import hashlib
import re
from collections import Counter, deque
from collections.abc import Callable, Mapping, Sequence
from contextlib import ExitStack, closing
from dataclasses import dataclass, field, replace
from enum import StrEnum
from pathlib import Path
from time import monotonic
from typing import Protocol

from nextpair.application.interruption import unbroken
from nextpair.application.lessons import lessons_for
from nextpair.application.ports import Progress, unwatched
from nextpair.domain.errors import InputRefusedError, NextpairError
from nextpair.domain.event import Event
from nextpair.domain.lesson import Lesson

MANIFEST = "batch.jsonl"
MOST_TRIES = 2
"""An item whose worker died, or whose files changed meanwhile, is tried once more."""
CHANGED = "file: found changes while it was planned, allowed: files that stay as they are"
LOST = "the process that computed it died without a word, {} times"
OTHER_MODEL = "a worker has the model {}, and this program {}"


class State(StrEnum):
    """What became of an item."""

    DONE = "done"
    REFUSED = "refused"
    """Its files are wrong."""
    FAULT = "fault"
    """Our fault."""
    LOST = "lost"
    """Its worker died, each time."""


@dataclass(frozen=True, slots=True)
class Item:
    """One event's file: by what it was called, and the one name that it has for every run."""

    path: Path
    name: str


@dataclass(frozen=True, slots=True)
class Order:
    """What is wanted of every event, and who computes it."""

    seed: int
    forms: tuple[str, ...]
    """Endings of the files that are wanted: json, html, pdf."""
    lessons: tuple[Lesson, ...]
    model_version: str
    program: str
    """Version of the program, which renders."""


@dataclass(frozen=True, slots=True)
class Job:
    """All that a worker needs to know for one sheet."""

    event: Event
    seed: int
    forms: tuple[str, ...]
    lessons: tuple[Lesson, ...]


@dataclass(frozen=True, slots=True)
class Finished:
    """What a worker hands back: files by name, or why there are none, a line for each reason."""

    state: State
    files: Mapping[str, bytes] = field(default_factory=dict)
    seconds: float = 0.0
    model_version: str = ""
    why: tuple[str, ...] = ()
    tried_again: bool = False
    """Whether the crew has tried a lost one again by itself."""


class CrewGoneError(NextpairError):
    """Nobody is left to compute; what is kept stays."""


class Crew(Protocol):
    """Who computes: takes jobs while it has room, and hands each back once, in any order."""

    @property
    def words(self) -> str:
        """Who it is, as in '2 processes'."""

    def room(self) -> int:
        """How many more jobs it takes now; more than none when it has none."""

    def give(self, number: int, job: Job) -> None:
        """Hand it a job under a number."""

    def take(self) -> tuple[int, Finished]:
        """Wait for any job to end. Raises CrewGoneError."""

    def close(self) -> None:
        """End at once whatever is under way, and all of it."""


@dataclass(frozen=True, slots=True)
class ItemRecord:
    """A line of the manifest: an item, what it was made of, and what became of it."""

    item: str
    folder: str
    event: str
    inputs: str
    seed: int
    model_version: str
    program: str
    state: State
    seconds: float = 0.0
    files: Mapping[str, str] = field(default_factory=dict)
    """SHA-256 of each file that was written, by its name."""
    why: tuple[str, ...] = ()


class Tray(Protocol):
    """Where sheets go, each into a folder of its own, with the manifest beside them."""

    def records(self) -> Mapping[str, ItemRecord]:
        """What the manifest says, the last line of each item by the item's name."""

    def holds(self, record: ItemRecord) -> bool:
        """Whether every file of a record lies there as it was written."""

    def keep(self, folder: str, files: Mapping[str, bytes]) -> None:
        """Write the files of one item: all or none. Raises InvalidValueError."""

    def note(self, record: ItemRecord) -> None:
        """Add a line to the manifest. Raises InvalidValueError."""


@dataclass(frozen=True, slots=True)
class ItemOutcome:
    """What became of one item in this run; `made` where it was computed now."""

    record: ItemRecord
    made: bool


@dataclass(frozen=True, slots=True)
class Batch:
    """What became of a batch; `waiting` are the items that it did not come to."""

    items: tuple[ItemOutcome, ...]
    waiting: int
    crew: str
    seconds: float
    gone: str = ""
    """Why it ended before its end, where it did."""
    stopped: bool = False
    """Whether somebody stopped it."""

    def count(self, *states: State, made: bool | None = None) -> int:
        """Items that ended so; of those, if asked, the ones made now or the ones kept."""
        return sum(one.record.state in states and made in (None, one.made) for one in self.items)


def inputs_of(event: Event, lessons: Sequence[Lesson]) -> str:
    """SHA-256 of all that a sheet is made of but the seed: the event as it was read, with what was
    guessed, and the lessons that apply. Comments and spacing of its files are not in it."""
    told = repr((event, lessons_for(event, lessons)))
    return hashlib.sha256(told.encode("utf-8", "surrogatepass")).hexdigest()


_PARTS_A_PATH = re.compile(r"[/\\\0]")
"""On any system: a batch is read where it was not written."""


def folders_of(items: Sequence[Item], records: Mapping[str, ItemRecord]) -> dict[str, str]:
    """A folder for each item by its name: the one that it has, else that of its event's folder or
    file, and where several would have the same one, with the beginning of a hash of the item."""
    kept = {item.name: records[item.name].folder for item in items if item.name in records}
    plain = {item.name: _plain_folder(item) for item in items if item.name not in kept}
    wanted = Counter(folder.casefold() for folder in plain.values())
    wanted.update({MANIFEST, *(record.folder.casefold() for record in records.values())})
    return kept | {
        name: folder
        if wanted[folder.casefold()] == 1
        else f"{folder}-{hashlib.sha256(name.encode('utf-8', 'surrogatepass')).hexdigest()[:8]}"
        for name, folder in plain.items()
    }


def _plain_folder(item: Item) -> str:
    path = Path(item.name)
    name = path.parent.name if path.name == "event.toml" else path.stem
    return _PARTS_A_PATH.sub("-", name).lstrip(".") or "event"


def plan_batch(
    items: Sequence[Item],
    order: Order,
    load: Callable[[Path], Event],
    tray: Tray,
    crew_of: Callable[[int], Crew],
    progress: Progress = unwatched,
) -> Batch:
    """Plan every item that is missing, changed or failed before, and note what became of it.

    `crew_of` makes a crew for so many items; it is asked only where something is due. An
    interruption ends the run and loses only what is under way. Raises InvalidValueError where
    nothing can be written, or as `crew_of` does.
    """
    return _Run(items, order, load, tray, progress).whole(crew_of)


class _Run:
    """One run over a batch."""

    def __init__(
        self,
        items: Sequence[Item],
        order: Order,
        load: Callable[[Path], Event],
        tray: Tray,
        progress: Progress,
    ) -> None:
        self._items = items
        self._order = order
        self._load = load
        self._tray = tray
        self._progress = progress
        self._records = tray.records()
        self._folders = folders_of(items, self._records)
        self._ended: dict[int, ItemOutcome] = {}
        self._tries = [0] * len(items)
        self._given: dict[int, ItemRecord] = {}

    def whole(self, crew_of: Callable[[int], Crew]) -> Batch:
        begun_s = monotonic()
        crew_words, gone, stopped = "nobody", "", False
        try:
            due, refused = self._looked_over()
            with ExitStack() as ending:
                crew = ending.enter_context(closing(crew_of(len(due)))) if due else None
                # Not before: where there is no such crew, nothing is written.
                for number, record in refused:
                    self._end(number, record)
                if crew is not None:
                    crew_words = crew.words
                    self._work_off(due, crew)
        except KeyboardInterrupt:
            gone, stopped = "stopped", True
        except CrewGoneError as error:
            gone = str(error)
        return Batch(
            items=tuple(self._ended[number] for number in sorted(self._ended)),
            waiting=len(self._items) - len(self._ended),
            crew=crew_words,
            seconds=monotonic() - begun_s,
            gone=gone,
            stopped=stopped,
        )

    def _looked_over(self) -> tuple[deque[int], list[tuple[int, ItemRecord]]]:
        """Items that have to be computed, and records of those whose files are wrong; what is kept
        is settled here."""
        due: deque[int] = deque()
        refused = []
        for number in range(len(self._items)):
            self._progress("reading events", number, len(self._items))
            event, begun = self._read(number)
            kept = self._records.get(begun.item)
            if event is None:
                refused.append((number, begun))
            elif kept is not None and self._stands(kept, begun):
                self._ended[number] = ItemOutcome(kept, made=False)
            else:
                due.append(number)
        return due, refused

    def _stands(self, kept: ItemRecord, begun: ItemRecord) -> bool:
        """Whether a sheet that is kept is the one that would be made."""
        return (
            kept.state is State.DONE
            and _basis(kept) == _basis(begun)
            and {f"sheet.{form}" for form in self._order.forms} <= set(kept.files)
            and self._tray.holds(kept)
        )

    def _read(self, number: int) -> tuple[Event | None, ItemRecord]:
        """An event as it is now and a record that begins; without an event it is refused."""
        item = self._items[number]
        begun = ItemRecord(
            item=item.name,
            folder=self._folders[item.name],
            event="",
            inputs="",
            seed=self._order.seed,
            model_version=self._order.model_version,
            program=self._order.program,
            state=State.REFUSED,
        )
        try:
            event = self._load(item.path)
        except InputRefusedError as refused:
            return None, replace(begun, why=tuple(str(problem) for problem in refused.problems))
        return event, replace(
            begun, event=event.name, inputs=inputs_of(event, self._order.lessons)
        )

    def _work_off(self, due: deque[int], crew: Crew) -> None:
        self._tell()
        while True:
            self._hand_out(due, crew)
            if not self._given:
                return
            number, finished = crew.take()
            begun = self._given.pop(number)
            # The next job first: nobody waits while this one is written.
            self._hand_out(due, crew)
            if self._settle(number, begun, finished):
                self._tell()
            else:
                due.append(number)

    def _hand_out(self, due: deque[int], crew: Crew) -> None:
        while due and crew.room() > 0:
            number = due.popleft()
            event, begun = self._read(number)
            if event is None:
                self._end(number, begun)
                continue
            self._given[number] = begun
            self._tries[number] += 1
            lessons = lessons_for(event, self._order.lessons)
            crew.give(number, Job(event, self._order.seed, self._order.forms, lessons))

    def _settle(self, number: int, begun: ItemRecord, finished: Finished) -> bool:
        """Keep what came of an item and note it; False where it has to be tried again."""
        last = self._tries[number] >= MOST_TRIES
        path = self._items[number].path
        record = replace(begun, state=finished.state, seconds=round(finished.seconds, 3))
        if finished.state is State.LOST:
            if not (last or finished.tried_again):
                return False
            died = finished.why or (LOST.format(self._tries[number]),)
            self._end(number, replace(record, why=_of(path, *died)))
        elif finished.state is not State.DONE:
            self._end(number, replace(record, why=_of(path, *finished.why)))
        elif finished.model_version != begun.model_version:
            told = OTHER_MODEL.format(finished.model_version, begun.model_version)
            self._end(number, replace(record, state=State.FAULT, why=_of(path, told)))
        elif not self._is_as_read(path, begun):
            if not last:
                return False
            self._end(number, replace(record, state=State.REFUSED, why=_of(path, CHANGED)))
        else:
            self._keep(number, record, finished.files)
        return True

    def _is_as_read(self, path: Path, begun: ItemRecord) -> bool:
        try:
            return inputs_of(self._load(path), self._order.lessons) == begun.inputs
        except InputRefusedError:
            return False

    def _keep(self, number: int, record: ItemRecord, files: Mapping[str, bytes]) -> None:
        sums = {name: hashlib.sha256(content).hexdigest() for name, content in files.items()}
        with unbroken():
            self._tray.keep(record.folder, files)
            self._end(number, replace(record, files=sums))

    def _end(self, number: int, record: ItemRecord) -> None:
        with unbroken():
            self._tray.note(record)
            self._ended[number] = ItemOutcome(record, made=record.state is State.DONE)

    def _tell(self) -> None:
        self._progress("planning events", len(self._ended), len(self._items))


def _of(path: Path, *lines: str) -> tuple[str, ...]:
    """Lines that say which item they are of."""
    return tuple(f"{path}: {line}" for line in lines)


def _basis(record: ItemRecord) -> tuple[str, int, str, str]:
    """What a sheet is of; with the same it is the same, to the last byte."""
    return record.inputs, record.seed, record.model_version, record.program
