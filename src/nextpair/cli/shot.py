"""One shot on the command line: path."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from nextpair.cli.options import AsJson, EventFile, takes
from nextpair.cli.output import write_files
from nextpair.cli.session import Session
from nextpair.domain.errors import InvalidValueError, require

MOST_BALLS = 4
"""More paths than these cannot be told apart in one picture."""
GRIT_DIGITS = 6

BallNames = Annotated[
    list[str],
    typer.Option("--ball", metavar="NAME", help="A ball of the locker; up to four of them."),
]
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
Rotation = Annotated[
    float | None,
    typer.Option(
        "--rotation",
        metavar="DEG",
        help="Axis rotation at release, less for a ball thrown flat; left out, the bowler's own.",
    ),
]
SurfaceGrit = Annotated[
    str | None,
    typer.Option("--surface", metavar="GRIT", help="Grit number, or polished; left out, as is."),
]
ByHand = Annotated[
    bool,
    typer.Option("--by-hand", help="Put that surface on with a pad by hand, not on a spinner."),
]
Distances = Annotated[
    str | None,
    typer.Option("--at", metavar="FT,FT", help="Distances to tell board, angle and speed at."),
]
Picture = Annotated[
    Path | None,
    typer.Option("--out", "--svg", metavar="FILE", help="Write a picture of the lane as SVG."),
]


@takes("threads", "cache_dir", "colour", "debug")
def path(
    ctx: typer.Context,
    event: EventFile,
    ball: BallNames,
    laydown: Laydown,
    angle: Angle,
    lane: LaneNumber = None,
    speed: Speed = None,
    rotation: Rotation = None,
    surface: SurfaceGrit = None,
    by_hand: ByHand = False,
    at: Distances = None,
    as_json: AsJson = False,
    out: Picture = None,
) -> str:
    """Roll one line with a ball or more: path, entry, leaves, moves."""
    from nextpair.reports.path_text import render_paths_text
    from nextpair.reports.paths_figure import paths_figure
    from nextpair.reports.sheet_json import render_paths_json

    session: Session = ctx.obj
    _check_balls(ball)
    grit = None if surface is None else _grit(surface)
    require(grit is not None or not by_hand, "--by-hand", "no --surface", "a --surface to put on")
    at_ft = () if at is None else _distances(at)
    program = session.program()
    loaded = program.load_event(event)
    shots = [
        program.roll_one(
            loaded,
            name,
            laydown,
            angle,
            lane=lane,
            speed_mph=speed,
            axis_rotation_deg=rotation,
            surface=grit,
            by_hand=by_hand,
            at_ft=at_ft,
        )
        for name in ball
    ]
    text = render_paths_json(shots) if as_json else render_paths_text(shots, **session.page())
    if out is not None:
        write_files({out: paths_figure(shots).encode()})
    return text


def _check_balls(names: list[str]) -> None:
    folded = [name.strip().casefold() for name in names]
    for name, same in zip(names, folded, strict=True):
        require(folded.count(same) == 1, "--ball", name, "each ball once")
    require(len(names) <= MOST_BALLS, "--ball", len(names), f"up to {MOST_BALLS} balls")


def _distances(text: str) -> tuple[float, ...]:
    try:
        return tuple(float(feet) for feet in text.split(","))
    except ValueError:
        allowed = "feet from the foul line with commas between, such as 15,31.5,45"
        raise InvalidValueError("--at", text, allowed) from None


def _grit(text: str) -> int | str:
    if text == "polished":
        return text
    if not (text.isdecimal() and len(text) <= GRIT_DIGITS):
        raise InvalidValueError("--surface", text, "a grit number, or polished")
    return int(text)
