"""Spares on the command line."""

from __future__ import annotations

from typing import Annotated

import typer

from nextpair.cli.options import AsJson, EventFile, takes
from nextpair.cli.session import Session

Leave = Annotated[
    str | None,
    typer.Argument(
        metavar="[LEAVE]",
        help="Pins that stand, joined by hyphens, as 10 or 1-2-10; left out, the commonest.",
    ),
]


@takes("seed", "threads", "cache_dir", "colour", "debug")
def spares(
    ctx: typer.Context, event: EventFile, leave: Leave = None, as_json: AsJson = False
) -> str:
    """Say how to shoot a leave: ball, line, chance."""
    from nextpair.reports.sheet_json import render_spares_json
    from nextpair.reports.spare_text import render_spares_text

    session: Session = ctx.obj
    program = session.program()
    found = program.shoot_spares(program.load_event(event), leave, session.settings.seed)
    if as_json:
        return render_spares_json(found)
    return render_spares_text(found, single=leave is not None, **session.page())
