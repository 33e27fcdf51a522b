"""One shot on the command line: path."""

from __future__ import annotations

from typing import Annotated

import typer

from nextpair.cli.options import AsJson, EventFile, SvgFile, takes
from nextpair.cli.output import write_files
from nextpair.cli.session import Session
from nextpair.domain.errors import InvalidValueError

BallName = Annotated[str, typer.Option("--ball", metavar="NAME", help="A ball of the locker.")]
Laydown = Annotated[
    float,
    typer.Option(
        "--laydown",
        metavar="BOARD",
        help="Board the ball is laid down on, counted from the right edge for both hands.",
    ),
]
Angle = Annotated[
    float,
    typer.Option(
        "--angle",
        metavar="DEG",
        help="Launch angle in degrees, positive toward the gutter on the bowler's side.",
    ),
]
LaneNumber = Annotated[
    int | None,
    typer.Option("--lane", metavar="N", help="Lane of the house; left out, the bowler's first."),
]
Speed = Annotated[
    float | None,
    typer.Option("--speed", metavar="MPH", help="Speed in mph; left out, the bowler's own."),
]
SurfaceGrit = Annotated[
    str | None,
    typer.Option("--surface", metavar="GRIT", help="Grit number, or polished; left out, as is."),
]


@takes("threads", "cache_dir", "colour", "debug")
def path(
    ctx: typer.Context,
    event: EventFile,
    ball: BallName,
    laydown: Laydown,
    angle: Angle,
    lane: LaneNumber = None,
    speed: Speed = None,
    surface: SurfaceGrit = None,
    as_json: AsJson = False,
    svg: SvgFile = None,
) -> str:
    """Roll one shot: path, entry, strike probability, leaves."""
    from nextpair.reports.figures import path_figure
    from nextpair.reports.path_text import render_path_text
    from nextpair.reports.sheet_json import render_path_json

    session: Session = ctx.obj
    grit = None if surface is None else _grit(surface)
    program = session.program()
    shot = program.roll_one(
        program.load_event(event), ball, laydown, angle, lane=lane, speed_mph=speed, surface=grit
    )
    text = render_path_json(shot) if as_json else render_path_text(shot, **session.page())
    if svg is not None:
        write_files({svg: path_figure(shot).encode()})
    return text


def _grit(text: str) -> int | str:
    if text == "polished":
        return text
    if not text.isdecimal():
        raise InvalidValueError("--surface", text, "a grit number, or polished")
    return int(text)
