"""Score sheets on the command line."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from nextpair.cli.options import AsJson, takes
from nextpair.cli.session import Session
from nextpair.domain.errors import require
from nextpair.domain.format import Counting

SheetFile = Annotated[
    Path,
    typer.Argument(
        metavar="FILE.csv", help="A row a game, with the marks of its frames; or a row a ball."
    ),
]
ByCurrentFrame = Annotated[
    bool,
    typer.Option("--current-frame", help="Count each frame for itself: 30 for a strike."),
]
OneName = Annotated[
    str | None,
    typer.Option("--name", metavar="NAME", help="Only this bowler's games."),
]
OfEvent = Annotated[
    Path | None,
    typer.Option(
        "--event",
        metavar="EVENT.toml",
        help="The event of a log of shots: tells balls, lines, pocket and luck.",
    ),
]


@takes("threads", "cache_dir", "colour", "debug")
def score(
    ctx: typer.Context,
    file: SheetFile,
    as_json: AsJson = False,
    current_frame: ByCurrentFrame = False,
    name: OneName = None,
    event: OfEvent = None,
) -> str:
    """Check a score sheet, score it, and say what the games tell."""
    from nextpair.reports.score_text import render_score_text
    from nextpair.reports.sheet_json import render_score_json

    session: Session = ctx.obj
    program = session.program()
    if event is not None:
        allowed = (
            "no --name and no --current-frame: the event says whose games, and how they count"
        )
        require(not (name or current_frame), "--event", str(event), allowed)
        sheet = program.score_shots(file, program.load_event(event))
    else:
        counting = Counting.CURRENT_FRAME if current_frame else Counting.TRADITIONAL
        sheet = program.score(file, counting, name)
    return render_score_json(sheet) if as_json else render_score_text(sheet, **session.page())
