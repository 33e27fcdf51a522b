"""Arguments and options that several commands take, each written down once."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from nextpair.application.settings import settings_table

_SEED = settings_table()["seed"]

EventFile = Annotated[Path, typer.Argument(metavar="EVENT.toml", help="The event's file.")]
PatternFile = Annotated[Path, typer.Argument(metavar="PATTERN.toml", help="The pattern's file.")]
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
Seed = Annotated[
    str | None,
    typer.Option(_SEED.flag, metavar="N", help=f"{_SEED.help} Default {_SEED.default}."),
]
