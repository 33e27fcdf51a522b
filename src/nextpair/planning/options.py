"""What may be brought and how it may be finished: every strike ball at every allowed surface."""

from __future__ import annotations

from dataclasses import replace

from nextpair.domain.ball import Ball, Cover, Role, Surface
from nextpair.domain.event import Event, SurfaceChanges

SURFACE_LADDER: tuple[int | None, ...] = (500, 1000, 2000, 3000, 4000, None)
"""Finishes that a bowler puts on by hand or on a spinner, rough to polished. Common practice."""


def ball_options(event: Event) -> tuple[Ball, ...]:
    """Strike balls as they are and, where the rules allow work, with their own surface fresh and
    one step rougher and smoother."""
    options: list[Ball] = []
    for ball in event.locker:
        if ball.role is Role.STRIKE:
            options.append(ball)
            if event.surface_changes is not SurfaceChanges.NONE:
                options.extend(replace(ball, surface=surface) for surface in _fresh(ball))
    return tuple(options)


def spare_balls(event: Event) -> tuple[Ball, ...]:
    """Balls kept for spares, the one that hooks least first."""
    return tuple(
        sorted(
            (ball for ball in event.locker if ball.role is Role.SPARE),
            key=lambda ball: (ball.cover is not Cover.PLASTIC, ball.differential_m, ball.name),
        )
    )


def packed_spares(event: Event) -> tuple[Ball, ...]:
    """The spare ball that comes along: the straightest, unless there is room for one ball only."""
    return spare_balls(event)[: 0 if event.ball_limit == 1 else 1]


def is_resurfaced(event: Event, ball: Ball) -> bool:
    """Whether a ball's surface is another than it has in the locker."""
    return all(ball.surface != own.surface for own in event.locker if own.name == ball.name)


def _fresh(ball: Ball) -> list[Surface]:
    """A ball's own surface made fresh, and fresh ones a step rougher and a step smoother."""
    grit = ball.surface.grit
    rougher = [g for g in SURFACE_LADDER if g is not None and (grit is None or g < grit)]
    smoother = [g for g in SURFACE_LADDER if grit is not None and (g is None or g > grit)]
    own = [grit] if ball.surface.games > 0 else []
    return [Surface(g) for g in own + rougher[-1:] + smoother[:1]]
