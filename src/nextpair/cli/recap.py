"""One event to be shown to anybody, on the command line."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from nextpair.cli.event_logs import ScoresFile, ShotsFile, folder_with
from nextpair.cli.options import AsJson, EventFile, takes
from nextpair.cli.output import each_once, write_files
from nextpair.cli.session import Session

if TYPE_CHECKING:
    from nextpair.domain.recap import Recap

MarkdownFile = Annotated[
    Path | None, typer.Option("--md", metavar="FILE", help="Write the recap as Markdown.")
]
PageFile = Annotated[
    Path | None, typer.Option("--html", metavar="FILE", help="Write the recap as one page.")
]
PictureFile = Annotated[
    Path | None, typer.Option("--png", metavar="FILE", help="Write the recap as a picture.")
]
WithMoney = Annotated[bool, typer.Option("--money", help="Tell what it cost and brought.")]


@takes("store", "data_dir", "debug")
def recap(
    ctx: typer.Context,
    event: EventFile,
    shots: ShotsFile = None,
    scores: ScoresFile = None,
    md: MarkdownFile = None,
    html: PageFile = None,
    png: PictureFile = None,
    money: WithMoney = False,
    as_json: AsJson = False,
) -> str:
    """Tell an event to anybody, with nothing private in it."""
    from nextpair.reports.recap_json import render_recap_json
    from nextpair.reports.recap_markdown import render_recap_markdown

    session: Session = ctx.obj
    named = {"md": md, "html": html, "png": png}
    targets = {form: path for form, path in named.items() if path is not None}
    each_once(list(targets.values()))
    program = session.program()
    loaded = program.load_event(event)
    folder = folder_with(program, event, loaded, shots, scores)
    lessons = program.kept_lessons(with_done=True)
    told = program.recap(loaded, folder.scores, folder.shots, lessons, money)
    write_files({path: _rendered(form, told) for form, path in targets.items()})
    for path in targets.values():
        typer.echo(f"wrote {path}", err=True)
    if as_json:
        return render_recap_json(told)
    return "" if targets else render_recap_markdown(told)


def _rendered(form: str, told: Recap) -> bytes:
    if form == "md":
        from nextpair.reports.recap_markdown import render_recap_markdown

        return render_recap_markdown(told).encode()
    if form == "html":
        from nextpair.reports.recap_html import render_recap_html

        return render_recap_html(told).encode()
    from nextpair.reports.recap_picture import render_recap_png

    return render_recap_png(told)
