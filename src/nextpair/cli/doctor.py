"""Whether all is well here, on the command line."""

from __future__ import annotations

import typer

from nextpair.cli.options import AsJson, takes
from nextpair.cli.session import Session


@takes("data_dir", "store", "cache_dir", "debug")
def doctor(ctx: typer.Context, as_json: AsJson = False) -> str:
    """Check the program, its numbers and what is kept."""
    from nextpair.bootstrap.examination import examine

    session: Session = ctx.obj
    checks = examine(session.settings)
    from nextpair.application.doctor import exit_code
    from nextpair.reports.doctor_text import render_doctor_json, render_doctor_text

    typer.echo((render_doctor_json if as_json else render_doctor_text)(checks), nl=False)
    raise typer.Exit(exit_code(checks))
