"""A season on the command line."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path
from typing import Annotated

import typer

from nextpair.cli.ledger import EventFiles
from nextpair.cli.options import AsJson, takes
from nextpair.cli.output import write_files
from nextpair.cli.session import Session

CalendarFile = Annotated[
    Path | None,
    typer.Option("--calendar", metavar="FILE", help="Write what is due as an iCalendar file."),
]


@takes("store", "data_dir", "colour", "debug")
def season(
    ctx: typer.Context,
    events: EventFiles = None,
    calendar: CalendarFile = None,
    as_json: AsJson = False,
) -> str:
    """Tell a season: trends, balls, what is due, and goals."""
    from nextpair.application.accounts import home_account
    from nextpair.application.clock import now_utc
    from nextpair.application.season import kept_season, season_of_folders
    from nextpair.reports.season_calendar import render_season_calendar
    from nextpair.reports.season_json import render_season_json
    from nextpair.reports.season_text import render_season_text

    session: Session = ctx.obj
    program = session.program()
    papers, now = program.papers(), now_utc()
    today = now.astimezone().date()
    if events:
        folders = [program.load_folder(path) for path in events]
        told = season_of_folders(papers, folders, today)
    else:
        with closing(program.store()) as store:
            told = kept_season(store, papers, home_account(store).id, today)
    if calendar is not None:
        write_files({calendar: render_season_calendar(told.deadlines, now).encode()})
        typer.echo(f"wrote {calendar}", err=True)
    if as_json:
        return render_season_json(told)
    return render_season_text(told, **session.page())
