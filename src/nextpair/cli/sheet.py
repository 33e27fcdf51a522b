"""The main job on the command line: demo, sheet and bag."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import typer

from nextpair.cli.demo_season import PutAway, WholeSeason, demo_season
from nextpair.cli.options import AsJson, EventFile, HtmlFile, OutFolder, PdfFile, takes
from nextpair.cli.output import each_once, write_files
from nextpair.cli.session import Session, watched
from nextpair.domain.errors import InvalidValueError, require

if TYPE_CHECKING:
    from nextpair.bootstrap import Program
    from nextpair.domain.event import Event
    from nextpair.domain.sheet import Sheet


@takes("seed", "threads", "cache_dir", "data_dir", "store", "colour", "debug")
def demo(
    ctx: typer.Context,
    as_json: AsJson = False,
    html: HtmlFile = None,
    pdf: PdfFile = None,
    out: OutFolder = None,
    season: WholeSeason = False,
    put_away: PutAway = False,
) -> str:
    """Plan the event of the program, or keep its season."""
    session: Session = ctx.obj
    if season or put_away:
        planned = {"--json": as_json, "--html": html, "--pdf": pdf, "--out": out}
        for option, value in planned.items():
            require(not value, option, "the demo season", "with the event's sheet alone")
        return demo_season(session.program(), take_in=season, put_away=put_away)
    targets = _targets(html, pdf, out)
    with session.program().demo_event() as event:
        return _delivered(session, _planned(session, event), targets, as_json)


@takes("seed", "threads", "cache_dir", "store", "data_dir", "colour", "debug")
def sheet(
    ctx: typer.Context,
    event: EventFile,
    as_json: AsJson = False,
    html: HtmlFile = None,
    pdf: PdfFile = None,
    out: OutFolder = None,
) -> str:
    """Plan an event: pairs, balls, lines, moves and fallbacks."""
    session: Session = ctx.obj
    targets = _targets(html, pdf, out)
    planned = _planned(session, event, with_lessons=True)
    return _delivered(session, planned, targets, as_json)


@takes("seed", "threads", "cache_dir", "colour", "debug")
def bag(ctx: typer.Context, event: EventFile, as_json: AsJson = False) -> str:
    """Choose the bag, and say what leaving each ball out costs."""
    from nextpair.reports.sheet_json import render_bag_json
    from nextpair.reports.sheet_text import render_bag_text

    session: Session = ctx.obj
    planned = _planned(session, event)
    return render_bag_json(planned) if as_json else render_bag_text(planned, **session.page())


def _planned(session: Session, path: Path, with_lessons: bool = False) -> Sheet:
    program = session.program()
    event = program.load_event(path)
    with watched() as progress:
        planned = program.plan(event, program.settings.seed, progress)
    return _taught(program, event, planned) if with_lessons else planned


def _taught(program: Program, event: Event, planned: Sheet) -> Sheet:
    """A sheet with the lessons that are kept; what is kept may not stand in the way of a plan."""
    try:
        return program.with_lessons(planned, event)
    except InvalidValueError as unread:
        typer.echo(f"nextpair: what earlier events taught is not on the sheet: {unread}", err=True)
        return planned


def _targets(html: Path | None, pdf: Path | None, out: Path | None) -> list[tuple[str, Path]]:
    """Which format goes where; a file named twice is refused before anything is computed."""
    wanted = [("html", html), ("pdf", pdf)]
    if out is not None:
        wanted += [(form, out / f"sheet.{form}") for form in ("json", "html", "pdf")]
    targets = [(form, path) for form, path in wanted if path is not None]
    each_once([path for _, path in targets])
    return targets


def _delivered(
    session: Session, planned: Sheet, targets: list[tuple[str, Path]], as_json: bool
) -> str:
    """Render everything, then write the files; returns what to print."""
    from nextpair.reports.sheet_json import render_sheet_json
    from nextpair.reports.sheet_text import render_sheet_text

    text = render_sheet_json(planned) if as_json else render_sheet_text(planned, **session.page())
    write_files({path: _rendered(form, planned) for form, path in targets})
    for _, path in targets:
        typer.echo(f"wrote {path}", err=True)
    return text


def _rendered(form: str, planned: Sheet) -> bytes:
    if form == "json":
        from nextpair.reports.sheet_json import render_sheet_json

        return render_sheet_json(planned).encode()
    if form == "html":
        from nextpair.reports.sheet_html import render_sheet_html

        return render_sheet_html(planned).encode()
    from nextpair.reports.sheet_pdf import render_sheet_pdf

    return render_sheet_pdf(planned)
