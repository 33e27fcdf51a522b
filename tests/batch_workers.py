"""What workers of a batch do in tests; found in their processes by its name."""

from __future__ import annotations

import os
import time
from contextlib import closing
from dataclasses import replace
from pathlib import Path

from nextpair.application.batch import Batch, Finished, Item, Job, Order, State, plan_batch

ORDER = Order(seed=7, forms=("json",), lessons=(), model_version="m", program="1")


def steady(job: Job) -> Finished:
    """The event's name."""
    return Finished(State.DONE, {"sheet.json": job.event.name.encode()}, 0.0, "m")


def slow(job: Job) -> Finished:
    """The same after a second."""
    time.sleep(1.0)
    return steady(job)


def dying(job: Job) -> Finished:
    """The end of the process where the event asks for it."""
    if job.event.name == "dies":
        os._exit(9)
    return steady(job)


def job(name: str) -> Job:
    """A job of an event of that name."""
    from small_event import small_event

    return Job(replace(small_event(), name=name), 7, ("json",), ())


def plan_slowly(paths: list[Path], out: Path) -> Batch:
    """Plan events by two slow processes."""
    from nextpair.cli.output import write_files
    from nextpair.crew.processes import ProcessCrew
    from nextpair.files import load_event
    from nextpair.files.batch_folder import BatchFolder

    items = [Item(path, str(path)) for path in paths]
    with closing(BatchFolder(out, write_files)) as tray:
        return plan_batch(items, ORDER, load_event, tray, lambda _jobs: ProcessCrew(2, slow))
