"""Throughput of batches: a bare loop, one process, two, and a Dask cluster of two workers, by
turns on one set of events; what a crew costs beside its sheets.

python -m benchmarks.batched build/batch-bench.json

Every place of a crew has made a sheet before the clock begins, as the bare loop has: what that
start costs is told apart. Overhead an item is told twice, in core-seconds, since others at the
machine move times on the wall: all that a crew's processes took over what the bare loop took for
the same sheets; and what they took beside the threads that made the sheets, less the same of the
bare loop, over the sheets' own, which is a difference within one turn and hardly moves.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, closing, contextmanager
from dataclasses import dataclass
from functools import partial
from multiprocessing import get_context
from pathlib import Path
from statistics import median
from typing import Any

import psutil

from batch_events import little_event
from benchmarks.batch_work import Timed, run_cluster, timed_sheet
from benchmarks.machine import load_average, machine
from benchmarks.written import load_words, write_figures
from nextpair.application.batch import Crew, Item, Job, Order, State, plan_batch
from nextpair.application.model_version import model_version
from nextpair.cli.output import write_files
from nextpair.crew.dask_cluster import DaskCrew
from nextpair.crew.processes import ProcessCrew
from nextpair.files import load_event
from nextpair.files.batch_folder import BatchFolder

ITEMS = 4
RUNS = 3
LONGEST_S = 165.0
"""No turns are begun that would end later."""
WORKERS = 2
SEED = 7
QUIET = Path(__file__).resolve().parents[1] / "docs" / "guide" / "examples" / "dask.yaml"
FORMS = ("json", "html")
BARE = "bare loop"
ANSWER_S = 60.0


@dataclass(frozen=True, slots=True)
class Turn:
    """One way's turn: time on the wall, all its processes' core-seconds, and the sheets' own."""

    wall_s: float
    cpu_s: float
    sheets_cpu_s: float
    sheets_wall_s: float
    """Added up over sheets, which two places make at a time."""


class Warm:
    """A crew of which every place has made a sheet, and its processes."""

    def __init__(self, crew: Crew, places: int, job: Job, before: set[int]) -> None:
        self.crew = crew
        self.sheets: list[Timed] = []
        warm: set[int] = set()
        while len(warm) < places:
            for number in range(places):
                crew.give(number, job)
            warm.update(self.take()[1].pid for _ in range(places))
        self.pids = _family() - before
        self.words, self.room, self.give = crew.words, crew.room, crew.give

    def take(self) -> tuple[int, Timed]:
        """As the crew does, and keep what the sheet took."""
        number, finished = self.crew.take()
        if not isinstance(finished, Timed) or finished.state is not State.DONE:
            raise RuntimeError(f"no sheet: {finished.state}, {finished.why}")
        self.sheets.append(finished)
        return number, finished

    def close(self) -> None:
        """Stays for the next turn."""


def measured(items: int, runs: int) -> dict[str, Any]:
    """Turns of every way, starts, and what comes of them."""
    begun_s = last_s = time.perf_counter()
    facts = machine()
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        paths = [little_event(root / f"e{n}", f"Little Open {n}") for n in range(items)]
        job = Job(load_event(paths[0]), SEED, FORMS, ())
        first_s = timed_sheet(job).cpu_s
        warm_s = timed_sheet(job).cpu_s
        starts = {BARE: {"wall_s": 0.0, "cpu_s": max(first_s - warm_s, 0.0)}}
        with _crews(job, warm_s, starts) as crews:
            turns: dict[str, list[Turn]] = {name: [] for name in (BARE, *crews)}
            for run in range(runs):
                round_s = time.perf_counter()
                if run and 2 * round_s - last_s - begun_s > LONGEST_S:
                    break
                last_s = round_s
                turns[BARE].append(_bare(paths, root / f"bare{run}"))
                for name, crew in crews.items():
                    turns[name].append(_batched(paths, root / f"{name}{run}", crew))
    return {
        "items": items,
        "dask_config": Path(os.environ["DASK_CONFIG"]).name,
        "runs": len(turns[BARE]),
        "ways": {name: told_of(turns, name, items, starts[name]) for name in turns},
        **facts,
        "machine.load_average_after": load_average(),
    }


@contextmanager
def _crews(
    job: Job, warm_s: float, starts: dict[str, dict[str, float]]
) -> Iterator[dict[str, Warm]]:
    """Every crew, warm; notes what its start took beside the sheets that warmed it."""
    spawn = get_context("spawn")
    crews: dict[str, Warm] = {}

    with ExitStack() as ending:

        def begin(name: str, make: Callable[[], Crew], places: int, before: set[int]) -> None:
            begun_s, own_s = time.perf_counter(), time.process_time()
            crew = ending.enter_context(closing(make()))
            crews[name] = warm = Warm(crew, places, job, before)
            took_s = time.process_time() - own_s + sum(_cpu_s(pid) for pid in warm.pids)
            starts[name] = {
                "wall_s": time.perf_counter() - begun_s,
                "cpu_s": took_s - warm_s * len(warm.sheets),
            }

        for places in (1, WORKERS):
            name = f"{places} process" + ("es" if places > 1 else "")
            begin(name, partial(ProcessCrew, places, timed_sheet), places, _family())
        # What Dask does besides is turned down, as in the guide; DASK_CONFIG=/dev/null: it is not.
        os.environ.setdefault("DASK_CONFIG", str(QUIET))
        before = _family()
        end, other = spawn.Pipe()
        cluster = spawn.Process(target=run_cluster, args=(WORKERS, other))
        cluster.start()
        ending.callback(cluster.join, ANSWER_S)
        ending.callback(end.send, "end")
        if not end.poll(ANSWER_S):
            raise RuntimeError("the Dask cluster did not start")
        make = partial(DaskCrew, end.recv(), timed_sheet, ANSWER_S)
        begin(f"Dask, {WORKERS} workers", make, WORKERS, before)
        yield crews


def _bare(paths: list[Path], out: Path) -> Turn:
    """What `sheet` does, in a loop of one process."""
    begun_s, own_s = time.perf_counter(), time.process_time()
    made: list[Timed] = []
    for path in paths:
        made.append(timed_sheet(Job(load_event(path), SEED, FORMS, ())))
        folder = out / path.parent.name
        write_files({folder / name: data for name, data in made[-1].files.items()})
    return _turn(begun_s, time.process_time() - own_s, made)


def _batched(paths: list[Path], out: Path, crew: Warm) -> Turn:
    """What `batch` does, by a crew that has begun."""
    crew.sheets.clear()
    order = Order(SEED, FORMS, (), model_version(), "bench")
    items = [Item(path, str(path)) for path in paths]
    begun_s, own_s = time.perf_counter(), time.process_time()
    crew_s = sum(map(_cpu_s, crew.pids))
    with closing(BatchFolder(out, write_files)) as tray:
        done = plan_batch(items, order, load_event, tray, lambda _jobs: crew)
    cpu_s = time.process_time() - own_s + sum(map(_cpu_s, crew.pids)) - crew_s
    if done.count(State.DONE, made=True) != len(paths):
        raise RuntimeError("a sheet was not made")
    return _turn(begun_s, cpu_s, crew.sheets)


def _turn(begun_s: float, cpu_s: float, made: list[Timed]) -> Turn:
    return Turn(
        wall_s=time.perf_counter() - begun_s,
        cpu_s=cpu_s,
        sheets_cpu_s=sum(one.cpu_s for one in made),
        sheets_wall_s=sum(one.seconds for one in made),
    )


def told_of(
    turns: dict[str, list[Turn]], name: str, items: int, start: dict[str, float]
) -> dict[str, Any]:
    """Of one way: medians of its turns, and each throughput."""
    own, bare = turns[name], turns[BARE]
    an_hour = [3600 * items / turn.wall_s for turn in own]
    return {
        "sheets_an_hour": median(an_hour),
        "sheets_an_hour_of_each_turn": an_hour,
        "times_the_bare_loop": median(
            alone.wall_s / turn.wall_s for turn, alone in zip(own, bare, strict=True)
        ),
        "sheet_cpu_s": median(turn.sheets_cpu_s / items for turn in own),
        "all_cpu_s_an_item": median(turn.cpu_s / items for turn in own),
        "beside_cpu_s_an_item": median(_beside_s(turn) / items for turn in own),
        "overhead_beside_the_sheets": median(
            (_beside_s(turn) - _beside_s(alone)) / turn.sheets_cpu_s
            for turn, alone in zip(own, bare, strict=True)
        ),
        "overhead_to_the_bare_loop": median(turn.cpu_s for turn in own)
        / median(turn.cpu_s for turn in bare)
        - 1,
        "start_wall_s": start["wall_s"],
        "start_cpu_s": start["cpu_s"],
        "waiting_share": median(_waiting_share(turn, name) for turn in own),
    }


def _beside_s(turn: Turn) -> float:
    return turn.cpu_s - turn.sheets_cpu_s


def _waiting_share(turn: Turn, name: str) -> float:
    """Share of the places' time on the wall in which no sheet was under way."""
    places = WORKERS if str(WORKERS) in name else 1
    return 1 - turn.sheets_wall_s / (places * turn.wall_s)


def _family() -> set[int]:
    """Processes that this one started, and theirs."""
    return {child.pid for child in psutil.Process().children(recursive=True)}


def _cpu_s(pid: int) -> float:
    """Core-seconds of a process; none where it is gone."""
    try:
        told = psutil.Process(pid).cpu_times()
    except psutil.NoSuchProcess:
        return 0.0
    return float(told.user + told.system)


def main(target: Path) -> None:
    """Measure, write, and show."""
    begun_s = time.perf_counter()
    figures = measured(ITEMS, RUNS)
    figures["took_s"] = time.perf_counter() - begun_s
    write_figures(figures, target)
    for name, told in figures["ways"].items():
        print(
            f"{name:16} {told['sheets_an_hour']:5.0f} sheets an hour,"
            f" {told['times_the_bare_loop']:.2f} of the bare loop's;"
            f" a sheet {told['sheet_cpu_s']:.2f} core-s,"
            f" overhead {100 * told['overhead_to_the_bare_loop']:.1f} %"
            f" ({100 * told['overhead_beside_the_sheets']:.2f} % beside the sheets),"
            f" start {told['start_cpu_s']:.1f} core-s"
        )
    print(f"{target}: {load_words(figures)}, {figures['took_s']:.0f} s")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
