"""What goes to the lanes: the pocket of an event as a file."""

from __future__ import annotations

import zlib
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from nextpair.cli.options import AsJson, EventFile, takes
from nextpair.cli.output import each_once, write_files
from nextpair.cli.session import Session, watched

PocketFile = Annotated[
    Path | None,
    typer.Option("--out", metavar="FILE", help="Write the pocket, as NAME.pocket.json."),
]


@takes("seed", "threads", "cache_dir", "colour", "debug")
def pocket(
    ctx: typer.Context,
    event: EventFile,
    as_json: AsJson = False,
    out: PocketFile = None,
) -> str:
    """Put all of an event into one file for the phone."""
    from nextpair.reports.pocket_json import render_pocket_json
    from nextpair.reports.pocket_text import render_pocket_text

    session: Session = ctx.obj
    targets = [path for path in (out,) if path is not None]
    each_once(targets)
    program = session.program()
    loaded = program.load_event(event)
    made_at = datetime.now(UTC).isoformat(timespec="seconds")
    with watched() as progress:
        filled = program.fill_pocket(loaded, session.settings.seed, made_at, progress=progress)
    document = render_pocket_json(filled)
    written = {} if out is None else {out: document.encode()}
    write_files(written)
    for path in written:
        typer.echo(f"wrote {path}", err=True)
    if as_json:
        return document + "\n"
    size = len(document.encode()), len(zlib.compress(document.encode(), 9))
    return render_pocket_text(filled, *size, **session.page())
