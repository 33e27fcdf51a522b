"""The shots and scores of an event's file: those that are named, or else those beside it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from nextpair.application.bundle import EventFolder
    from nextpair.bootstrap import Program
    from nextpair.domain.event import Event

SHOTS, SCORES = "shots.csv", "scores.csv"
ShotsFile = Annotated[
    Path | None,
    typer.Option("--shots", metavar="FILE", help=f"The log; left out, {SHOTS} beside the event."),
]
ScoresFile = Annotated[
    Path | None,
    typer.Option(
        "--scores", metavar="FILE", help=f"The field; left out, {SCORES} beside the event, if any."
    ),
]


def folder_with(
    program: Program, path: Path, event: Event, shots: Path | None, scores: Path | None
) -> EventFolder:
    """The event's folder, with the shots and scores that were named in place of those in it.
    Raises InputRefusedError."""
    folder = program.load_folder(path)
    if shots is not None:
        folder = replace(folder, shots=program.load_shots(shots, event))
    if scores is not None:
        folder = replace(folder, scores=program.load_scores(scores))
    return folder
