"""Paths of one or several balls on one lane, as SVG: phases by the line, places by marks.

Skid is dashed, hook is solid, roll is dotted. The bowler's own side of the lane carries the
breakpoints' badges, the other side the feet.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from nextpair.domain.bowler import Hand
from nextpair.domain.shot import PathCard
from nextpair.reports.ball_marks import badge, colour, line_width_px
from nextpair.reports.lane_drawing import CONTACT_FT, TARGET_FT
from nextpair.reports.lane_plan import HEAD_PIN_FT, LanePlan, lane_bed, on_paper, px
from nextpair.reports.palette import HALO, INK
from nextpair.reports.wording import board_words, said_board

PLAN = LanePlan(board_px=6.6, foot_px=9.0, gutter_px=13.0)
BADGE_PITCH_PX = 24.0
PARTS_OF_THE_LANE = (("heads", 0, 20), ("mids", 20, 40), ("back end", 40, 60))

Points = list[tuple[float, float]]
"""Board and feet."""


def paths_drawing(paths: Sequence[PathCard]) -> str:
    """The lane with all paths; its origin is the lane's far left corner."""
    first = paths[0]
    return "".join(
        (
            lane_bed(PLAN, first.film_units),
            _oil_end(first),
            *(_halo(path, ball, len(paths)) for ball, path in enumerate(paths)),
            *(_path(path, ball, len(paths)) for ball, path in enumerate(paths)),
            *(_marks(path, ball) for ball, path in enumerate(paths)),
            _rule_of_31(first),
            _start_and_target(first),
            _breakpoints(paths),
            _board_scale(first.hand),
            _feet_scale(first.hand),
        )
    )


def phase_lines(width_px: float) -> dict[str, str]:
    """Stroke attributes of each phase."""
    return {
        "skid": 'stroke-dasharray="8 4.5"',
        "hook": "",
        "roll": f'stroke-linecap="round" stroke-dasharray="0.1 {px(max(1.7 * width_px, 4.4))}"',
    }


def mark(kind: str, x: float, y: float, stroke: str) -> str:
    """The mark of a place on a path: where it hooks, leaves the oil, rolls, or is gone."""
    shape = {
        "hooks": f"M{px(x - 7)} {px(y)}h14",
        "leaves the oil": f"M{px(x - 3.6)} {px(y)}a3.6 3.6 0 1 0 7.2 0a3.6 3.6 0 1 0 -7.2 0z",
        "rolls": f"M{px(x - 4.6)} {px(y)}l4.6 -4.6l4.6 4.6l-4.6 4.6z",
        "gutter": f"M{px(x - 5)} {px(y - 5)}l10 10m-10 0l10 -10",
    }[kind]
    bar = kind in ("hooks", "gutter")
    under = f'<path d="{shape}" stroke="{HALO}" stroke-width="5" fill="none"/>' if bar else ""
    return (
        f'{under}<path d="{shape}" fill="{"none" if bar else HALO}" stroke="{stroke}" '
        f'stroke-width="{"2.4" if bar else "1.7"}"/>'
    )


def flag(x: float, y: float) -> str:
    """The mark of the rule of 31."""
    return (
        f'<path d="M{px(x - 4.5)} {px(y - 11)}h9l-4.5 9z" fill="{HALO}" stroke="{INK}" '
        'stroke-width="1.3"/>'
    )


def outward(hand: str) -> int:
    """Which way on paper the bowler's own gutter lies: 1 to the right, -1 to the left."""
    return Hand(hand).sign


def _points(path: PathCard) -> Points:
    points = [(board, float(feet)) for feet, board in enumerate(path.path_boards)]
    if len(points) == HEAD_PIN_FT:
        before, last = path.path_boards[-2:]
        points.append((last + CONTACT_FT * (last - before), HEAD_PIN_FT - 1 + CONTACT_FT))
    return points


def _between(points: Points, start_ft: float, end_ft: float) -> Points:
    low, high = max(start_ft, points[0][1]), min(end_ft, points[-1][1])
    if low >= high:
        return []
    inner = [(board, feet) for board, feet in points if low < feet < high]
    return [_at(points, low), *inner, _at(points, high)]


def _at(points: Points, feet: float) -> tuple[float, float]:
    """The place on a path at a distance."""
    for (board, at), (next_board, next_at) in pairwise(points):
        if feet <= next_at:
            return board + (feet - at) / (next_at - at) * (next_board - board), feet
    return points[-1][0], feet


def _drawn(points: Points) -> str:
    return " ".join(f"{px(PLAN.x(board))},{px(PLAN.y(feet))}" for board, feet in points)


def _halo(path: PathCard, ball: int, balls: int) -> str:
    return (
        f'<polyline points="{_drawn(_points(path))}" fill="none" stroke="{HALO}" '
        f'stroke-width="{px(line_width_px(ball, balls) + 2.4)}" stroke-linejoin="round" '
        'stroke-opacity="0.9"/>'
    )


def _path(path: PathCard, ball: int, balls: int) -> str:
    points, width = _points(path), line_width_px(ball, balls)
    ends = [
        0.0,
        HEAD_PIN_FT if path.skid_end_ft is None else path.skid_end_ft,
        HEAD_PIN_FT if path.hook_end_ft is None else path.hook_end_ft,
        HEAD_PIN_FT,
    ]
    lines = "".join(
        f'<polyline points="{_drawn(part)}" {style}/>'
        for (start, end), style in zip(pairwise(ends), phase_lines(width).values(), strict=True)
        if (part := _between(points, start, end))
    )
    return (
        f'<g class="ball" fill="none" stroke="{colour(ball)}" stroke-width="{px(width)}" '
        f'stroke-linejoin="round">{lines}</g>'
    )


def _marks(path: PathCard, ball: int) -> str:
    points = _points(path)
    places = (
        ("hooks", path.skid_end_ft),
        ("leaves the oil", None if path.exit_board is None else path.pattern_length_ft),
        ("rolls", path.hook_end_ft),
        ("gutter", None if path.gutter_ft is None else points[-1][1]),
    )
    return "".join(
        mark(kind, PLAN.x(board), PLAN.y(feet), colour(ball))
        for kind, at in places
        if at is not None and at <= points[-1][1]
        for board, feet in [_at(points, at)]
    )


def _label(text: str, x: float, y: float, *, leftward: bool, size: float = 12.0) -> str:
    return on_paper(
        text,
        x - 9 if leftward else x + 9,
        y,
        text_anchor="end" if leftward else "start",
        font_size=px(size),
        font_weight="700",
        fill=INK,
        stroke=HALO,
        stroke_width="3.4",
        stroke_linejoin="round",
        paint_order="stroke",
    )


def _oil_end(path: PathCard) -> str:
    """The end of the oil, and the board of the rule of 31 flagged on it."""
    y, inside = PLAN.y(path.pattern_length_ft), outward(path.hand) > 0
    far = 6.0 if inside else PLAN.width_px - 6.0
    return (
        f'<path d="M0 {px(y)}H{px(PLAN.width_px)}" stroke="{INK}" stroke-width="1" '
        'stroke-dasharray="2 3.5"/>'
        + _label(
            f"oil ends at {path.pattern_length_ft:g} ft",
            far + (-9 if inside else 9),
            y - 5,
            leftward=not inside,
            size=10.5,
        )
    )


def _rule_of_31(path: PathCard) -> str:
    x, y = PLAN.x(path.rule_of_31_exit_board), PLAN.y(path.pattern_length_ft)
    words = board_words(path.rule_of_31_exit_board, path.hand)
    return flag(x, y) + _label(words, x, y - 3, leftward=outward(path.hand) > 0, size=10.5)


def _start_and_target(path: PathCard) -> str:
    """The lay-down, and the board crossed at the arrows."""
    inside = outward(path.hand) > 0
    x, y = PLAN.x(path.laydown_board), PLAN.y(0.0)
    drawn = (
        f'<circle cx="{px(x)}" cy="{px(y)}" r="4.2" fill="{INK}" stroke="{HALO}" '
        'stroke-width="1.2"/>'
        + _label(
            f"lay down {board_words(path.laydown_board, path.hand)}", x, y - 5, leftward=inside
        )
    )
    if path.target_board is None:
        return drawn
    x, y = PLAN.x(path.target_board), PLAN.y(TARGET_FT)
    words = f"target {board_words(path.target_board, path.hand)}"
    return drawn + _label(words, x - 4 * outward(path.hand), y + 16, leftward=inside)


def _breakpoints(paths: Sequence[PathCard]) -> str:
    """A dot on each path, and beside the lane its badge with board and feet, apart from the
    others."""
    way = outward(paths[0].hand)
    edge = PLAN.width_px + PLAN.gutter_px if way > 0 else -PLAN.gutter_px
    bends = sorted(
        (path.breakpoint_ft, path.breakpoint_board, ball)
        for ball, path in enumerate(paths)
        if path.breakpoint_board is not None and path.breakpoint_ft is not None
    )
    drawn, free_y = "", math.inf
    for feet, board, ball in bends:
        y = PLAN.y(feet)
        free_y = min(y, free_y - BADGE_PITCH_PX)
        x, badge_x = PLAN.x(board), edge + 14 * way
        anchor = "start" if way > 0 else "end"
        drawn += (
            f'<path d="M{px(x)} {px(y)}L{px(badge_x)} {px(free_y)}" stroke="{colour(ball)}" '
            f'stroke-width="1.1"/><circle cx="{px(x)}" cy="{px(y)}" r="3.2" '
            f'fill="{colour(ball)}" stroke="{HALO}" stroke-width="1"/>'
            + badge(ball, badge_x, free_y)
            + on_paper(
                board_words(board, paths[0].hand),
                badge_x + 12 * way,
                free_y + 1,
                text_anchor=anchor,
                font_size="12.5",
                font_weight="700",
                fill=INK,
            )
            + on_paper(
                f"{feet:.0f} ft",
                badge_x + 12 * way,
                free_y + 11.5,
                text_anchor=anchor,
                font_size="10",
                fill=INK,
            )
        )
    return drawn


def _board_scale(hand: str) -> str:
    numbers = "".join(
        on_paper(f"{said_board(board, hand):.0f}", PLAN.x(board), PLAN.y(0) + 14)
        for board in (1, *range(5, 36, 5), 39)
    )
    side = "right" if hand == Hand.RIGHT else "LEFT"
    return (
        f'<path d="M{px(-PLAN.gutter_px)} {px(PLAN.y(0))}h'
        f'{px(PLAN.width_px + 2 * PLAN.gutter_px)}" stroke="{INK}" stroke-width="2"/>'
        f'<g font-size="11" fill="{INK}" text-anchor="middle">{numbers}'
        + on_paper(f"boards from the {side} edge", PLAN.width_px / 2, PLAN.y(0) + 29)
        + "</g>"
    )


def _feet_scale(hand: str) -> str:
    """Feet and the parts of the lane, on the far side from the bowler's own gutter."""
    way = -outward(hand)
    edge = PLAN.width_px + PLAN.gutter_px if way > 0 else -PLAN.gutter_px
    anchor = "start" if way > 0 else "end"
    ticks = "".join(
        f'<path d="M{px(edge)} {px(PLAN.y(feet))}h{4 * way}" stroke="{INK}"/>'
        + on_paper(f"{feet}", edge + 7 * way, PLAN.y(feet) + 4, text_anchor=anchor)
        for feet in range(0, 61, 10)
    )
    x = edge + 32 * way
    parts = "".join(
        on_paper(
            name,
            x,
            PLAN.y((start + end) / 2),
            text_anchor="middle",
            transform=f"rotate(-90 {px(x)} {px(PLAN.y((start + end) / 2))})",
        )
        for name, start, end in PARTS_OF_THE_LANE
    )
    ft = on_paper("ft", edge + 7 * way, PLAN.y(60) - 14, text_anchor=anchor)
    return f'<g font-size="11" fill="{INK}">{ticks}{parts}{ft}</g>'
