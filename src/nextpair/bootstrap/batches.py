"""Many sheets: which crew computes them, and where they go."""

from __future__ import annotations

import os
from contextlib import closing
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from nextpair.application.ports import Progress, unwatched
from nextpair.bootstrap.at_home import AtHome

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nextpair.application.batch import Batch, Crew, Item
    from nextpair.domain.lesson import Lesson
    from nextpair.files.batch_folder import WriteFiles


@dataclass(frozen=True, slots=True)
class Batches(AtHome):
    """Plans many events, with what is kept at home."""

    def events_of(self, paths: Sequence[Path], listed: Path | None, out: Path) -> tuple[Item, ...]:
        """The events of files, folders and a list, but for those in `out`. Raises
        InputRefusedError for a list that cannot be read."""
        from nextpair.files.event_search import events_below, listed_paths

        return events_below((*paths, *(listed_paths(listed) if listed else ())), but=out)

    def plan_batch(
        self,
        items: Sequence[Item],
        out: Path,
        forms: tuple[str, ...],
        lessons: tuple[Lesson, ...],
        program: str,
        write_files: WriteFiles,
        cluster: str | None = None,
        progress: Progress = unwatched,
    ) -> Batch:
        """Plan what is due of some events into a folder, by this version of the program. Raises
        InvalidValueError where it cannot be written, or where there is no such cluster."""
        from nextpair.application.batch import Order, plan_batch
        from nextpair.application.model_version import model_version
        from nextpair.files import load_event
        from nextpair.files.batch_folder import BatchFolder

        order = Order(self.settings.seed, forms, lessons, model_version(), program)
        with closing(BatchFolder(out, write_files)) as tray:
            crew_of = partial(self._crew, cluster)
            return plan_batch(items, order, load_event, tray, crew_of, progress)

    def _crew(self, cluster: str | None, jobs: int) -> Crew:
        """A cluster where one is named; else processes of this machine, no more than jobs."""
        from nextpair.bootstrap.sheet_work import finished_sheet

        work = partial(
            finished_sheet, cache_dir=self.settings.cache_dir, with_trace=self.settings.debug
        )
        if cluster is not None:
            from nextpair.crew.dask_cluster import DaskCrew

            return DaskCrew(cluster, work)
        from nextpair.crew.processes import ProcessCrew

        return ProcessCrew(min(self.settings.threads or os.cpu_count() or 1, jobs), work)
