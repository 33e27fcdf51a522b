"""The proof on the command line."""

from __future__ import annotations

from typing import Annotated

import typer

from nextpair.cli.options import AsJson, takes
from nextpair.cli.session import Session, watched

Worlds = Annotated[
    int,
    typer.Option(
        "--worlds", metavar="N", help="Simulated worlds; 24 take half an hour of one core."
    ),
]
WORLDS = 24


@takes("seed", "threads", "cache_dir", "colour", "debug")
def proof(ctx: typer.Context, worlds: Worlds = WORLDS, as_json: AsJson = False) -> str:
    """Put the planner to the proof in simulated worlds."""
    from nextpair.reports.proof_text import render_proof_text
    from nextpair.reports.sheet_json import render_proof_json

    session: Session = ctx.obj
    program = session.program()
    with watched() as progress:
        found = program.prove(worlds, session.settings.seed, progress)
    return render_proof_json(found) if as_json else render_proof_text(found, **session.page())
