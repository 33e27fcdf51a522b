"""What the places of a measured crew do: a sheet, and what it took; and a cluster to do it on."""

from __future__ import annotations

import os
import time
from dataclasses import asdict, dataclass
from multiprocessing.connection import Connection

from nextpair.application.batch import Finished, Job
from nextpair.bootstrap.sheet_work import finished_sheet


@dataclass(frozen=True, slots=True)
class Timed(Finished):
    """What became of a job, what its sheet cost, and in which process."""

    cpu_s: float = 0.0
    pid: int = 0


def timed_sheet(job: Job) -> Timed:
    """The sheet, and its own thread's seconds on a core: it has one, and what else a worker does
    meanwhile is not the sheet's."""
    begun_s = time.thread_time()
    finished = finished_sheet(job)
    told = {name: getattr(finished, name) for name in asdict(finished)}
    return Timed(**told, cpu_s=time.thread_time() - begun_s, pid=os.getpid())


def run_cluster(workers: int, end: Connection) -> None:
    """A Dask cluster of this machine, in a process apart, until the other end says so."""
    from distributed import LocalCluster

    with LocalCluster(
        n_workers=workers,
        threads_per_worker=1,
        host="127.0.0.1",
        dashboard_address="127.0.0.1:0",
    ) as cluster:
        end.send(cluster.scheduler_address)
        end.recv()
