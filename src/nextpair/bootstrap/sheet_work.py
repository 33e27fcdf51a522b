"""What a worker of a batch does: one event in, its sheet's files out. Found there by its name."""

from __future__ import annotations

import os
import traceback
from pathlib import Path
from threading import Lock
from time import perf_counter

from nextpair.application.batch import Finished, Job, State
from nextpair.application.model_version import model_version
from nextpair.application.settings import Settings, resolve_settings
from nextpair.bootstrap.compiler import prepare_compiler
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.sheet import Sheet

_ONE_AT_A_TIME = Lock()
"""The compiler's threads bear one caller in a process; a worker may have several."""


def finished_sheet(job: Job, cache_dir: Path | None = None, with_trace: bool = False) -> Finished:
    """The files of a job's sheet, or why there are none; never raises for what an event holds."""
    with _ONE_AT_A_TIME:
        begun_s = perf_counter()
        try:
            files = _files(job, _settings(cache_dir))
        except InvalidValueError as refused:
            return Finished(State.REFUSED, why=(str(refused),))
        except Exception as fault:
            why = f"our fault, not yours: {type(fault).__name__}: {fault}"
            told = traceback.format_exc() if with_trace else ""
            return Finished(State.FAULT, why=(" ".join(why.split()), *told.splitlines()))
        return Finished(State.DONE, files, perf_counter() - begun_s, model_version())


def _settings(cache_dir: Path | None) -> Settings:
    """A thread each; the cache of the worker's own machine unless one was named."""
    named = {} if cache_dir is None else {"cache_dir": cache_dir}
    return resolve_settings(named | {"threads": 1}, os.environ)


def _files(job: Job, settings: Settings) -> dict[str, bytes]:
    prepare_compiler(settings)
    from nextpair.application.lessons import with_lessons
    from nextpair.application.sheets import plan

    sheet = with_lessons(plan(job.event, job.seed), job.event, job.lessons)
    return {f"sheet.{form}": _rendered(form, sheet) for form in job.forms}


def _rendered(form: str, sheet: Sheet) -> bytes:
    if form == "json":
        from nextpair.reports.sheet_json import render_sheet_json

        return render_sheet_json(sheet).encode()
    if form == "html":
        from nextpair.reports.sheet_html import render_sheet_html

        return render_sheet_html(sheet).encode()
    from nextpair.reports.sheet_pdf import render_sheet_pdf

    return render_sheet_pdf(sheet)
