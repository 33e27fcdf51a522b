"""What scored on some outings: balls and lines by what their strikes surely show."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from nextpair.application.intervals import share_of
from nextpair.domain.outing import BallThrown, LinePlayed, Outing
from nextpair.domain.statistics import Share

LEAST_RACKS = 8
"""Thrown at fewer racks a ball or a line says too little to be told."""


def sure_share(strikes: Share) -> float:
    """Low end of what a share of strikes likely is: few racks count for little."""
    return 0.0 if strikes.share_interval_80 is None else strikes.share_interval_80[0]


def best_line(outings: Sequence[Outing]) -> tuple[Outing, LinePlayed] | None:
    """The line that struck most surely, with its outing; None where none was played enough."""
    told = [
        (outing, line)
        for outing in outings
        for line in outing.lines
        if line.strikes.tried >= LEAST_RACKS
    ]
    return max(told, key=lambda one: sure_share(one[1].strikes), default=None)


def best_lines(outings: Iterable[Outing]) -> tuple[LinePlayed, ...]:
    """Lines that were played enough, those that struck most surely first."""
    lines = (line for outing in outings for line in outing.lines)
    told = (line for line in lines if line.strikes.tried >= LEAST_RACKS)
    return tuple(sorted(told, key=lambda one: (-sure_share(one.strikes), one.ball)))


def best_balls(outings: Iterable[Outing]) -> tuple[BallThrown, ...]:
    """Balls over all outings that were thrown enough, those that struck most surely first."""
    made: dict[str, list[Share]] = {}
    for outing in outings:
        for thrown in outing.balls:
            made.setdefault(thrown.ball, []).append(thrown.strikes)
    balls = (
        BallThrown(ball, share_of(sum(s.made for s in some), sum(s.tried for s in some)))
        for ball, some in made.items()
    )
    told = (one for one in balls if one.strikes.tried >= LEAST_RACKS)
    return tuple(sorted(told, key=lambda one: (-sure_share(one.strikes), one.ball)))
