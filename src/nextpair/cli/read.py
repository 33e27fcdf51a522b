"""Reading the lane on the command line."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from nextpair.cli.options import AsJson, EventFile, takes
from nextpair.cli.output import write_files
from nextpair.cli.session import Session, watched

ShotsFile = Annotated[
    Path, typer.Argument(metavar="SHOTS.csv", help="The log of the shots thrown so far.")
]
Picture = Annotated[
    Path | None,
    typer.Option("--out", metavar="FILE", help="Write a picture of the belief as SVG."),
]
AsSheet = Annotated[
    bool, typer.Option("--sheet", help="Plan the games to come anew, and print that sheet.")
]


@takes("seed", "threads", "cache_dir", "colour", "debug")
def read(
    ctx: typer.Context,
    event: EventFile,
    shots: ShotsFile,
    as_json: AsJson = False,
    out: Picture = None,
    as_sheet: AsSheet = False,
) -> str:
    """Read the lane from logged shots; say the next move."""
    from nextpair.reports.belief_figure import belief_figure
    from nextpair.reports.read_text import render_read_text
    from nextpair.reports.sheet_json import render_read_json, render_sheet_json
    from nextpair.reports.sheet_text import render_sheet_text

    session: Session = ctx.obj
    program = session.program()
    loaded = program.load_event(event)
    logged = program.load_shots(shots, loaded)
    seed = session.settings.seed
    with watched() as progress:
        found = program.read(loaded, logged, seed, progress)
        sheet = program.plan(loaded, seed, progress, found) if as_sheet else None
    if out is not None:
        write_files({out: belief_figure(found).encode()})
        typer.echo(f"wrote {out}", err=True)
    if sheet is not None:
        if as_json:
            return render_sheet_json(sheet)
        return render_sheet_text(sheet, **session.page())
    return render_read_json(found) if as_json else render_read_text(found, **session.page())
