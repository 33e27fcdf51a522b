"""The money of events on the command line."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path
from typing import Annotated

import typer

from nextpair.cli.options import AsJson, takes
from nextpair.cli.session import Session

EventFiles = Annotated[
    list[Path] | None,
    typer.Argument(
        metavar="[EVENT.toml]...", help="The events' files; left out, all that are kept."
    ),
]


@takes("store", "data_dir", "colour", "debug")
def ledger(ctx: typer.Context, events: EventFiles = None, as_json: AsJson = False) -> str:
    """Add up what events cost and bring, and what would pay them."""
    from nextpair.application.accounts import home_account
    from nextpair.application.ledger import kept_ledger
    from nextpair.reports.ledger_text import render_ledger_text
    from nextpair.reports.money_json import render_ledger_json

    session: Session = ctx.obj
    program = session.program()
    if events:
        season = program.season([program.load_event(path) for path in events])
    else:
        papers = program.papers()
        with closing(program.store()) as store:
            season = kept_ledger(store, papers, home_account(store).id)
    if as_json:
        return render_ledger_json(season)
    return render_ledger_text(season, **session.page())
