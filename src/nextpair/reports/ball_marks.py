"""How several balls are told apart in one picture: a letter in a badge of its own shape, a width
of line, and last a colour."""

from __future__ import annotations

import math
from string import ascii_uppercase

from nextpair.reports.lane_plan import px
from nextpair.reports.palette import HALO, PATH_COLOURS

WIDTHS_PX = ((2.6,), (4.2, 1.8), (5.4, 3.2, 1.4), (6.4, 4.4, 2.6, 1.2))
"""Widths by the number of balls, first ball first and widest: where paths lie on one another the
later ones run inside the earlier ones."""


def colour(ball: int) -> str:
    """Colour of a ball's path."""
    return PATH_COLOURS[ball % len(PATH_COLOURS)]


def line_width_px(ball: int, balls: int) -> float:
    """Width of a ball's path among so many."""
    return WIDTHS_PX[balls - 1][ball]


def badge(ball: int, x: float, y: float, radius: float = 8.0) -> str:
    """Circle, square, hexagon or diamond with the ball's letter in it."""
    return (
        f'<path d="{_outline(ball, x, y, radius)}" fill="{colour(ball)}" stroke="{HALO}" '
        f'stroke-width="1.2"/><text x="{px(x)}" y="{px(y + 0.45 * radius)}" '
        f'text-anchor="middle" font-weight="700" font-size="{px(1.3 * radius)}" fill="{HALO}">'
        f"{ascii_uppercase[ball]}</text>"
    )


def _outline(ball: int, x: float, y: float, radius: float) -> str:
    if ball == 0:
        arc = f"a{px(radius)} {px(radius)} 0 1 0 "
        return f"M{px(x - radius)} {px(y)}{arc}{px(2 * radius)} 0{arc}{px(-2 * radius)} 0z"
    corners, first_deg, reach = ((4, 45.0, 1.3), (6, 30.0, 1.15), (4, 0.0, 1.35))[ball - 1]
    points = (
        (
            x + reach * radius * math.cos(math.radians(first_deg + 360 * corner / corners)),
            y + reach * radius * math.sin(math.radians(first_deg + 360 * corner / corners)),
        )
        for corner in range(corners)
    )
    return "M" + "L".join(f"{px(a)} {px(b)}" for a, b in points) + "z"
