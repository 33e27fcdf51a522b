"""Throughput of batches: a bare loop, one process, two, and a Dask cluster of two workers, on one
set of events in one run; what a crew costs beside the sheets.

    make batch-bench

What a crew costs beside the sheets is the share of its places' time in which none of them makes a
sheet: files read, sent, compared and written. The start of a crew, with what each process loads
and compiles, is told apart. Times are of the wall: the load of the machine is told beside them.
"""

from __future__ import annotations

import json
import shutil
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from statistics import median

from batch_events import little_event
from nextpair.application.batch import Batch, Crew, Finished, Item, Job, Order, plan_batch
from nextpair.application.model_version import model_version
from nextpair.bootstrap.sheet_work import finished_sheet
from nextpair.cli.output import write_files
from nextpair.crew.dask_cluster import DaskCrew
from nextpair.crew.processes import ProcessCrew
from nextpair.files import load_event
from nextpair.files.batch_folder import BatchFolder

ITEMS = 6
RUNS = 2
FORMS = ("json", "html")
BARE = "bare loop"


@dataclass(frozen=True, slots=True)
class Way:
    """How many work at once, and how long it took until all of them had made a sheet."""

    places: int
    start_s: float


class Warm:
    """A crew that has begun before the clock does: every place has made a sheet."""

    def __init__(self, crew: Crew, places: int, job: Job) -> None:
        begun_s = time.perf_counter()
        for number in range(places):
            crew.give(number, job)
        for _ in range(places):
            crew.take()
        self.start_s = time.perf_counter() - begun_s
        self.places = places
        self.crew = crew
        self.words, self.room, self.give, self.take = crew.words, crew.room, crew.give, crew.take

    def close(self) -> None:
        """Stays for the next run."""


def main(target: Path) -> None:
    """Measure and write."""
    from distributed import LocalCluster

    from benchmarks.machine import machine

    facts = machine()
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        paths = [little_event(root / f"e{n}", f"Little Open {n}") for n in range(ITEMS)]
        job = Job(load_event(paths[0]), 7, FORMS, ())
        with LocalCluster(
            n_workers=2, threads_per_worker=1, host="127.0.0.1", dashboard_address="127.0.0.1:0"
        ) as cluster:
            crews: dict[str, Warm] = {
                "1 process": Warm(ProcessCrew(1, finished_sheet), 1, job),
                "2 processes": Warm(ProcessCrew(2, finished_sheet), 2, job),
                "Dask, 2 workers": Warm(
                    DaskCrew(cluster.scheduler_address, finished_sheet), 2, job
                ),
            }
            finished_sheet(job)
            runs = [_round(paths, root, crews) for _ in range(RUNS)]
            for warm in crews.values():
                warm.crew.close()
        ways = {BARE: Way(1, 0.0)} | {
            name: Way(warm.places, warm.start_s) for name, warm in crews.items()
        }
        figures = {
            "items": ITEMS,
            "ways": {name: _told([run[name] for run in runs], way) for name, way in ways.items()},
            **facts,
        }
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_text(json.dumps(figures, indent=2) + "\n", "utf-8")
    for name, way in figures["ways"].items():
        print(name, *(f"{key} {value:.4g}" for key, value in way.items()), sep="  ")


def _told(runs: list[dict[str, float]], way: Way) -> dict[str, float]:
    """The median of the runs of one way."""
    overheads = [1 - run["sheets_s"] / (way.places * run["wall_s"]) for run in runs]
    return {
        "sheets_an_hour": median(3600 * ITEMS / run["wall_s"] for run in runs),
        "overhead": median(overheads),
        "overhead_worst": max(overheads),
        "start_s": way.start_s,
    }


def _round(paths: list[Path], root: Path, crews: dict[str, Warm]) -> dict[str, dict[str, float]]:
    """Every way once, one after the other."""
    told = {BARE: _timed(partial(_bare, paths, root / "bare"))}
    for name, warm in crews.items():
        told[name] = _timed(partial(_batch, paths, root / "out", warm))
        shutil.rmtree(root / "out")
    shutil.rmtree(root / "bare")
    return told


def _timed(work: Callable[[], float]) -> dict[str, float]:
    begun_s = time.perf_counter()
    sheets_s = work()
    wall_s = time.perf_counter() - begun_s
    return {"wall_s": wall_s, "sheets_s": sheets_s}


def _bare(paths: list[Path], out: Path) -> float:
    """What `sheet` does, in a loop of one process."""
    sheets_s = 0.0
    for path in paths:
        finished: Finished = finished_sheet(Job(load_event(path), 7, FORMS, ()))
        sheets_s += finished.seconds
        files = {out / path.parent.name / name: data for name, data in finished.files.items()}
        write_files(files)
    return sheets_s


def _batch(paths: list[Path], out: Path, crew: Warm) -> float:
    tray = BatchFolder(out, write_files)
    order = Order(7, FORMS, (), model_version(), "bench")
    items = [Item(path, str(path)) for path in paths]
    done: Batch = plan_batch(items, order, load_event, tray, lambda _jobs: crew)
    tray.close()
    if done.count(*{one.record.state for one in done.items}, made=True) != ITEMS:
        raise RuntimeError("a sheet was not made")
    return sum(one.record.seconds for one in done.items)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
