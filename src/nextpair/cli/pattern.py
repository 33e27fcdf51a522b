"""Patterns on the command line: their films, relatives, and what was scored on them."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from nextpair.cli.options import AsJson, PatternName, SvgFile, takes
from nextpair.cli.output import write_files
from nextpair.cli.session import Session
from nextpair.domain.errors import InputRefusedError, InvalidValueError

if TYPE_CHECKING:
    from nextpair.bootstrap import Program
    from nextpair.domain.condition_chart import ConditionChart
    from nextpair.domain.pattern import Pattern
    from nextpair.domain.pattern_book import PatternPage

KnownPattern = Annotated[
    Path,
    typer.Argument(
        metavar="PATTERN", help="The pattern's file, or the name of one kept or of the library."
    ),
]


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


@takes("store", "data_dir", "colour", "debug")
def similar(ctx: typer.Context, pattern: KnownPattern, as_json: AsJson = False) -> str:
    """Find the patterns nearest to one, and what worked there."""
    from nextpair.reports.pattern_book_json import render_similar_json
    from nextpair.reports.similar_text import render_similar_text

    session: Session = ctx.obj
    page = _page(session.program(), pattern)
    return render_similar_json(page) if as_json else render_similar_text(page, **session.page())


@takes("store", "data_dir", "colour", "debug")
def conditions(ctx: typer.Context, as_json: AsJson = False) -> str:
    """Tell where you scored: by lanes, length and volume."""
    from nextpair.reports.conditions_text import render_conditions_text
    from nextpair.reports.pattern_book_json import render_conditions_json

    session: Session = ctx.obj
    chart = _chart(session.program())
    return (
        render_conditions_json(chart)
        if as_json
        else render_conditions_text(chart, **session.page())
    )


def _page(program: Program, pattern: Path) -> PatternPage:
    """The page of a file, or of a name of what is kept or of the library."""
    from nextpair.application.accounts import home_account
    from nextpair.application.pattern_book import kept_book, kept_key, library_book

    store = program.kept_store()
    if store is None:
        return library_book(program.papers()).page_of(_named(program, pattern))
    with closing(store):
        account = home_account(store).id
        book = kept_book(store, program.papers(), account)
        key = None if pattern.is_file() else kept_key(store, account, str(pattern))
    return book.page(key) if key else book.page_of(_named(program, pattern))


def _named(program: Program, pattern: Path) -> Pattern:
    """The pattern of a file or of the library."""
    from nextpair.files.pattern_library import ALLOWED

    try:
        return program.load_pattern(pattern)
    except InputRefusedError as refused:
        [*_, problem] = refused.problems
        if not problem.allowed.endswith(ALLOWED):
            raise
        allowed = f"{problem.allowed}, one that is kept, or a file"
        raise InvalidValueError("pattern", str(pattern), allowed) from refused


def _chart(program: Program) -> ConditionChart:
    """Where whoever uses the program at home scored."""
    from nextpair.application.accounts import home_account
    from nextpair.application.condition_chart import chart_of
    from nextpair.application.outings import NO_OUTINGS, kept_outings

    store = program.kept_store()
    if store is None:
        return chart_of(NO_OUTINGS)
    with closing(store):
        return chart_of(kept_outings(store, program.papers(), home_account(store).id))
