"""Patterns on the command line: film and patterns."""

from __future__ import annotations

import typer

from nextpair.cli.options import AsJson, PatternName, SvgFile, takes
from nextpair.cli.output import write_files
from nextpair.cli.session import Session


@takes("colour", "debug")
def film(
    ctx: typer.Context, pattern: PatternName, as_json: AsJson = False, svg: SvgFile = None
) -> str:
    """Measure a pattern: film, volume, ratio, class, exit."""
    from nextpair.reports.figures import film_figure
    from nextpair.reports.film_text import render_film_text
    from nextpair.reports.sheet_json import render_film_json

    session: Session = ctx.obj
    program = session.program()
    measured = program.measure_film(program.load_pattern(pattern))
    text = render_film_json(measured) if as_json else render_film_text(measured, **session.page())
    if svg is not None:
        write_files({svg: film_figure(measured).encode()})
    return text


@takes("colour", "debug")
def patterns(ctx: typer.Context, as_json: AsJson = False) -> str:
    """List the patterns that come with the program."""
    from nextpair.reports.film_text import render_patterns_text
    from nextpair.reports.sheet_json import render_patterns_json

    session: Session = ctx.obj
    program = session.program()
    films = [program.measure_film(pattern) for pattern in program.load_library()]
    return (
        render_patterns_json(films) if as_json else render_patterns_text(films, **session.page())
    )
