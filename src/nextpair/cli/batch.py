"""Many sheets on the command line."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from nextpair import __version__
from nextpair.cli.options import AsJson, takes
from nextpair.cli.output import write_files
from nextpair.cli.session import Session, watched
from nextpair.domain.errors import InvalidValueError, require

if TYPE_CHECKING:
    from nextpair.application.batch import Batch
    from nextpair.bootstrap import Program
    from nextpair.domain.lesson import Lesson

DONE, OUR_FAULT, WRONG_INPUT, STOPPED = 0, 1, 2, 130
"""Exit codes; the last is what shells give to a program that Ctrl+C ended."""
FORMS = ("json", "html")

Events = Annotated[
    list[Path] | None,
    typer.Argument(metavar="EVENTS...", help="Events' files, and folders that are searched."),
]
EventList = Annotated[
    Path | None,
    typer.Option("--list", metavar="FILE", help="A file that names such files and folders."),
]
SheetsFolder = Annotated[
    Path,
    typer.Option("--out", metavar="DIR", help="Write a folder for each event there."),
]
WithPdf = Annotated[bool, typer.Option("--pdf", help="Write sheet.pdf as well.")]
Cluster = Annotated[
    str | None,
    typer.Option("--cluster", metavar="ADDRESS", help="Compute on this Dask cluster."),
]


@takes("seed", "threads", "cache_dir", "store", "data_dir", "debug")
def batch(
    ctx: typer.Context,
    out: SheetsFolder,
    events: Events = None,
    listed: EventList = None,
    pdf: WithPdf = False,
    cluster: Cluster = None,
    as_json: AsJson = False,
) -> str:
    """Plan many events, as sheet does; again: only what is due."""
    from nextpair.reports.batch_report import render_batch_json, render_batch_text

    session: Session = ctx.obj
    program = session.program()
    threads = session.flags["threads"]
    require(not (cluster and threads), "--threads", threads, "without --cluster")
    items = program.events_of(events or (), listed, out)
    require(bool(items), "EVENTS", "none", "files or folders of events, or --list FILE")
    with watched() as progress:
        done = program.plan_batch(
            items,
            out,
            (*FORMS, *(("pdf",) if pdf else ())),
            _lessons(program),
            __version__,
            write_files,
            cluster,
            progress,
        )
    render = render_batch_json if as_json else render_batch_text
    typer.echo(render(done, out), nl=False)
    code = _told(done)
    if code != DONE:
        raise typer.Exit(code)
    return ""


def _lessons(program: Program) -> tuple[Lesson, ...]:
    """What is kept of earlier events; it may not stand in the way of plans."""
    try:
        return program.kept_lessons()
    except InvalidValueError as unread:
        told = f"nextpair: what earlier events taught is not on the sheets: {unread}"
        typer.echo(told, err=True)
        return ()


def _told(done: Batch) -> int:
    """A line on standard error for whatever went wrong; returns the exit code."""
    from nextpair.application.batch import State

    for one in done.items:
        for line in one.record.why:
            typer.echo(f"nextpair: {line}", err=True)
    if done.gone:
        again = "the same command again does the rest"
        typer.echo(f"nextpair: {done.gone}, {done.waiting} not planned: {again}", err=True)
    if done.stopped:
        return STOPPED
    if done.gone or done.count(State.FAULT, State.LOST):
        return OUR_FAULT
    return WRONG_INPUT if done.count(State.REFUSED) else DONE
