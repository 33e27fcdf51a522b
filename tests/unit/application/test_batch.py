"""Batches: what is due, what is tried again, what is kept, with a crew that only pretends."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

import pytest

from nextpair.application.batch import (
    MANIFEST,
    Crew,
    CrewGoneError,
    Finished,
    Item,
    ItemRecord,
    Job,
    Order,
    State,
    folders_of,
    inputs_of,
    plan_batch,
)
from nextpair.domain.errors import InputRefusedError, InvalidValueError, Problem
from small_event import small_event

ORDER = Order(seed=7, forms=("json",), lessons=(), model_version="m1", program="1")
ITEMS = tuple(Item(Path(f"{name}/event.toml"), f"/in/{name}/event.toml") for name in "abcd")


class Paper:
    """A tray that keeps everything in memory."""

    def __init__(self) -> None:
        self.lines: list[ItemRecord] = []
        self.files: dict[str, bytes] = {}

    def records(self) -> dict[str, ItemRecord]:
        return {line.item: line for line in self.lines}

    def holds(self, record: ItemRecord) -> bool:
        return all(
            sha256(self.files.get(f"{record.folder}/{name}", b"")).hexdigest() == known
            for name, known in record.files.items()
        )

    def keep(self, folder: str, files: dict[str, bytes]) -> None:
        self.files |= {f"{folder}/{name}": content for name, content in files.items()}

    def note(self, record: ItemRecord) -> None:
        self.lines.append(record)


def done(job: Job, _turn: int = 1) -> Finished:
    return Finished(State.DONE, {"sheet.json": job.event.name.encode()}, 1.0, "m1")


class Pretenders:
    """A crew that answers by a function of the job and how often it had it, last one first."""

    words = "pretenders"

    def __init__(self, places: int = 2, answer: Callable[[Job, int], Finished] = done) -> None:
        self.places, self.answer = places, answer
        self.had: list[str] = []
        self.under_way: list[tuple[int, Job]] = []
        self.most, self.closed = 0, False

    def __call__(self, _jobs: int) -> Pretenders:
        return self

    def room(self) -> int:
        return self.places - len(self.under_way)

    def give(self, number: int, job: Job) -> None:
        self.under_way.append((number, job))
        self.most = max(self.most, len(self.under_way))

    def take(self) -> tuple[int, Finished]:
        number, job = self.under_way.pop()
        self.had.append(job.event.name)
        return number, self.answer(job, self.had.count(job.event.name))

    def close(self) -> None:
        self.closed = True


def load(path: Path):
    return replace(small_event(), name=path.parent.name)


def test_everything_is_planned_once_and_nothing_of_it_again():
    tray, crew = Paper(), Pretenders()
    batch = plan_batch(ITEMS, ORDER, load, tray, crew)
    assert sorted(crew.had) == list("abcd")
    assert tray.files == {f"{name}/sheet.json": name.encode() for name in "abcd"}
    assert (batch.count(State.DONE, made=True), batch.waiting, crew.closed) == (4, 0, True)
    again = Pretenders()
    batch = plan_batch(ITEMS, ORDER, load, tray, again)
    assert again.had == []
    assert (batch.count(State.DONE, made=False), batch.crew) == (4, "nobody")


def test_no_more_jobs_are_out_than_the_crew_has_room_for():
    crew = Pretenders(places=3)
    many = tuple(Item(Path(f"{n}/event.toml"), f"/in/{n}/event.toml") for n in range(50))
    plan_batch(many, ORDER, load, Paper(), crew)
    assert (crew.most, len(crew.had)) == (3, 50)


@pytest.mark.parametrize(
    ("spoil", "due"),
    [
        (lambda tray: tray.files.pop("b/sheet.json"), ["b"]),
        (lambda tray: tray.files.update({"c/sheet.json": b"half"}), ["c"]),
        (lambda tray: tray.lines.pop(0), ["b"]),
    ],
    ids=["missing", "spoiled", "not noted"],
)
def test_what_is_missing_or_spoiled_is_made_again(spoil, due):
    tray = Paper()
    plan_batch(ITEMS[1:3], ORDER, load, tray, Pretenders(places=1))
    spoil(tray)
    crew = Pretenders()
    plan_batch(ITEMS[1:3], ORDER, load, tray, crew)
    assert crew.had == due


@pytest.mark.parametrize(
    "change", [{"seed": 8}, {"program": "2"}, {"forms": ("json", "pdf")}], ids=str
)
def test_another_order_makes_everything_again(change):
    tray, crew = Paper(), Pretenders()
    plan_batch(ITEMS, ORDER, load, tray, Pretenders())
    plan_batch(ITEMS, replace(ORDER, **change), load, tray, crew)
    assert sorted(crew.had) == list("abcd")


def test_a_changed_event_is_made_again_and_the_others_are_not():
    tray, crew = Paper(), Pretenders()
    plan_batch(ITEMS, ORDER, load, tray, Pretenders())
    plan_batch(
        ITEMS,
        ORDER,
        lambda path: replace(load(path), games=1) if path.parent.name == "b" else load(path),
        tray,
        crew,
    )
    assert crew.had == ["b"]


def test_a_wrong_file_is_told_and_the_rest_is_kept():
    def load_some(path: Path):
        if path.parent.name == "c":
            raise InputRefusedError((Problem("c/event.toml", "games", "0", "1 to 24 games"),))
        return load(path)

    tray, crew = Paper(), Pretenders()
    batch = plan_batch(ITEMS, ORDER, load_some, tray, crew)
    assert sorted(crew.had) == list("abd")
    wrong = batch.items[2].record
    assert wrong.why == ("c/event.toml: games: found 0, allowed: 1 to 24 games",)
    assert wrong.state is State.REFUSED
    assert tray.records()["/in/c/event.toml"] == wrong


def test_where_there_is_no_such_crew_nothing_is_noted_not_even_what_is_wrong():
    def load_some(path: Path):
        if path.parent.name == "b":
            raise InputRefusedError((Problem("b/event.toml", "games", "0", "1 to 24 games"),))
        return load(path)

    def nobody(jobs: int) -> Crew:
        asked.append(jobs)
        raise InvalidValueError("--cluster", "127.0.0.1:1", "one that answers")

    asked: list[int] = []
    tray = Paper()
    with pytest.raises(InvalidValueError, match="--cluster"):
        plan_batch(ITEMS, ORDER, load_some, tray, nobody)
    assert (asked, tray.lines) == ([3], [])
    batch = plan_batch(ITEMS[1:2], ORDER, load_some, tray, nobody)
    assert (batch.count(State.REFUSED), [line.folder for line in tray.lines]) == (1, ["b"])


def test_a_fault_of_ours_is_of_one_item():
    def answer(job: Job, turn: int) -> Finished:
        return Finished(State.FAULT, why=("by nought",)) if job.event.name == "a" else done(job)

    batch = plan_batch(ITEMS, ORDER, load, Paper(), Pretenders(answer=answer))
    assert batch.items[0].record.why == ("a/event.toml: by nought",)
    assert batch.count(State.DONE) == 3


@pytest.mark.parametrize(("deaths", "state", "had"), [(1, State.DONE, 2), (9, State.LOST, 2)])
def test_an_item_whose_worker_died_is_tried_once_more(deaths, state, had):
    def answer(job: Job, turn: int) -> Finished:
        if job.event.name == "a" and turn <= deaths:
            return Finished(State.LOST)
        return done(job)

    crew = Pretenders(answer=answer)
    batch = plan_batch(ITEMS, ORDER, load, Paper(), crew)
    assert batch.items[0].record.state is state
    assert crew.had.count("a") == had
    assert batch.count(State.DONE) == 3 + (state is State.DONE)


def test_what_a_cluster_tried_again_itself_is_not_tried_again():
    crew = Pretenders(answer=lambda _job, _turn: Finished(State.LOST, tried_again=True))
    batch = plan_batch(ITEMS[:1], ORDER, load, Paper(), crew)
    assert (crew.had, batch.count(State.LOST)) == (["a"], 1)


def test_a_worker_of_another_model_makes_no_sheet():
    crew = Pretenders(answer=lambda job, _turn: replace(done(job), model_version="m2"))
    tray = Paper()
    batch = plan_batch(ITEMS[:1], ORDER, load, tray, crew)
    assert batch.count(State.FAULT) == 1
    assert "the model m2, and this program m1" in batch.items[0].record.why[0]
    assert tray.files == {}


@pytest.mark.parametrize(("changes", "state", "had"), [(1, State.DONE, 2), (9, State.REFUSED, 2)])
def test_an_event_that_changes_while_it_is_planned_is_planned_once_more(changes, state, had):
    games = [1]

    def answer(job: Job, turn: int) -> Finished:
        if turn <= changes:
            games[0] += 1
        return done(job)

    crew, tray = Pretenders(places=1, answer=answer), Paper()
    batch = plan_batch(
        ITEMS[:1], ORDER, lambda path: replace(load(path), games=games[0]), tray, crew
    )
    assert (batch.items[0].record.state, len(crew.had)) == (state, had)
    assert bool(tray.files) is (state is State.DONE)


@pytest.mark.parametrize(
    ("error", "stopped"), [(KeyboardInterrupt(), True), (CrewGoneError("gone"), False)]
)
def test_a_run_that_ends_early_keeps_what_is_done_and_goes_on_later(error, stopped):
    def answer(job: Job, turn: int) -> Finished:
        if len(crew.had) == 3:
            raise error
        return done(job)

    crew, tray = Pretenders(places=1, answer=answer), Paper()
    batch = plan_batch(ITEMS, ORDER, load, tray, crew)
    assert (batch.count(State.DONE), batch.waiting, batch.stopped) == (2, 2, stopped)
    assert crew.closed
    assert batch.gone
    rest = Pretenders()
    plan_batch(ITEMS, ORDER, load, tray, rest)
    assert sorted(rest.had) == ["c", "d"]


def test_folders_of_one_name_are_told_apart_the_same_way_in_any_order():
    items = [
        Item(Path("x"), "/one/open/event.toml"),
        Item(Path("x"), "/two/Open/event.toml"),
        Item(Path("x"), "/two/cup.toml"),
        Item(Path("x"), f"/two/{MANIFEST}/event.toml"),
        Item(Path("x"), "/event.toml"),
    ]
    folders = folders_of(items, {})
    assert len({folder.casefold() for folder in folders.values()}) == 5
    assert folders["/two/cup.toml"] == "cup"
    assert folders["/event.toml"] == "event"
    assert MANIFEST not in folders.values()
    assert folders == folders_of(items[::-1], {})


def test_an_item_stays_in_its_folder_when_another_of_that_name_comes():
    tray = Paper()
    plan_batch(ITEMS[:1], ORDER, load, tray, Pretenders())
    other = Item(Path("a/event.toml"), "/elsewhere/a/event.toml")
    folders = folders_of((other, ITEMS[0]), tray.records())
    assert folders[ITEMS[0].name] == "a"
    assert folders[other.name].startswith("a-")


def test_inputs_are_what_the_event_says():
    event = small_event()
    assert inputs_of(event, ()) == inputs_of(replace(event), ())
    assert inputs_of(event, ()) != inputs_of(replace(event, games=1), ())
    assert " at 0x" not in repr(event), "an address would differ from run to run"
