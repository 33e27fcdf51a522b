"""Arguments and options that several commands take, each written down once."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import Annotated, Any

import typer

from nextpair.application.settings import settings_table
from nextpair.cli.session import Session

EventFile = Annotated[Path, typer.Argument(metavar="EVENT.toml", help="The event's file.")]
PatternName = Annotated[
    Path,
    typer.Argument(metavar="PATTERN", help="The pattern's file, or a name of the library."),
]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON document and nothing else.")]
HtmlFile = Annotated[
    Path | None, typer.Option("--html", metavar="FILE", help="Write the sheet as one page.")
]
PdfFile = Annotated[
    Path | None, typer.Option("--pdf", metavar="FILE", help="Write the sheet as a PDF to print.")
]
SvgFile = Annotated[
    Path | None, typer.Option("--svg", metavar="FILE", help="Write a picture of the lane.")
]
OutFolder = Annotated[
    Path | None,
    typer.Option("--out", metavar="DIR", help="Write sheet.json, sheet.html and sheet.pdf there."),
]
Command = Callable[..., str]


def takes(*names: str) -> Callable[[Command], Command]:
    """Give a command the options of these settings; what was set goes to its session.

    Before the command's own name such options would be slow: the library loads its whole
    validation for each of them, even to show the help of a command.
    """

    def with_options(command: Command) -> Command:
        @wraps(command)
        def told(ctx: typer.Context, **values: Any) -> str:
            session: Session = ctx.obj
            session.flags |= {name: values.pop(name) or None for name in names}
            return command(ctx, **values)

        own = inspect.signature(command, eval_str=True)
        parameters = [*own.parameters.values(), *(_option(name) for name in names)]
        told.__signature__ = own.replace(parameters=parameters)  # type: ignore[attr-defined]
        return told

    return with_options


def _option(name: str) -> inspect.Parameter:
    setting = settings_table()[name]
    if setting.form:
        told = f"{setting.help} Default {setting.default}." if setting.default else setting.help
        option = typer.Option(setting.flag, metavar=setting.form, help=told)
        kind: Any = Annotated[str | None, option]
        default: Any = None
    else:
        kind, default = Annotated[bool, typer.Option(setting.flag, help=setting.help)], False
    return inspect.Parameter(
        name, inspect.Parameter.KEYWORD_ONLY, default=default, annotation=kind
    )
