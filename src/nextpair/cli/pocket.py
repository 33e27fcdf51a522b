"""What goes to the lanes: the pocket of an event, and the phone's page."""

from __future__ import annotations

import zlib
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from nextpair.cli.options import AsJson, EventFile, takes
from nextpair.cli.output import each_once, write_files
from nextpair.cli.pack import KitName, kept_for_packing
from nextpair.cli.session import Session, watched
from nextpair.domain.errors import require

PocketFile = Annotated[
    Path | None,
    typer.Option("--out", metavar="FILE", help="Write the pocket, as NAME.pocket.json."),
]
PocketPage = Annotated[
    Path | None,
    typer.Option("--html", metavar="FILE", help="Write all of it as one page to read."),
]
SiteFolder = Annotated[
    Path, typer.Option("--out", metavar="DIR", help="Folder for the page's files.")
]


@takes("seed", "threads", "cache_dir", "store", "data_dir", "colour", "debug")
def pocket(
    ctx: typer.Context,
    event: EventFile,
    as_json: AsJson = False,
    out: PocketFile = None,
    html: PocketPage = None,
    kit: KitName = None,
) -> str:
    """Put all of an event into one file for the phone."""
    from nextpair.reports.pocket_html import render_pocket_html
    from nextpair.reports.pocket_json import render_pocket_json
    from nextpair.reports.pocket_text import render_pocket_text

    session: Session = ctx.obj
    targets = [path for path in (out, html) if path is not None]
    each_once(targets)
    program = session.program()
    loaded = program.load_event(event)
    made_at = datetime.now(UTC).isoformat(timespec="seconds")
    packed = kept_for_packing(program, loaded, kit)
    with watched() as progress:
        filled = program.fill_pocket(
            loaded, session.settings.seed, made_at, progress=progress, packed=packed
        )
    document = render_pocket_json(filled)
    written = {} if out is None else {out: document.encode()}
    if html is not None:
        written[html] = render_pocket_html(filled, program.page_script()).encode()
    write_files(written)
    for path in written:
        typer.echo(f"wrote {path}", err=True)
    if as_json:
        return document + "\n"
    size = len(document.encode()), len(zlib.compress(document.encode(), 9))
    return render_pocket_text(filled, *size, **session.page())


@takes("debug")
def site(ctx: typer.Context, out: SiteFolder) -> str:
    """Write the phone's page as a folder for any https host."""
    from nextpair.reports.site_html import render_site_index

    session: Session = ctx.obj
    page = session.program().phone_page()
    require(bool(page), "phone's page", "never built here", "a built one; make pages builds it")
    written = {out / "index.html": render_site_index().encode()}
    written |= {out / "lanes" / name: content for name, content in page.items()}
    write_files(written)
    return (
        f"wrote {len(written)} files into {out}: put them on any host that serves https, and open "
        "it on the phone\n"
    )
