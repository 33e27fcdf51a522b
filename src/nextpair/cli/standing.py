"""The field and the cut on the command line."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from nextpair.cli.options import AsJson, EventFile, takes
from nextpair.cli.session import Session

ScoresFile = Annotated[
    Path, typer.Argument(metavar="SCORES.csv", help="Everybody's scores so far.")
]


@takes("seed", "colour", "debug")
def standing(
    ctx: typer.Context, event: EventFile, scores: ScoresFile, as_json: AsJson = False
) -> str:
    """Say where you stand, what the cut asks, what is worth playing."""
    from nextpair.reports.stakes_text import render_stakes_text
    from nextpair.reports.standing_json import render_standing_json
    from nextpair.reports.standing_text import render_standing_text

    session: Session = ctx.obj
    program = session.program()
    loaded = program.load_event(event)
    known, seed = program.load_scores(scores), session.settings.seed
    found = program.standing(loaded, known, seed)
    stakes = program.stakes(loaded, known, seed)
    money = program.money(loaded, found.prospects, stakes)
    if as_json:
        return render_standing_json(found, stakes, money)
    page = session.page()
    return render_standing_text(found, **page) + render_stakes_text(stakes, money, **page)
