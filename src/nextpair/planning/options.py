"""What may be brought and how it may be finished: every strike ball at every allowed surface."""

from __future__ import annotations

from dataclasses import replace

from nextpair.domain.ball import Ball, Cover, Role, Surface, Tool
from nextpair.domain.event import Event, SurfaceChanges

SURFACE_LADDER: tuple[int | None, ...] = (500, 1000, 2000, 3000, 4000, None)
"""Finishes that a bowler puts on by hand or on a spinner, rough to polished. Common practice."""


def ball_options(event: Event) -> tuple[Ball, ...]:
    """Strike balls as they are and, where the rules allow work, with their own surface fresh and
    one step rougher and smoother; where they allow it at any time, with a pad by hand too.

    A spinner stands in the shop: what is put on with it is put on before the event. Between games
    there is a pad.
    """
    options: list[Ball] = []
    for ball in event.locker:
        if ball.role is Role.STRIKE:
            options.append(ball)
            if event.surface_changes is not SurfaceChanges.NONE:
                options.extend(replace(ball, surface=surface) for surface in _fresh(ball))
            if event.surface_changes is SurfaceChanges.ANY:
                options.extend(replace(ball, surface=surface) for surface in _by_hand(ball))
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
    """The spare balls that come along: as many as the event asks for, the straightest first, as
    long as one place is left for a strike ball."""
    places = event.spare_balls
    if event.ball_limit is not None:
        places = min(places, event.ball_limit - 1)
    return spare_balls(event)[:places]


def is_resurfaced(event: Event, ball: Ball) -> bool:
    """Whether a ball's surface is another than it has in the locker."""
    return all(ball.surface != own.surface for own in event.locker if own.name == ball.name)


def in_game(event: Event, ball: Ball, game: int) -> Ball:
    """A ball as it is when a game begins, had it been thrown in every game before.

    What the plan puts on by hand is put on again before each game, on the surface worn by then.
    """
    surface = ball.surface
    if surface.by is Tool.HAND and surface.under is not None and is_resurfaced(event, ball):
        return replace(ball, surface=replace(surface, under=_played(surface.under, game - 1)))
    return replace(ball, surface=_played(surface, game - 1))


def _played(surface: Surface, games: int) -> Surface:
    return replace(surface, games=surface.games + games)


def _fresh(ball: Ball) -> list[Surface]:
    """A ball's own surface made fresh, and fresh ones a step rougher and a step smoother."""
    grit = ball.surface.grit
    smoother = [g for g in SURFACE_LADDER if grit is not None and (g is None or g > grit)]
    own = [grit] if ball.surface.games > 0 or ball.surface.under is not None else []
    return [Surface(g) for g in own + _rougher(grit) + smoother[:1]]


def _by_hand(ball: Ball) -> list[Surface]:
    """A ball's own grit put on again by hand, and a step rougher. Polish is not put on by hand."""
    grit = ball.surface.grit
    own = [] if grit is None else [grit]
    return [Surface(g, by=Tool.HAND, under=ball.surface) for g in own + _rougher(grit)]


def _rougher(grit: int | None) -> list[int]:
    """The next rougher finish, if there is one."""
    return [g for g in SURFACE_LADDER if g is not None and (grit is None or g < grit)][-1:]
