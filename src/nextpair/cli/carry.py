"""Carry on the command line."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from nextpair.cli.options import AsJson, takes
from nextpair.cli.output import write_files
from nextpair.cli.session import Session
from nextpair.domain.bowler import Hand
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.house import Pinfall

Weight = Annotated[float, typer.Option("--weight", metavar="LB", help="Weight of the ball in lb.")]
Speed = Annotated[float, typer.Option("--speed", metavar="MPH", help="Speed at the pins in mph.")]
Angle = Annotated[
    float | None,
    typer.Option("--angle", metavar="DEG", help="Entry angle of one impact; needs --offset."),
]
Offset = Annotated[
    float | None,
    typer.Option(
        "--offset",
        metavar="BOARDS",
        help="Offset of one impact, positive to your pocket's side; needs --angle.",
    ),
]
HandSeen = Annotated[
    Hand, typer.Option("--hand", metavar="HAND", help="Hand that bowls, right or left.")
]
PinsSet = Annotated[
    Pinfall, typer.Option("--pinfall", metavar="HOW", help="How pins are set, free or string.")
]
Picture = Annotated[
    Path | None,
    typer.Option("--svg", metavar="FILE", help="Write a picture of strikes and leaves."),
]


@takes("threads", "cache_dir", "colour", "debug")
def carry(
    ctx: typer.Context,
    weight: Weight = 15.0,
    speed: Speed = 17.0,
    angle: Angle = None,
    offset: Offset = None,
    hand: HandSeen = Hand.RIGHT,
    pinfall: PinsSet = Pinfall.FREE,
    as_json: AsJson = False,
    svg: Picture = None,
) -> str:
    """Look up carry: strikes by impact, what impacts leave."""
    from nextpair.reports.carry_figure import carry_figure
    from nextpair.reports.carry_text import render_carry_text
    from nextpair.reports.sheet_json import render_carry_json

    session: Session = ctx.obj
    impact = _impact(offset, angle)
    told = session.program().map_carry(weight, speed, hand, impact, pinfall)
    text = render_carry_json(told) if as_json else render_carry_text(told, **session.page())
    if svg is not None:
        write_files({svg: carry_figure(told).encode()})
    return text


def _impact(offset: float | None, angle: float | None) -> tuple[float, float] | None:
    """Offset and angle: both or neither."""
    if offset is None and angle is None:
        return None
    if offset is None:
        raise InvalidValueError("--angle", angle, "together with --offset, for one impact")
    if angle is None:
        raise InvalidValueError("--offset", offset, "together with --angle, for one impact")
    return offset, angle
