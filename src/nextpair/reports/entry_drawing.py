"""How balls meet the pins, from above and true to scale, as SVG."""

from __future__ import annotations

import math
from collections.abc import Sequence

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.bowler import Hand
from nextpair.domain.lane import BOARD_M, PIN_RADIUS_M, PIN_ROWS, pin_position_m
from nextpair.domain.shot import PathCard
from nextpair.reports.ball_marks import badge, colour
from nextpair.reports.lane_plan import on_paper, px
from nextpair.reports.palette import HALO, INK

METRE_PX = 195.0
WIDTH_PX, HEIGHT_PX = 188.0, 158.0
HEAD_PIN_PX = (WIDTH_PX / 2, 67.0)
WAY_M = 0.5
"""How much of each ball's way to its first contact is drawn."""
BOARDS_SHOWN = 20
BADGE_PITCH_PX = 15.0


def entry_drawing(paths: Sequence[PathCard]) -> str:
    """Head pin and the row behind it, and every ball where it first touches the head pin."""
    boards = "".join(
        f"M{px(HEAD_PIN_PX[0] + board * BOARD_M * METRE_PX)} 0v{px(HEIGHT_PX)}"
        for board in range(-BOARDS_SHOWN, BOARDS_SHOWN + 1)
        if abs(board * BOARD_M * METRE_PX) < WIDTH_PX / 2
    )
    pins = "".join(_pin(pin) for row in PIN_ROWS[:2] for pin in row)
    arrived = [(ball, path) for ball, path in enumerate(paths) if path.entry is not None]
    return (
        f'<rect width="{px(WIDTH_PX)}" height="{px(HEIGHT_PX)}" fill="{HALO}" stroke="{INK}" '
        f'stroke-opacity="0.35"/><path d="{boards}" stroke="{INK}" stroke-opacity="0.12"/>'
        f"{pins}{''.join(_ball(path, ball) for ball, path in arrived)}"
        f"{''.join(_badge(path, ball) for ball, path in arrived)}"
    )


def contact_place_px(path: PathCard) -> tuple[float, float]:
    """Where the ball's centre is at first contact, or as it passes the head pin's row."""
    if path.entry is None:
        raise ValueError("a shot that did not reach the pins has no place there")
    own_m = path.entry.offset_board * BOARD_M
    reach_m = BALL_RADIUS_M + PIN_RADIUS_M
    before_m = math.sqrt(max(reach_m**2 - own_m**2, 0.0))
    right_m = Hand(path.hand).sign * own_m
    return HEAD_PIN_PX[0] + right_m * METRE_PX, HEAD_PIN_PX[1] + before_m * METRE_PX


def _pin(pin: int) -> str:
    x_m, beyond_m = pin_position_m(pin)
    x, y = HEAD_PIN_PX[0] + x_m * METRE_PX, HEAD_PIN_PX[1] - beyond_m * METRE_PX
    return (
        f'<circle cx="{px(x)}" cy="{px(y)}" r="{px(PIN_RADIUS_M * METRE_PX)}" fill="#ffffff" '
        f'stroke="{INK}" stroke-width="1.2"/>'
        + on_paper(f"{pin}", x, y + 3.5, text_anchor="middle", font_size="10", fill=INK)
    )


def _ball(path: PathCard, ball: int) -> str:
    x, y = contact_place_px(path)
    back_x, back_y = _way_back(path)
    return (
        f'<path d="M{px(back_x)} {px(back_y)}L{px(x)} {px(y)}" stroke="{colour(ball)}" '
        f'stroke-width="2"/><circle cx="{px(x)}" cy="{px(y)}" '
        f'r="{px(BALL_RADIUS_M * METRE_PX)}" fill="{colour(ball)}" fill-opacity="0.1" '
        f'stroke="{colour(ball)}" stroke-width="2"/>'
        f'<circle cx="{px(x)}" cy="{px(y)}" r="2.6" fill="{colour(ball)}"/>'
    )


def _way_back(path: PathCard) -> tuple[float, float]:
    x, y = contact_place_px(path)
    angle_rad = math.radians(path.entry.entry_angle_deg if path.entry else 0.0)
    side = Hand(path.hand).sign
    long_px = min(WAY_M * METRE_PX, HEIGHT_PX - 12 - y)
    return x + side * long_px * math.tan(angle_rad), y + long_px


def _badge(path: PathCard, ball: int) -> str:
    """On the ball's way, each one a little farther up it than the one before."""
    x, y = contact_place_px(path)
    back_x, back_y = _way_back(path)
    share = min(ball * BADGE_PITCH_PX / max(back_y - y, 1.0), 1.0)
    return badge(ball, back_x + share * (x - back_x), back_y + share * (y - back_y), 6.5)
